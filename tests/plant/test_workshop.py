"""Fault finding from symptoms: the complaint follows from the readings, each question has its price, guessing is no diagnosis."""

from pathlib import Path

import pytest

from circuit.cli import main
from circuit.plant.interview import DIAGNOSIS, Marked
from circuit.plant.workshop import BUDGET, LOOK, OPEN, SCREW, SWAP, WATCH, price, worded
from circuit.studies.commission import Reading
from circuit.units import to_si

ROOT = Path(__file__).resolve().parents[2]
TRUCK = str(ROOT / "examples" / "course" / "8.air")


def reading(how: str, dimension: str = "pressure", is_given: bool = True) -> Reading:
    return Reading("apply", "here", dimension, how, 1, is_given=is_given)


def test_what_is_nearer_costs_less():
    for how, cost in (("pressure gauge", LOOK), ("test connection", SCREW), ("a test gauge at the port", OPEN)):
        assert price(reading(how)) == cost
    assert price(reading("a gauge at the chamber and a stopwatch", "time", False)) == OPEN
    assert price(reading("85 to 100 psi, a stopwatch on its gauge", "time")) == WATCH
    assert price(reading("on the nearest gauge")) == price(reading("how often", "count")) == LOOK
    assert LOOK < WATCH < SCREW < OPEN < SWAP < BUDGET < 3 * SWAP


def test_a_reading_is_worded_as_it_is_read():
    assert worded(reading("pressure gauge"), to_si("62 psi", "pressure")) == "62 psi"
    assert worded(reading("x", "time"), 0.264) == "0.26 s" and worded(reading("x", "count"), 3.0) == "3"
    assert worded(reading("x", "time"), None) == "never"


def test_marks_need_the_diagnosis():
    assert Marked("x", False, 5, 1.0).marks == 0
    assert Marked("x", True, 5, 1.0).marks == 10 and Marked("x", True, BUDGET + 1, 0.0).marks == DIAGNOSIS


@pytest.mark.parametrize("words", [["--ask", "q.txt"], ["--symptoms", "-o", "x.air"], ["--symptoms", "--ask", "none.txt"],
                                   ["--symptoms", "--level", "2"]])
def test_what_does_not_go_together_is_said(words: list[str], capsys: pytest.CaptureFixture[str]):
    assert main(["exercise", TRUCK, *words]) == 2
    assert "airwright: " in capsys.readouterr().err


@pytest.fixture(scope="module")
def known():
    from circuit.faults.library import library
    from circuit.pipeline import load

    return library(load(TRUCK))


@pytest.mark.slow
def test_a_mechanic_finds_and_a_guesser_does_not(known):
    from circuit.plant.workshop import case, guesser, mechanic, solved

    cases = [case(known, seed) for seed in range(20)]
    assert len({one.hidden.name for one in cases}) >= 12
    assert sum(solved(one, mechanic(one)) for one in cases) >= 18
    assert sum(solved(one, guesser(one, seed)) for seed, one in enumerate(cases)) == 0
    assert all(mechanic(one).cost <= BUDGET for one in cases)


@pytest.mark.slow
def test_a_search_is_priced_marked_and_gives_nothing_away(known):
    from circuit.plant.interview import Interview, closing, opening
    from circuit.plant.workshop import case

    one = case(known, 0)
    told = opening(one)
    assert one.complaint[0] in told and one.hidden.name not in told
    search = Interview(one)
    said = list(search.answers(["# mine", "apply pri-gauge", "apply pri-gauge", "aply sec-gauge", "listen nobody", "listen relay",
                                "apply rear-left service side", f"it is {one.hidden.name.upper()}", "apply sec-gauge"]))
    assert len(said) == 7 and search.spent == LOOK + 1 + OPEN, "asked twice is paid once; nothing is answered after the end"
    assert "did you mean apply sec-gauge" in said[2] and said[3].startswith("? no part")
    assert search.marked.right and search.marked.marks >= 8
    end = closing(one, search.marked, search.spent)
    assert one.hidden.name in end and "A good mechanic" in end
    lucky = Interview(one)
    assert list(lucky.answers([f"it is {one.hidden.name}"])) and not lucky.marked.right, "a guess without a reading is none"
    assert one.hidden.members and "hidden fault" not in closing(one, lucky.marked, lucky.spent)
    wrong = Interview(one)
    list(wrong.answers(["apply pri-gauge", "it is pump: dead"]))
    assert not wrong.marked.right and wrong.marked.marks == 0


@pytest.mark.slow
def test_the_command_asks_from_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    (tmp_path / "q.txt").write_text("apply pri-gauge\napply rear-left service side\nit is pump: dead\n", encoding="utf-8")
    assert main(["exercise", TRUCK, "--symptoms", "--seed", "0", "--ask", str(tmp_path / "q.txt")]) == 1
    told = capsys.readouterr().out
    assert "The driver says: " in told and "Marks: 0 of 10" in told and "(spent 9)" in told
