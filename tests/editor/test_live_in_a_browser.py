"""The live page in a real browser while a file is edited. `python -m tests.editor.test_live_in_a_browser X.png`: its picture."""

import sys
from pathlib import Path

import pytest

from circuit.editor.live_page import Live
from tests.designs import example_text
from tests.editor.test_writing_beside import BACKWARDS
from tests.page.browser import browser


def played(path: Path, picture: str = "") -> list[str]:
    """A saved fault, then a slip typed into the page; returns what was asked of the network and what went wrong."""
    path.write_text(example_text("truck-6x4"), encoding="utf-8")
    live, asked = Live(str(path)), []
    live.start()
    try:
        with browser() as running:
            page = running.new_page(viewport={"width": 1440, "height": 900})
            page.set_default_timeout(90_000)
            page.on("request", lambda request: asked.append(request.url.replace(live.address, "own:")))
            page.on("pageerror", lambda error: asked.append(f"error {error}"))
            page.goto(live.address)
            page.wait_for_selector("#state:has-text('the board is of this text')")
            path.write_text(BACKWARDS, encoding="utf-8")
            page.wait_for_selector("#problems:has-text('part-backwards')")
            page.wait_for_selector("#state:has-text('the board is of this text')")
            page.frame_locator("#board").locator("#schematic").wait_for()
            assert "fitted backwards" in page.frame_locator("#board").locator("body").inner_text()
            if picture:
                page.wait_for_timeout(2000)
                page.screenshot(path=picture)
            page.fill("#text", BACKWARDS.replace("relay-valve rear-relay", "rely-valve rear-relay"))
            page.wait_for_selector("#problems:has-text('did you mean relay-valve?')")
            assert "typed here, not saved" in page.inner_text("#state")
            page.click("#problems button")
            assert page.evaluate("() => document.activeElement.id") == "text"
    finally:
        live.stop()
    assert path.read_text(encoding="utf-8") == BACKWARDS, "what is typed there is not saved"
    return asked


@pytest.mark.slow
def test_the_page_follows_the_file_and_asks_nobody_else(tmp_path: Path):
    asked = played(tmp_path / "design.air")
    assert asked and not [each for each in asked if not each.startswith(("own:", "blob:", "data:"))]


if __name__ == "__main__":
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        played(Path(folder) / "design.air", sys.argv[1])
