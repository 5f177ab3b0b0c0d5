"""What a design declares of its body and its age lifts clauses, and the verdict says which and why."""

import json

import jsonschema
import pytest

from circuit.clauses import clause, rule_set
from circuit.judging.rule import Result
from circuit.mistake import Unreadable
from circuit.report import machine, terminal
from circuit.report.machine import schema
from circuit.verdict.coverage import coverage
from circuit.verdict.judge import judge
from circuit.verdict.predicted import with_predictions
from tests.designs import example_text, loaded, patched

def declaring(name: str, words: str, *patch: str):  # type: ignore[no-untyped-def]
    text = example_text(name)
    head = next(row for row in text.split("\n") if row.startswith("vehicle "))
    return judge(loaded(patched(text, [f"- {head}", f"+ {head}, {words}", *patch])))


def lifted(judged) -> set[str]:  # type: ignore[no-untyped-def]
    return {one.clause.number for one in judged.open_clauses if one.result is Result.LIFTED}


TIMES = {"S5.3.1", "S5.3.3", "S5.3.4"}
PARKING = {"S5.6.1", "S5.6.3.1", "S5.6.3.2", "S5.6.3.3", "S5.6.5", "S5.6.6"}


@pytest.mark.parametrize("name, words, numbers", [
    ("truck-6x4", "body auto-transporter", TIMES | {"S5.1.2.1", "393.50(a)"}),
    ("semitrailer-tandem", "body auto-transporter", TIMES - {"S5.3.1"} | {"S5.2.1.1", "393.50(a) (trailer)"}),
    ("semitrailer-tandem", "body heavy-hauler",
     TIMES - {"S5.3.1"} | PARKING | {"S5.2.1.1", "393.50(a) (trailer)", "S5.8.1", "393.41"}),
    ("semitrailer-tandem", "body pulpwood", PARKING | {"S5.8.1", "393.41"}),
    ("semitrailer-tandem", "body farm-commodity", PARKING | {"S5.8.1", "393.41"}),
    ("truck-6x4", "body usual, built 1975", set()),
    ("truck-6x4", "built 2026", set()),
])
def test_a_declaration_lifts_what_the_rule_lifts(name: str, words: str, numbers: set[str]):
    assert lifted(declaring(name, words)) == numbers


def test_a_reservoir_too_small_is_no_finding_where_the_ratio_is_lifted():
    small = ("- reservoir pri:", "+ reservoir pri: volume 20 L, rated 10.3 bar, role service")
    kept, spared = declaring("truck-6x4", "body usual", *small), declaring("truck-6x4", "body auto-transporter", *small)
    assert [judged.fails("error") for judged in (kept, spared)] == [True, False]
    rows = {row.clause.number: row for row in coverage(spared)}
    assert rows["S5.1.2.1"].outcome is Result.LIFTED
    assert rows["S5.1.2.1"].says == "the design declares `body auto-transporter`, and S5.1.2.1 leaves such a vehicle out"


def test_an_older_vehicle_is_held_to_what_was_asked_of_it():
    """571.121 began in 1975: before, a warning at 55 psi or half of the cut-out, and 70 % of the pressure by law."""
    judged = declaring("truck-6x4", "built 1974")
    ours = {one.number for one in rule_set("us-federal").clauses
            if one.document == "49 CFR 571.121" and one.is_about("truck", False)}
    newer = {"393.41", "393.50(a)", "393.51(c)(1)", "570.57-warning", "570.57-recovery"}
    assert len(ours) > 20 and lifted(judged) == ours | newer
    rows = {row.clause.number: row for row in coverage(judged)}
    assert rows["393.51(c)(2)"].outcome is Result.MET and rows["393.50(b) (older)"].outcome is Result.MET
    assert not clause("us-federal/393.51(c)(2)").holds("truck", False, built=None)
    assert rows["570.57-warning (older)"].outcome is Result.MET


def test_every_output_says_what_was_lifted():
    judged = declaring("truck-6x4", "body auto-transporter")
    words = " ".join(terminal.verdict(judged, terminal.Paint(False)).split())
    assert "Lifted by what the design declares: 5" in words and "the declaration is taken as written" in words
    entry = machine.design(judged)
    assert len(entry["lifted"]) == 5 and "lifted" not in machine.design(declaring("truck-6x4", "body usual"))
    jsonschema.Draft202012Validator(schema()).validate(json.loads(machine.document([entry])))


def test_a_simulation_leaves_what_is_lifted():
    judged = with_predictions(declaring("truck-6x4", "built 1974"))
    assert "S5.3.3" in lifted(judged) and not any(one.clause.number == "S5.3.3" for one in judged.predicted)


@pytest.mark.parametrize("words, says", [
    ("body heavy-hauler", "is the body of a trailer"),
    ("body fire-engine", "heavy-hauler"),
    ("built 74", "is no year of build"),
    ("built 1974.5", "whole number"),
])
def test_what_cannot_be_is_refused(words: str, says: str):
    with pytest.raises(Unreadable) as found:
        declaring("truck-6x4", words)
    (mistake,) = found.value.mistakes
    assert says in mistake.says + mistake.expected
