"""`check --simulate`: clauses that ask for pressures over time get an outcome; a plain check imports no simulation."""

import json
import subprocess
import sys

import jsonschema
import pytest

from circuit import pipeline
from circuit.judging.rule import Result
from circuit.report import machine
from circuit.verdict.judge import NOTHING
from tests.designs import example_names, example_text, loaded, patched
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


@pytest.mark.parametrize("name, sets", [(name, sets) for name, sets in (
    ("truck-6x4", ()), ("truck-towing", ()), ("city-bus", ()), ("semitrailer-tandem", ()), ("converter-dolly", ()),
    ("semitrailer-europe", ("un-r13", "eu-2015-68")), ("truck-europe", ("un-r13",)))])
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
    jsonschema.validate(document, json.loads(machine.SCHEMA.read_text(encoding="utf-8")))
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
