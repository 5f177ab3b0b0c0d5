"""Readings of a commissioning and what explains them: planted faults found again, sound vehicles let be, slips told in place."""

import json
from pathlib import Path
from random import Random

import jsonschema
import pytest

from circuit import cli
from circuit.console.studied import schema
from circuit.faults.diagnosis import as_if, asked_first, diagnosis
from circuit.faults.library import Library, library, sound_ones
from circuit.faults.measured import measured
from circuit.faults.ranking import Errors, weigh
from circuit.mistake import Unreadable
from circuit.pipeline import load
from circuit.report.sheets.step_record import step_record
from circuit.report.studies.diagnose import form
from circuit.report.table import as_csv
from circuit.source import Source
from circuit.studies.commission import commission
from circuit.studies.hands import CannotAsk
from circuit.verdict.judge import judge
from tests.examples.held import EXAMPLES

BOARD = str(EXAMPLES / "teaching-board" / "design.air")


@pytest.fixture(scope="module")
def board() -> Library:
    return library(load(BOARD))


def found(board: Library, name: str, seed: int = 1):  # type: ignore[no-untyped-def]
    return diagnosis(board, as_if(board, name, seed))


def noisy(board: Library, signature: tuple[float | None, ...], draw: Random) -> dict[int, float | None]:
    readings, errors = board.commission.readings, Errors()
    return {n: None if signature[n] is None else signature[n] + draw.gauss(0.0, errors.of(readings[n]))  # type: ignore[operator]
            for n in asked_first(board.commission.circuit, readings)}


def test_sound_vehicles_are_called_as_designed(board: Library):
    called = [weigh(board, noisy(board, each, Random(f"sound {n}"))).is_as_designed
              for n, each in enumerate(sound_ones(board.commission, 25, seed=5))]
    assert called.count(False) <= 1


@pytest.mark.parametrize("fault", ["tube foot.2 -> relay.4: blocked", "relay: exhaust iced", "dry: leaks", "foot: stuck shut"])
def test_a_planted_fault_is_among_the_first_three(board: Library, fault: str):
    said = found(board, fault)
    assert not said.as_designed
    assert any(fault in (each.name, *each.also) for each in said.candidates[:3])


def test_a_leak_is_told_by_its_size_and_where_it_can_be(board: Library):
    said = found(board, "dry: leaks")
    assert said.candidates[0].sort == "leak" and said.candidates[0].name.startswith("leak like a hole of ")
    assert "dry: leaks" in said.candidates[0].also and "soapy water" in said.candidates[0].prove


def test_two_faults_at_once_are_tried_where_one_does_not_do(board: Library):
    """Each shows in other readings: no single entry has both."""
    one, other = as_if(board, "dry: leaks", 2), as_if(board, "gov: cut-out 10.2 psi (0.70 bar) lower than written", 2)
    base = as_if(board, "as designed", 2)
    both = {n: None if None in (one[n], other[n], base[n]) else one[n] + other[n] - base[n]  # type: ignore[operator]
            for n in one}
    said = diagnosis(board, both)
    assert not said.as_designed
    assert any("+" in each.also or " + " in each.name for each in said.candidates[:3])


def test_a_further_reading_is_one_that_was_not_taken_and_tells_more_than_nothing(board: Library):
    few = dict(list(as_if(board, "relay: exhaust iced", 1).items())[:4])
    said = diagnosis(board, few)
    taken = {(board.commission.readings[n].step, board.commission.readings[n].place) for n in few}
    assert said.further and all((each.step, each.place) not in taken and each.gain > 0.1 for each in said.further)


def test_the_form_comes_back_as_it_was_filled_in(board: Library):
    values = as_if(board, "dry: leaks", 4)
    text = as_csv(form(board, values=values, unit="bar"))
    back = measured(Source("r.csv", text), board.commission.readings)
    assert set(back.values) == set(values) and not back.unweighed
    for number, value in values.items():
        got = back.values[number]
        assert (got is None) == (value is None)
        assert got is None or value is None or got == pytest.approx(value, abs=600, rel=0.02)


@pytest.mark.parametrize("name", ["truck-towing", "semitrailer-tandem"])
def test_a_filled_in_test_record_is_read_too(name: str):
    """As the papers write it: the fitter puts what he reads beside what is expected, with its unit."""
    circuit = load(str(EXAMPLES / name / "design.air"))
    record = step_record(judge(circuit))
    place, expected = record.columns.index("measured"), record.columns.index("expected")
    rows = tuple((*row[:place], row[expected].partition(" (")[0], *row[place + 1:]) for row in record.rows)
    back = measured(Source("r.csv", as_csv(record._replace(rows=rows))), commission(circuit).readings)
    assert back.values and len(back.values) + back.unweighed == len(rows)


HEAD = "step,place,measured,unit\n"


@pytest.mark.parametrize("text, says, expected", [
    ("step,place\ncharge,dry\n", "this table has no column `measured`", "begin from the form"),
    (HEAD, "nothing is written under `measured`", "fill in what was read"),
    (HEAD + "charge,dri-gauge,8 bar,\n", "nothing is read at `dri-gauge` in step `charge`", "did you mean dry-gauge"),
    (HEAD + "chrge,dry-gauge,8 bar,\n", "nothing is read at `dry-gauge` in step `chrge`", "did you mean charge"),
    (HEAD + "fill-time,vehicle,121,\n", "fill-time at vehicle", "write 0.41 s"),
    (HEAD + "fill-time,vehicle,20 psi,\n", "fill-time at vehicle", "write 0.41 s"),
    (HEAD + "fill-time,vehicle,9 s,\nfill-time,vehicle,9 s,\n", "fill-time at vehicle is written twice", "keep one"),
])
def test_a_slip_in_the_form_is_told_at_its_place(board: Library, text: str, says: str, expected: str):
    with pytest.raises(Unreadable) as caught:
        measured(Source("r.csv", text), board.commission.readings)
    mistake = caught.value.mistakes[0]
    assert mistake.says.startswith(says) and mistake.expected.startswith(expected), (mistake.says, mistake.expected)


def test_what_is_no_fault_is_refused(board: Library):
    with pytest.raises(CannotAsk, match="no fault is called `dry: leek`: did you mean dry: leaks"):
        as_if(board, "dry: leek", 1)


def test_the_command_reads_its_own_form(board: Library, tmp_path: Path, capsys: pytest.CaptureFixture[str],
                                        monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("circuit.faults.library.library", lambda *_: board)
    assert cli.main(["diagnose", BOARD, "--form", "--as-if", "dry: leaks"]) == 0
    (tmp_path / "r.csv").write_text(capsys.readouterr().out, encoding="utf-8")
    assert cli.main(["diagnose", BOARD, str(tmp_path / "r.csv")]) == 1
    said = capsys.readouterr().out
    assert "not as designed: one thing explains the readings" in said and "A licensed person tests and signs." in said
    assert cli.main(["diagnose", BOARD, str(tmp_path / "r.csv"), "--format", "json"]) == 1
    jsonschema.validate(json.loads(capsys.readouterr().out), json.loads(schema("diagnose")))
    assert cli.main(["diagnose", BOARD]) == 2 and "--form" in capsys.readouterr().err
