"""Every case is a whole design; the open findings must be exactly those that its lines are marked with."""

from pathlib import Path

import pytest

from circuit import rules
from tests.designs import NoSuchRow, design_of, findings_of, marks, patched

CASES = sorted(Path(__file__).parent.glob("*/*.case"))


def test_there_are_cases():
    assert len(CASES) > 2 * 28


SLOW = ("trailer-braked-alone/fail_hand_valve", "brake-not-applied/fail_pass_through_cock_shut",
        "stored-air-escapes/fail_interlock_by_a_tee")
"""Cases in which so much is broken that looking for the one mistake takes seconds; their rules have others."""


def named(path: Path) -> str:
    return f"{path.parent.name}/{path.stem}"


@pytest.mark.parametrize("path", [pytest.param(path, id=named(path), marks=pytest.mark.slow if named(path) in SLOW else ())
                                  for path in CASES])
def test_findings_are_exactly_the_marked_ones(path: Path):
    text = design_of(path.read_text(encoding="utf-8"))
    expected = marks(text)
    if path.stem.startswith("fail_"):
        assert path.parent.name in {rule for _, rule in expected}, "a failing case marks a finding of its rule"
    else:
        assert path.stem.startswith("pass_") and not expected, "a passing case marks nothing"
    assert findings_of(text) == expected


@pytest.mark.parametrize("rule", [rule.name for rule in rules.every()])
def test_every_rule_has_cases_that_fail_and_that_pass(rule: str):
    names = [path.stem for path in CASES if path.parent.name == rule]
    assert any(name.startswith("fail_") for name in names)
    assert any(name.startswith("pass_") for name in names)


def test_every_folder_is_a_rule():
    folders = {path.parent.name for path in CASES}
    assert folders == {rule.name for rule in rules.every()}


def test_a_patch_whose_row_is_not_there_is_refused():
    with pytest.raises(NoSuchRow):
        patched("one\ntwo\n", ["- three"])
    with pytest.raises(NoSuchRow):
        patched("two a\ntwo b\n", ["- two"])
    with pytest.raises(ValueError):
        patched("one\n", ["? one"])


def test_a_patch_puts_rows_where_it_took_one_out():
    assert patched("a\nb\nc", ["- b", "+ B   # expect: x", "= c   # expect: y, z"]).split("\n") == [
        "a", "B   # expect: x", "c   # expect: y, z"]
    assert marks("a\nB   # expect: x\nc   # expect: y, z") == [(2, "x"), (3, "y"), (3, "z")]
