"""A headless browser for the tests; they are skipped where there is none, unless AIRWRIGHT_STRICT is set."""

import os
from contextlib import contextmanager
from pathlib import Path

import pytest

CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync"]


def wanting(why: str) -> None:
    """Skip, or fail where nothing may be skipped."""
    if os.environ.get("AIRWRIGHT_STRICT") == "1":
        pytest.fail(why)
    pytest.skip(why)


@contextmanager
def browser():
    """A running browser."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        wanting("playwright is not installed")
    if not Path(CHROMIUM).exists():
        wanting(f"there is no {CHROMIUM}")
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
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
