"""Pages in a browser, written and opened once for all tests of a process."""

import pytest

from tests.page.browser import browser, opened
from tests.page.test_page import PLAYED, text


@pytest.fixture(scope="session")
def running():
    with browser() as found:
        yield found


@pytest.fixture(scope="session")
def files(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    for name in ("truck-6x4", PLAYED):
        (folder / f"{name}.html").write_text(text(name, name == PLAYED), encoding="utf-8")
    return folder


@pytest.fixture
def truck(running, files):
    found, trouble = opened(running, files / "truck-6x4.html", viewport={"width": 1400, "height": 900})
    found.evaluate("board.ready")
    found.evaluate("enter('circuits')")
    yield found
    assert trouble == []
    found.close()


@pytest.fixture
def board(running, files):
    found, trouble = opened(running, files / "teaching-board.html", viewport={"width": 1400, "height": 900})
    found.evaluate("board.ready")
    found.evaluate("enter('circuits')")
    yield found
    assert trouble == []
    found.close()
