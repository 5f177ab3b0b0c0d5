"""`check --simulate`: clauses that ask for pressures over time get an outcome; a plain check imports no simulation."""

import json
import subprocess
import sys
from functools import cache

import jsonschema
import pytest

from circuit import pipeline, questions
from circuit.clauses import asking, rule_set, set_names
from circuit.commands.new import starts
from circuit.files import folder
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Result
from circuit.report import machine, terminal
from circuit.report.marked import marks_of
from circuit.report.page import markup
from circuit.report.sheets.clause_sheet import tally
from circuit.report.sheets.findings import findings as findings_sheet
from circuit.report.sheets.origin import standing
from circuit.verdict import simulated
from circuit.verdict.judge import NOTHING, consequence
from circuit.verdict.lesson import told_of
from tests.designs import example_names, example_text, loaded, patched, sampled
from tests.studies.examples import example


def outcomes(circuit, sets=()):
    found = {}
    for each in pipeline.judged(circuit, sets, simulate=True).predicted:
        found.setdefault(each.clause.key, set()).add(each.result)
    return found


def test_a_truck_is_timed_and_parks():
    found = outcomes(example("truck-6x4"))
    assert set(found) >= {f"us-federal/{number}" for number in (
        "S5.1.2.3", "S5.3.3", "S5.3.4", "S5.6.3.1", "S5.6.3.3", "S5.6.5", "S5.6.6", "S5.7.1", "S5.7.2", "5.3-spring-brakes")}
    assert all(each.is_kept for results in found.values() for each in results)


@pytest.mark.parametrize("vehicle", sampled(starts(), 2))
def test_every_start_keeps_what_simulations_decide_over_the_whole_band_of_flows(vehicle):
    judged = pipeline.judged(pipeline.load(str(folder("shared") / "starts" / f"{vehicle}.air")), (), simulate=True)
    timed = [each for each in judged.predicted if each.question in ("application-time", "release-time")]
    assert timed and {each.result for each in judged.predicted} == {Result.MET}
    assert judged.is_clean


def test_a_trailer_keeps_its_supply_line_and_brakes_when_it_breaks_away():
    found = outcomes(example("semitrailer-tandem"))
    assert set(found) >= {"us-federal/S5.3.3", "us-federal/S5.3.4", "us-federal/S5.6.3.3", "us-federal/S5.6.5",
                          "us-federal/S5.6.6", "us-federal/S5.8.2", "us-federal/S5.8.3", "us-federal/393.43(d)"}
    assert all(each.is_kept for results in found.values() for each in results)


def test_a_trailer_is_held_to_the_european_response():
    found = outcomes(example("semitrailer-europe"), ("un-r13",))
    assert set(found) >= {"un-r13/Annex 6 3.5", "un-r13/5.2.2.12 (supply line)", "un-r13/Annex 8 2.8"}
    assert all(each.is_kept for results in found.values() for each in results)


def test_farm_trailers_are_held_to_the_same_by_the_parallel_text():
    found = outcomes(example("semitrailer-europe"), ("eu-2015-68",))
    assert found == {f"eu-2015-68/{number}": {Result.MET} for number in (
        "Annex III 4.5.1", "Annex I 2.2.2.13", "Annex V 2.12.1", "Annex IV A 1.3.1")}


@pytest.mark.parametrize("name, sets", [("truck-6x4", ()), ("semitrailer-europe", ("un-r13", "eu-2015-68")), *(
    pytest.param(name, sets, marks=pytest.mark.slow) for name, sets in (
        ("truck-towing", ()), ("city-bus", ()), ("semitrailer-tandem", ()), ("converter-dolly", ()),
        ("truck-europe", ("un-r13",))))])
def test_nothing_that_a_simulation_decides_stays_open(name, sets):
    verdict = pipeline.judged(example(name), sets, simulate=True)
    assert [each.clause.key for each in verdict.open_clauses if each.clause.decided == "simulation"
            and each.needs != NOTHING and "secondary-at" not in each.needs] == []


def test_what_was_decided_leaves_the_open_list_and_a_miss_is_a_finding():
    design = patched(example_text("truck-6x4"), ["- tube foot.22 -> front-release.1",
                                                 "+ tube foot.22 -> front-release.1: size 1/4 in, length 9 m"])
    plain = pipeline.judged(loaded(design))
    timed = pipeline.judged(loaded(design), simulate=True)
    assert plain.is_clean and not timed.is_clean
    missed = [each for each in timed.predicted if each.result is Result.NOT_MET]
    assert {each.thing for each in missed} >= {"front-left", "front-right"}
    assert all(each.figure.margin < 0 for each in missed)
    assert "us-federal/S5.3.3" in {each.clause.key for each in plain.open_clauses}
    assert "us-federal/S5.3.3" not in {each.clause.key for each in timed.open_clauses}


def test_the_json_holds_to_its_schema():
    entry = machine.design(pipeline.judged(example("truck-6x4"), simulate=True))
    document = json.loads(machine.document([entry]))
    jsonschema.validate(document, machine.schema())
    assert {each["outcome"] for each in document["designs"][0]["predicted"]} <= {Result.MET.value, Result.TURNS.value}
    assert all(each["leans_on"] for each in document["designs"][0]["predicted"] if "S5.3.3" in each["clause"]["key"])


@pytest.mark.parametrize("part", ["sim", "studies"])
def test_a_plain_check_imports_no_simulation(part):
    code = ("import sys; from circuit.cli import main; main(['check', 'examples/teaching-board/design.air']);"
            f"sys.exit(any(name.startswith('circuit.{part}') for name in sys.modules))")
    assert subprocess.run([sys.executable, "-c", code], capture_output=True).returncode == 0


@pytest.mark.slow
@pytest.mark.parametrize("name", [name for name in example_names() if name != "teaching-board"])
def test_every_example_but_the_board_is_clean_when_simulated(name):
    assert pipeline.judged(example(name), simulate=True).is_clean


LATE = ["- tube foot.22 -> front-release.1", "+ tube foot.22 -> front-release.1: size 1/4 in, length 9 m"]


@cache
def late(*rows):
    return pipeline.judged(loaded(patched(example_text("truck-6x4"), list(LATE)) + "".join(rows)), simulate=True)


def test_what_a_simulation_finds_is_a_finding_with_place_severity_and_remedy():
    found = late().findings
    assert {(j.rule.name, j.answer.thing, j.severity) for j in found} == {
        ("application-time", "front-left", "error"), ("application-time", "front-right", "error")}
    for judgement in found:
        assert judgement.by_simulation and judgement.is_open and "too late" in judgement.answer.says
        assert judgement.answer.at == late().circuit.by_name[judgement.answer.thing].span
        assert consequence(judgement) and judgement.answer.remedy
    assert late().fails("error") and late().fails("warning")


def test_every_medium_tells_it():
    verdict = late()
    (entry,) = json.loads(machine.document([machine.design(verdict)]))["designs"]
    jsonschema.validate({**json.loads(machine.document([])), "designs": [entry]}, machine.schema())
    assert [each["thing"] for each in entry["findings"]] == ["front-left", "front-right"]
    (row,) = [each for each in entry["coverage"] if each["clause"] == "us-federal/S5.3.3"]
    assert (row["outcome"], row["rules"]) == ("not met", ["application-time"])
    told = terminal.verdict(verdict, terminal.Paint(False), short=True)
    assert "1 ERROR  application-time, by simulation\n" in told and "Not met: 2 errors, 2 of them by simulation\n" in told
    assert [(mark.device_name, mark.label, mark.severity) for mark in marks_of(verdict)] == [
        ("front-left", "1", "error"), ("front-right", "2", "error")]
    assert tally(verdict)[Result.NOT_MET.value] == 2 and standing(verdict) == "findings open: 2, 2 of them by simulation"
    assert [row[0] for row in findings_sheet(verdict).rows] == ["1", "2"]
    assert [each.word for each in markup.found_in(verdict)] == ["error", "error"]


def test_an_advisory_clause_warns_only():
    clause_of = {clause.advisory: clause for clause in rule_set("us-federal").clauses}
    circuit = example("truck-6x4")
    for advisory, severity in ((True, "warning"), (False, "error")):
        each = Predicted(clause_of[advisory], Result.NOT_MET, "pipe on front-left, 75 %", "it is late", None,
                         question="application-time")
        (found,) = simulated.findings(circuit, [each])
        assert (found.severity, found.answer.thing) == (severity, "front-left")
    (found,) = simulated.findings(circuit, [each._replace(thing="")])
    assert found.answer.thing == circuit.vehicle.name


def test_two_clauses_that_ask_the_same_are_one_finding():
    us, other = (asking("application-time", (name,))[0] for name in ("us-federal", "un-r13"))
    both = [Predicted(one, Result.NOT_MET, "front-left", "it is late", None, question="application-time")
            for one in (us, other)]
    (found,) = simulated.findings(example("truck-6x4"), both)
    assert [one.clause for one in found.each()] == [us, other]


@pytest.mark.slow
def test_a_waiver_accepts_what_a_simulation_finds_and_waits_for_one():
    rows = [f'waive application-time: at {name}, because "a yard vehicle"\n' for name in ("front-left", "front-right")]
    assert pipeline.judged(loaded(example_text("truck-6x4") + rows[0])).is_clean
    half, whole = late(rows[0]), late(*rows)
    assert [j.is_open for j in half.findings] == [False, True] and not half.is_clean
    assert whole.is_clean and len(whole.findings) == 2
    idle = pipeline.judged(loaded(example_text("truck-6x4") + rows[0]), simulate=True)
    assert [j.rule.name for j in idle.findings] == ["waiver-without-finding"]


def test_every_question_to_a_simulation_says_what_comes_of_it_and_what_to_do():
    assert len(questions.names()) > 30
    for name in questions.names():
        told = told_of(name)
        assert told.question and told.consequence[0].isupper() and told.consequence.endswith("."), name
        assert told.mend[0].islower() and not told.mend.endswith("."), name
    asked = {each for name in set_names() for one in rule_set(name).clauses for each in one.questions}
    assert len(asked & set(questions.names())) > 20
    assert all(each.question in each.clause.questions for each in late().predicted)


def test_the_cover_counts_what_is_grouped_under_another():
    """One line led wrong: whatever goes with its mend is not met either, and has its row."""
    design = patched(example_text("truck-6x4"), [
        "- tube wet -> pri-check.1: ", "+ tube wet -> pri-check.2: size 1/2 in, length 0.3 m",
        "- tube pri-check.2 -> pri: ", "+ tube pri-check.1 -> pri: size 1/2 in, length 1 m"])
    verdict = pipeline.judged(loaded(design))
    assert any(j.follows for j in verdict.findings)
    every = [one for j in verdict.findings for one in j.each()]
    assert len(every) > len(verdict.findings)
    assert tally(verdict)[Result.NOT_MET.value] == len(every)
    under = sum(len(j.follows) for j in verdict.findings)
    assert f"; {under} more not met that would go with them" in standing(verdict)
