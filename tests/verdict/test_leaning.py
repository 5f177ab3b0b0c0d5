"""What a verdict leans on, what turns it, and one answer where a count and a run could both give one."""

import pytest

from circuit import pipeline
from circuit.judging.rule import Result
from circuit.verdict.coverage import coverage
from circuit.verdict.judge import judge
from tests.designs import example_text, loaded, patched


def verdict(name, *patch, simulate=False):
    circuit = loaded(patched(example_text(name), list(patch)))
    return pipeline.judged(circuit, simulate=simulate)


def test_a_figure_names_the_assumed_values_it_was_worked_out_from():
    """The hold-off pressure of a spring is a typical value, and 69.6 psi says so; a written one is not named."""
    found = {j.answer.thing: j for j in verdict("truck-6x4").judgements if j.rule.name == "spring-not-held-off"}
    on, = found["d1-left.can"].leans_on
    assert (on.part, on.setting, on.value) == ("d1-left.can", "holds-off-at", "4.8 bar") and on.source
    written = verdict("truck-6x4", "- reservoir pri", "+ reservoir pri: volume 50 L, rated 10.3 bar, role service")
    assert all("volume" not in {one.setting for one in j.leans_on} for j in written.judgements)


def test_what_turns_within_the_range_is_an_outcome_of_its_own():
    """A governor that cuts out at 5.6 bar leaves the springs 15 % over a typical hold-off of 4.8 bar: met, but not if the
    hold-off is 20 % more."""
    low = judge(loaded(patched(example_text("truck-6x4"), ["- governor gov", "+ governor gov: cut-in 4.6 bar, cut-out 5.6 bar"])))
    found = [j for j in low.judgements if j.rule.name == "spring-not-held-off" and j.answer.figure]
    assert found and all(0 < j.answer.figure.margin < 0.3 * j.answer.figure.limit for j in found)
    assert {j.result for j in found} == {Result.TURNS}
    assert all(j.turns is not None and j.turns.setting == "holds-off-at" for j in found)


def test_a_count_that_leaves_something_out_is_no_verdict_on_its_unsafe_side():
    """Build-up by volumes leaves lines and losses out: at best met is not decided; not met at best is not met."""
    row = next(r for r in coverage(verdict("truck-6x4")) if r.clause.key == "us-federal/S5.1.1")
    assert row.outcome is Result.UNDECIDED and "--simulate" in row.says
    slow = verdict("truck-6x4", "- compressor pump", "+ compressor pump: displacement 8 cfm, speed 1250 rpm")
    row = next(r for r in coverage(slow) if r.clause.key == "us-federal/S5.1.1")
    assert row.outcome is Result.NOT_MET


@pytest.mark.parametrize("displacement, outcome", [("15 cfm", {Result.MET, Result.TURNS}), ("12.2 cfm", {Result.NOT_MET})])
def test_a_run_decides_and_the_count_says_nothing_beside_it(displacement, outcome):
    """Between the count (26.9 s) and the run (31.0 s) lies the limit, 27.9 s, for 12.2 cfm: one answer, not two."""
    from circuit.studies.charge import charge

    pump = f"+ compressor pump: displacement {displacement}, speed 1250 rpm"
    found = verdict("truck-6x4", "- compressor pump", pump, simulate=True)
    row = next(r for r in coverage(found) if r.clause.key == "us-federal/S5.1.1")
    assert row.outcome in outcome and row.says.startswith("predicted: ") and row.rules == ("air-builds-slowly",)
    assert row.figure.found == charge(found.circuit).build.value
    assert not found.is_clean if outcome == {Result.NOT_MET} else found.is_clean


def test_at_the_edge_found_and_limit_are_told_apart():
    from circuit.units import told_apart

    for near in (59.99, 59.9999, 60.00001):
        one, other = told_apart(near * 6894.757293 + 101325.0, 60 * 6894.757293 + 101325.0, "pressure")
        assert one.split(" (")[0] != other.split(" (")[0] and one.split(" (")[1] != other.split(" (")[1]
    late = "+ low-pressure-switch pri-warning: on pri, on-below 59.999 psi"
    low = verdict("truck-6x4", "- low-pressure-switch pri-warning", late)
    says = next(j.answer.says for j in low.findings if j.rule.name == "no-low-pressure-warning")
    assert "59.999 psi" in says and "60.000 psi" in says
