"""Pages in a browser, written and opened once for all tests of a process."""

import pytest

from tests.page.browser import board_of, browser
from tests.page.test_page import PLAYED, text


@pytest.fixture(scope="session")
def running():
    with browser() as found:
        yield found


@pytest.fixture(scope="session")
def files(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    for name in ("truck-6x4", PLAYED):
        (folder / f"{name}.html").write_text(text(name, True), encoding="utf-8")
    return folder


@pytest.fixture
def truck(running, files):
    found, trouble = board_of(running, files / "truck-6x4.html", viewport={"width": 1400, "height": 900})
    yield found
    assert trouble == [] and found.evaluate("board.trouble") == ""
    found.close()


@pytest.fixture
def board(running, files):
    found, trouble = board_of(running, files / "teaching-board.html", viewport={"width": 1400, "height": 900})
    yield found
    assert trouble == [] and found.evaluate("board.trouble") == ""
    found.close()
