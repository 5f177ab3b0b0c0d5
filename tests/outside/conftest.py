"""Holds the tests' rows to the committed validation table, or writes it anew with --write-table."""

import pytest

from tests.outside.table import COMMAND, PAGE, Sheet, committed, judged, stale, written

ROWS = pytest.StashKey[dict]()
PASSED = pytest.StashKey[bool]()


def pytest_addoption(parser):
    parser.addoption(
        "--write-table",
        action="store_true",
        help="write tests/outside/VALIDATION.md from the tests that are run; rows of the others are kept",
    )


def _writes(config):
    return config.getoption("--write-table", False)


def pytest_configure(config):
    if _writes(config) and config.getoption("numprocesses", None):
        raise pytest.UsageError("--write-table gathers rows in one process: leave out -n")
    config.stash[ROWS] = {}


def pytest_collection_modifyitems(config, items):
    if _writes(config):  # they judge the page that is about to be replaced
        items[:] = [item for item in items if item.path.name != "test_table.py"]


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    report = yield
    if call.when == "call":
        item.stash[PASSED] = report.passed
    return report


@pytest.fixture
def table(request):
    """Takes a test's rows: `table.against(basis, source)(quantity, outside=..., ours=..., unit=..., within=...)`."""
    sheet = Sheet()
    yield sheet
    place = request.path.name, request.function.__name__
    if not request.node.stash.get(PASSED, False):
        return
    if _writes(request.config):
        request.config.stash[ROWS][place] = [row.cells(place[1]) for row in sheet.rows]
    elif wrong := stale(sheet.rows, committed().get(place, []), place[1]):
        pytest.fail("VALIDATION.md is stale; look why, then write it anew by\n  " + COMMAND + "\n" + "\n".join(wrong))


def pytest_sessionfinish(session, exitstatus):
    if not _writes(session.config):
        return
    if exitstatus != 0:
        print("\nVALIDATION.md is not written: not every test passed")
        return
    known = set(judged())
    rows = {place: cells for place, cells in committed().items() if place in known} | session.config.stash[ROWS]
    PAGE.write_text(written({place: rows[place] for place in judged() if place in rows}), encoding="utf-8")
    print(f"\nVALIDATION.md: {sum(map(len, rows.values()))} rows")
