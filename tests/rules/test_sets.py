"""A design held to several sets of rules, the coverage of clauses, and what says nothing."""

import pytest

from circuit import rules
from circuit.clauses import ALWAYS, RuleSet, clause, rule_set
from circuit.judging.prediction import Predicted
from circuit.judging.rule import SEVERITIES, Figure, Result
from circuit.report import clause_lists as pages
from circuit.report import machine
from circuit.verdict import judge as judging
from circuit.verdict.coverage import coverage, differences
from circuit.verdict.judge import NOTHING, VAGUE, askings, judge
from tests.designs import example_names, example_text, loaded, open_findings, patched, sampled

ALONE = [name for name in example_names() if not name.startswith("combination")]


def held(name: str, *sets: str, patch: tuple[str, ...] = ()):  # type: ignore[no-untyped-def]
    return judge(loaded(patched(example_text(name), list(patch))), sets)


@pytest.mark.parametrize("name", sampled(ALONE, 7))
@pytest.mark.parametrize("sets", [("us-federal",), ("un-r13",), ("us-federal", "un-r13", "australia", "new-zealand")])
def test_every_clause_of_the_vehicle_has_an_outcome(name: str, sets: tuple[str, ...]):
    judged = held(name, *sets)
    circuit = judged.circuit
    rows = {row.clause.key: row for row in coverage(judged)}
    due = {one.key for each in sets for one in rule_set(each).clauses if circuit.is_asked(one)}
    assert due and {key for key in rows if not key.startswith(f"{ALWAYS}/")} == due
    for row in rows.values():
        assert row.says and (row.rules or row.outcome in (Result.UNDECIDED, Result.UNDECIDABLE)), row.clause.key
        assert (row.outcome is Result.UNDECIDABLE) == (row.clause.decided == "physical test"), row.clause.key


def test_a_figure_and_its_margin_come_with_what_was_met():
    rows = {row.clause.key: row for row in coverage(held("truck-6x4"))}
    ratio = rows["us-federal/S5.1.2.1"]
    assert ratio.outcome is Result.MET and ratio.rules == ("reservoirs-too-small",) and ratio.figure is not None
    assert ratio.figure.margin == pytest.approx(0.102 - 12 * 464 * 0.0254**3)
    assert rows["us-federal/393.50(b)"].clause.advisory
    line = next(row for row in pages.clauses_table(held("truck-6x4")) if row.startswith("us-federal/S5.1.2.1 "))
    assert line.split("  ")[0] == "us-federal/S5.1.2.1" and "reservoirs-too-small" in line and "at least 5,568 in3" in line


def test_a_finding_makes_its_clause_unmet_and_a_waiver_says_so():
    patch = ("- drain wet-drain",)
    row = {r.clause.key: r for r in coverage(held("truck-6x4", patch=patch))}["us-federal/S5.1.2.4"]
    assert row.outcome is Result.NOT_MET and not row.waived
    accepted = (*patch, "+ waive reservoir-without-drain: at wet, because \"a bench\"")
    row = {r.clause.key: r for r in coverage(held("truck-6x4", patch=accepted))}["us-federal/S5.1.2.4"]
    assert row.outcome is Result.NOT_MET and row.waived


def test_what_follows_from_a_mistake_counts_against_its_clauses_too():
    """A check valve turned round leaves its reservoir empty: one finding, and several clauses that are not met."""
    judged = held("truck-6x4", patch=("- tube wet -> pri-check.1", "- tube pri-check.2 -> pri",
                                      "+ tube wet -> pri-check.2: size 1/2 in, length 0.3 m",
                                      "+ tube pri-check.1 -> pri: size 1/2 in, length 1 m"))
    (finding,) = [j for j in judged.judgements if j.is_open]
    assert finding.follows
    unmet = {row.clause.key for row in coverage(judged) if row.outcome is Result.NOT_MET}
    assert {finding.clause.key} | {j.clause.key for j in finding.follows} <= unmet and len(unmet) > 1


# --- several sets ---------------------------------------------------------------------------------------------------


def test_one_fault_under_two_sets_is_one_finding():
    judged = held("truck-6x4", "us-federal", "un-r13", patch=("- chamber front-right",
                  "+ chamber front-right: type 24, stroke 2.5 in, axle front, side right, slack-length 5.5 in"))
    (found,) = [j for j in judged.judgements if j.rule.name == "unequal-chambers" and j.result is Result.NOT_MET]
    assert (found.clause.key, [j.clause.key for j in found.also]) == ("us-federal/393.47(b)", ["un-r13/5.2.1.8"])
    unmet = {row.clause.key for row in coverage(judged) if row.outcome is Result.NOT_MET}
    assert {"us-federal/393.47(b)", "un-r13/5.2.1.8"} <= unmet


def test_limits_of_two_sets_are_both_held():
    """58 psi satisfies neither 60 psi nor 420 kPa; 60.5 psi satisfies the first alone."""
    def warnings(setting: str) -> dict[str, Result]:
        patch = tuple(row for name in ("pri", "sec") for row in (
            f"- low-pressure-switch {name}-warning",
            f"+ low-pressure-switch {name}-warning: on {name}, on-below {setting}"))
        rows = coverage(held("truck-6x4", "us-federal", "australia", patch=patch))
        return {r.clause.key: r.outcome for r in rows
                if r.rules == ("no-low-pressure-warning",) and not r.clause.advisory}

    keys = ("us-federal/S5.1.5", "australia/low-air warning")
    assert [warnings("58 psi")[key] for key in keys] == [Result.NOT_MET, Result.NOT_MET]
    assert [warnings("60.5 psi")[key] for key in keys] == [Result.MET, Result.NOT_MET]
    assert [warnings("62 psi")[key] for key in keys] == [Result.MET, Result.MET]


def test_good_practice_asks_only_where_no_other_set_does():
    truck = loaded(example_text("truck-towing"))
    (rule,) = [r for r in rules.every() if r.name == "towing-vehicle-not-protected"]
    assert [c.key for c in askings(rule, ("us-federal", ALWAYS), truck)] == ["us-federal/S5.1.3"]
    assert [c.key for c in askings(rule, (ALWAYS,), truck)] == ["good-practice/towing-vehicle-protected"]


def test_a_finding_of_an_advisory_clause_alone_is_a_warning():
    judged = held("truck-6x4", patch=("- governor gov", "+ governor gov: cut-in 120 psi, cut-out 140 psi"))
    (found,) = [j for j in judged.judgements if j.is_open]
    assert (found.rule.name, found.severity, found.clause.advisory) == ("governor-set-high", "warning", True)
    assert judged.fails("warning") and not judged.fails("error") and not judged.is_clean


def test_a_law_beside_an_advisory_clause_makes_it_an_error():
    """Cut-in at 78 psi misses 100 psi by law and 80 psi by advice: one error that names both."""
    judged = held("truck-6x4", patch=("- governor gov", "+ governor gov: cut-in 78 psi, cut-out 98 psi"))
    (found,) = [j for j in judged.judgements if j.rule.name == "governor-set-low" and j.is_open]
    assert found.severity == "error" and found.clause.key == "us-federal/S5.1.1.1"
    assert [j.clause.key for j in found.also] == ["us-federal/570.57-governor"] and found.also[0].severity == "warning"


def test_a_memory_too_vague_asks_for_nothing(monkeypatch: pytest.MonkeyPatch):
    truck = loaded(example_text("truck-6x4"))
    (rule,) = [r for r in rules.every() if r.name == "reservoirs-too-small"]
    assert askings(rule, ("us-federal",), truck)
    real = judging.rule_set

    def vague(name: str) -> RuleSet:
        known = real(name)
        return known._replace(clauses=tuple(one._replace(basis="from memory", grade="M3") for one in known.clauses))

    monkeypatch.setattr(judging, "rule_set", vague)
    assert askings(rule, ("us-federal",), truck) == ()


def test_a_vague_clause_is_not_decided():
    rows = {row.clause.key: row for row in coverage(held("truck-6x4", "australia"))}
    row = rows["australia/ADR 35 and 38, storage"]
    assert row.outcome is Result.UNDECIDED and row.says == VAGUE and not row.rules


# --- where sets differ ------------------------------------------------------------------------------------------------


def test_one_set_differs_from_nothing():
    assert differences(held("truck-6x4")) == () and pages.where_sets_differ(held("truck-6x4")) == []


@pytest.mark.parametrize("title, keys", [
    ("how much air is stored", ("us-federal/S5.1.2.1", "un-r13/Annex 7 A 1.2.1")),
    ("when the driver is warned", ("us-federal/S5.1.5", "un-r13/5.2.1.13.1")),
    ("the least cut-in", ("us-federal/S5.1.1.1", "un-r13/Annex 10 3.1.3.4")),
    ("what the trailer is given", ("us-federal/S5.1.3", "un-r13/Annex 10 3.1.3.1")),
])
def test_two_sets_answer_one_question_side_by_side(title: str, keys: tuple[str, str]):
    judged = held("truck-towing", "us-federal", "un-r13")
    (found,) = [one for one in differences(judged) if one.title.startswith(title)]
    assert tuple(row.clause.key for _, row in found.answers if row) == keys
    text = "\n".join(pages.where_sets_differ(judged))
    assert all(clause(key).number + ":" in text for key in keys)


def test_a_trailer_is_held_to_eight_times_or_to_half_of_the_first():
    judged = held("semitrailer-tandem", "us-federal", "un-r13")
    (found,) = [one for one in differences(judged) if one.title.startswith("how much air is stored")]
    us, europe = (row for _, row in found.answers)
    assert us is not None and europe is not None and us.figure is not None and europe.figure is not None
    assert us.clause.number == "S5.2.1.1" and us.figure.dimension == "volume"
    assert europe.clause.number == "Annex 7 A 1.3.1" and europe.figure.dimension == "pressure"
    entry = machine.design(judged)["differences"][0]
    assert [answer["set"] for answer in entry["answers"]] == ["us-federal", "un-r13"]
    assert entry["answers"][1]["answer"]["figure"]["unit"] == "bar"


# --- a design that shows nothing ----------------------------------------------------------------------------------


@pytest.mark.parametrize("sets", [(), ("us-federal",), ("un-r13",)])
@pytest.mark.parametrize("vehicle", ["truck", "tractor", "bus", "semi-trailer", "full-trailer", "dolly"])
def test_an_empty_design_says_what_is_not_written(vehicle: str, sets: tuple[str, ...]):
    judged = judge(loaded(f"vehicle x: class {vehicle}\n"), sets)
    says = {j.answer.says for j in judged.judgements if j.result is Result.UNDECIDED}
    assert {"no reservoir is written", "no brake is written"} & says
    assert not any(j.result is Result.MET for j in judged.judgements
                   if "not meant to be joined" not in j.answer.says and "no control" not in j.answer.says)


def test_a_design_without_axles_says_so():
    judged = judge(loaded("vehicle x: class truck\nrules us-federal\n"))
    says = {j.answer.says for j in judged.judgements if j.result is Result.UNDECIDED}
    assert {f"no {what} is written" for what in ("axle", "reservoir", "source of air", "brake")} <= says
    silent = [one.clause.key for one in judged.open_clauses if one.needs == NOTHING]
    assert "us-federal/S5.1.4" in silent and "us-federal/S5.1.8" not in silent


# --- the examples under their own rules ---------------------------------------------------------------------------


@pytest.mark.parametrize("name", [name for name in ALONE if name != "teaching-board"])
def test_examples_are_free_of_findings_under_their_own_rules(name: str):
    assert open_findings(held(name)) == []


@pytest.mark.parametrize("name", ["truck-europe", "semitrailer-europe"])
def test_the_european_examples_are_held_to_the_regulation(name: str):
    judged = held(name)
    assert [each.name for each in judged.sets] == ["un-r13", ALWAYS]
    outcomes = [row.outcome for row in coverage(judged) if row.clause.key.startswith("un-r13/")]
    assert sum(each.is_kept for each in outcomes) >= 11 and Result.NOT_MET not in outcomes


def test_severities_have_reasons():
    assert list(SEVERITIES) == ["error", "warning", "note"]
    assert {rule.severity for rule in rules.every()} == set(SEVERITIES)


def test_what_a_simulation_decided_is_in_the_table():
    judged = held("truck-6x4")
    key = "us-federal/S5.3.3"
    late = Figure("d1-left.can at 60 psi", 0.51, 0.45, "time", at_least=False)
    early = Figure("front-left at 60 psi", 0.31, 0.45, "time", at_least=False)
    decided = judged._replace(predicted=tuple(
        Predicted(clause(key), result, thing, "60 psi come late", figure, question="application-time")
        for result, thing, figure in ((Result.MET, "front-left", early), (Result.NOT_MET, "d1-left.can", late))))
    before, after = ({row.clause.key: row for row in coverage(one)}[key] for one in (judged, decided))
    assert (before.outcome, before.figure) == (Result.UNDECIDED, None)
    assert (after.outcome, after.figure) == (Result.NOT_MET, late) and "60 psi come late" in after.says


def test_one_gauge_will_do_where_the_clause_says_so():
    """New Zealand: a gauge on a brake reservoir; on each independent one under the brake code, which is a guide for others."""
    rows = {r.clause.number: r for r in coverage(held("truck-6x4", "new-zealand", patch=("- gauge sec-gauge",)))}
    assert rows["8-1 gauge"].outcome is Result.MET and rows["8-2 gauge"].outcome is Result.NOT_MET
    none = held("truck-6x4", "new-zealand", patch=("- gauge sec-gauge", "- gauge pri-gauge"))
    assert {r.clause.number: r for r in coverage(none)}["8-1 gauge"].outcome is Result.NOT_MET


def test_a_line_that_follows_the_pedal_is_named_and_not_judged():
    """The trailer's signal of the tractor draws on both reservoirs: its lines are named, and S5.7.1 is not decided for them."""
    rows = {r.clause.number: r for r in coverage(held("tractor-6x4"))}
    row = rows["S5.7.1"]
    assert row.outcome is Result.UNDECIDED and "signal lines are a matter of reading" in row.says
    for line in ("pedal-shuttle.2 -> hand-shuttle.11", "hand-shuttle.2 -> signal-tee", "signal-tee -> signal-relay.4"):
        assert line in row.says
    assert rows["393.40"].outcome is Result.MET, "the service brakes themselves are separate"
    assert {r.clause.number: r for r in coverage(held("truck-6x4"))}["S5.7.1"].outcome is Result.MET
