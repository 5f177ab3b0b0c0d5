"""Kinds' pages show real rows and rules that truly answer about them; pages of rules mark what differs."""

from pathlib import Path

import pytest

from circuit import kinds, rules
from circuit.mistake import Unreadable
from circuit.pipeline import judged, load_source
from circuit.report.explain import DIFFERS, explain, marked
from circuit.report.kind_page import real_row, rules_of
from circuit.report.specimen import sample
from circuit.source import Source
from circuit.tables import table
from circuit.verdict.lesson import lesson_of
from tests.designs import completed, loaded

ROOT = Path(__file__).resolve().parents[2]
KINDS = [kind.name for kind in kinds.every()]


def test_every_kind_is_in_the_frozen_file():
    assert list(table("samples")["kind"]) == KINDS


@pytest.mark.parametrize("name", KINDS)
def test_a_row_is_a_row_of_the_example_it_names(name: str):
    row, folder = real_row(kinds.find(name))
    assert row.startswith(f"{name} ") or row.split()[0] in kinds.find(name).aliases
    if folder:
        design = (ROOT / "examples" / folder / "design.air").read_text(encoding="utf-8")
        assert row in {line.split("#")[0].strip() for line in design.splitlines()}
    assert row in explain(name)


def test_most_rows_are_real():
    assert sum(bool(real_row(kind)[1]) for kind in kinds.every()) > 0.6 * len(KINDS)


@pytest.mark.parametrize("name", KINDS)
def test_a_made_up_row_is_accepted_by_its_kind(name: str):
    """No governor with equal pressures, no stroke of 2 m: whatever is refused is not refused at a setting."""
    text = f"vehicle v: class truck\naxle rear: position 1\nreservoir wet: volume 20 L, rated 10 bar, role supply\n" \
           f"reservoir dry: volume 20 L, rated 10 bar, role service\nfoot-valve foot\n{sample(kinds.find(name), 'part')}\n"
    try:
        load_source(Source("sample.air", text))
    except Unreadable as unreadable:
        says = " ".join(mistake.says for mistake in unreadable.mistakes)
        assert "proportion" not in says and "not below" not in says, says


def test_rules_named_of_kinds_are_rules():
    for kind in kinds.every():
        assert all(rules.find(name) for name in rules_of(kind))
    wanted = {"reservoir-without-drain", "reservoirs-too-small", "reservoir-not-held", "reservoir-without-safety-valve"}
    assert wanted <= set(rules_of(kinds.find("reservoir"))) and "part-backwards" in rules_of(kinds.find("check-valve"))


@pytest.mark.parametrize("rule", ["part-backwards", "governor-set-low", "reservoir-without-drain", "stroke-beyond-limit"])
def test_the_frozen_rules_answer_about_the_kind(rule: str):
    """Spot check of the file: in the rule's own bad design it answers about a part of each kind that it is frozen for there."""
    circuit = loaded(completed(lesson_of(rule).bad))
    lines = {each.answer.at.outermost.line for each in judged(circuit).judgements if each.rule.name == rule}
    seen = {device.kind.name for device in circuit.devices if device.span.outermost.line in lines}
    assert seen and all(rule in rules_of(kinds.find(name)) for name in seen)


def test_what_differs_is_marked():
    bad, good = marked("one\ntwo\nthree\n", "one\nthree\nfour\n")
    assert (bad, good) == (["    one", "  > two", "    three"], ["    one", "    three", "  > four"])
    page = explain("anti-compound-from-another-axle")
    assert page.count(f"\n  {DIFFERS} ") == 6, "three rows of each"


def test_every_rule_has_rows_that_differ():
    for rule in rules.every():
        told = lesson_of(rule.name)
        assert any(row.startswith(f"  {DIFFERS} ") for side in marked(told.bad, told.good) for row in side), rule.name
