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
    page.on("request", lambda request: trouble.append(request.url) if not request.url.startswith(("file:", "data:"))
            else None)
    page.goto(path.as_uri())
    return page, trouble
