"""The validation table itself: complete, readable, and stale when it should be."""

import pytest

from tests.outside.table import BASES, PAGE, Row, Sheet, committed, judged, read, stale, written

ROW = Row("flow of a hole", 2.0, 2.01, "g/s", 1.0, True, "library", "a library")


def test_the_page_has_the_rows_of_every_test_that_is_there_and_of_no_other():
    assert set(committed()) == set(judged())


def test_the_page_is_as_it_would_be_written():
    assert written(committed()) == PAGE.read_text(encoding="utf-8")


def test_the_page_says_enough():
    rows = [cells for some in committed().values() for cells in some]
    assert len(rows) >= 40
    assert {cells[5].split(":")[0] for cells in rows} == set(BASES)
    assert all(all(cells) and len(cells) == 7 for cells in rows)


@pytest.mark.parametrize(
    "given",
    [
        {"outside": 2.0, "ours": 2.03, "percent": 1.0},
        {"outside": 2.0, "ours": 2.03, "within": 0.02},
        {"outside": 2.0, "ours": float("nan"), "within": 1.0},
        {"outside": 2.0, "ours": 2.0},
        {"outside": 2.0, "ours": 2.0, "within": 1.0, "percent": 1.0},
    ],
)
def test_a_row_that_does_not_hold_is_refused(given):
    sheet = Sheet()
    with pytest.raises(AssertionError):
        sheet.against("library", "a library")("flow", **given)
    assert not sheet.rows


def test_a_basis_that_nobody_knows_is_refused():
    with pytest.raises(AssertionError, match="no basis"):
        Sheet().against("hearsay", "a man")


@pytest.mark.parametrize(
    "page, why",
    [
        ([], "is not on the page"),
        ([ROW._replace(ours=2.02)], "now 2 g/s"),
        ([ROW._replace(limit=2.0)], "other words"),
        ([ROW._replace(source="another")], "other words"),
        ([ROW, ROW._replace(quantity="gone")], "on the page only"),
    ],
)
def test_a_page_that_has_come_apart_is_seen(page, why):
    [wrong] = stale([ROW], [row.cells("test_x") for row in page], "test_x")
    assert why in wrong


def test_a_rounding_is_no_change():
    assert stale([ROW], [ROW._replace(ours=2.010004).cells("test_x")], "test_x") == []


def test_a_row_is_read_as_it_was_written():
    text = "## Flows (`test_flows.py`)\n\n| " + " | ".join(ROW.cells("test_a_hole")) + " |"
    assert read(text) == {("test_flows.py", "test_a_hole"): [ROW.cells("test_a_hole")]}
