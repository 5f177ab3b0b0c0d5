"""A headless browser for the tests."""

from contextlib import contextmanager
from pathlib import Path

from tests.outside import library, program

ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync"]


@contextmanager
def browser():
    """A running browser."""
    with library("playwright.sync_api").sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=program("chromium"), args=ARGUMENTS)
        yield running
        running.close()


def opened(running, path: Path, **options):
    """A page with what went wrong on it: errors, and addresses asked for that are not on disk."""
    page = running.new_page(**options)
    page.set_default_timeout(8000)
    trouble = []
    page.on("console", lambda message: trouble.append(message.text) if message.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: trouble.append(str(error)))
    page.on("request", lambda request: trouble.append(request.url) if not request.url.startswith(("file:", "data:", "blob:"))
            else None)
    page.goto(path.as_uri())
    return page, trouble


def board_of(running, path: Path, **options):
    """The same, when its board stands ready to be worked."""
    page, trouble = opened(running, path, **options)
    page.wait_for_function("() => document.getElementById('schematic').dataset.showing === 'live'")
    return page, trouble


def pill(found, name):
    """The value written on the schematic for a part's first port."""
    space = found.evaluate(f"data.parts['{name}'].ports[0][2]")
    return found.text_content(f'.pill[data-space="{space}"] text')


def play(found, seconds, frames=1):
    """Goes on for some time, in frames."""
    for _ in range(frames):
        found.evaluate("(seconds) => goOn(seconds)", seconds / frames)


def hand(found, part, number=0):
    """A hand of a part, as a word of the page's scripts."""
    return found.evaluate_handle(f"board.given.hands.filter((hand) => hand.part === '{part}')[{number}]")
