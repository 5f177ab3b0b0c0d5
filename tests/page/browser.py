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


def pill(found, name):
    """The value written on the schematic for a part's first port."""
    space = found.evaluate(f"data.parts['{name}'].ports[0][2]")
    return found.text_content(f'.pill[data-space="{space}"] text')


def show(found, mode, key=""):
    """Choose what the schematic shows, and wait until it does."""
    found.check(f"input[name=mode][value={mode}]", force=True)
    if key:
        found.select_option("#choice", key)
    wanted = key or ("" if mode == "circuits" else found.input_value("#choice"))
    found.wait_for_function("(key) => document.getElementById('schematic').dataset.showing === key", arg=wanted)


def slide_to(found, time):
    """Move the slider to the first frame of a time."""
    found.evaluate("""(time) => { const slide = document.getElementById('slide');
      slide.value = scene.times.findIndex((each) => each >= time - 1e-6);
      slide.dispatchEvent(new Event('input')); }""", time)
