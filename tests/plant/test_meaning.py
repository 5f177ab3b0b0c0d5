"""A hundred right answers in the words of the trade and a hundred wrong ones; guessing; what each class may be called."""

import tomllib
from functools import cache
from pathlib import Path

import pytest

from circuit.plant.answer import AnswerKey, opened, sealed
from circuit.plant.exercise import exercise
from circuit.plant.grade import FREE, FULL, LOST, grade, told
from circuit.plant.meaning import SORTS, meant
from circuit.plant.operators import OPERATORS, named

HERE = Path(__file__).resolve().parent
CASES = tomllib.loads((HERE / "answers.toml").read_text(encoding="utf-8"))["case"]
IDS = [f"{case['design']}-{case['mistake']}" for case in CASES]


@cache
def key(design: str, mistake: str) -> AnswerKey:
    found = exercise(str(HERE.parents[1] / "examples" / design / "design.air"), 1, "", (named(mistake),))
    assert found is not None
    return opened(sealed(found.answer))


FEW = 6
"""Cases that the default tests grade; the slow one has all."""


def counted(which: str, cases: int = len(CASES)) -> list[tuple[str, str]]:
    return [(name, line) for case, name in zip(CASES[:cases], IDS) for line in case[which]
            if grade(key(case["design"], case["mistake"]), line).found]


def test_there_are_a_hundred_of_each():
    assert sum(len(case["right"]) for case in CASES) == sum(len(case["wrong"]) for case in CASES) == 100


def test_right_ones_of_a_few_are_accepted_and_wrong_ones_are_not():
    assert len(counted("right", FEW)) >= 5 * FEW - 1 and len(counted("wrong", FEW)) <= 1


@pytest.mark.slow
def test_right_ones_are_accepted():
    accepted = counted("right")
    missed = [(name, line) for case, name in zip(CASES, IDS) for line in case["right"] if (name, line) not in accepted]
    assert len(accepted) >= 95, missed


@pytest.mark.slow
def test_wrong_ones_are_not():
    assert len(counted("wrong")) <= 2, counted("wrong")


def guesses() -> str:
    """A list of two thousand: every row with every word."""
    words = ("backwards", "missing", "too high", "too low", "too small", "leaks", "wrong reservoir", "blocked", "swapped",
             "too late", "not equal", "joined", "plastic", "too long")
    return "\n".join(f"{row} {word}" for row in range(1, 151) for word in words)


def test_two_thousand_guesses_find_nothing():
    for case in CASES[:3]:
        graded = grade(key(case["design"], case["mistake"]), guesses())
        assert len(graded.remarks) == 2100 and any(remark.found for remark in graded.remarks)
        assert not graded.found and graded.marks == 0
        said = told(graded)
        assert "Guessed: " in said and graded.answer.says not in said and len(said.splitlines()) < 20


def test_each_wrong_claim_costs():
    case = CASES[1]
    answer, right = key(case["design"], case["mistake"]), case["right"][0]
    for many in range(FREE + 2):
        graded = grade(answer, "\n".join([right, *case["wrong"][:many]]))
        assert (graded.found, graded.marks) == ((True, FULL - LOST * many) if many <= FREE else (False, 0))


def test_every_class_means_something_and_every_sort_can_be_said():
    from circuit.plant.meaning import PHRASES

    assert set(SORTS) == {operator.name for operator in OPERATORS}
    said = {sort for _, sorts in PHRASES for sort in sorts.split()}
    assert {sort for sorts in SORTS.values() for sort in sorts} - {"figure"} <= said


def test_what_is_denied_is_no_claim():
    assert meant("pri-check is not missing") == [frozenset({"denied"})]
    assert not grade(key("teaching-board", "drain-missing"), "the drain of wet is not missing").found


def test_a_mended_design_is_judged_and_a_thinned_one_is_not(tmp_path, capsys):
    from circuit.cli import main

    good = HERE.parents[1] / "examples" / "teaching-board" / "design.air"
    spoilt, answer = tmp_path / "spoilt.air", tmp_path / "a.json"
    assert main(["exercise", str(good), "--mistake", "governor-gap", "-o", str(spoilt), "--answer", str(answer)]) == 0
    capsys.readouterr()
    assert main(["exercise", "--grade", str(answer), str(spoilt)]) == 1
    told_of = capsys.readouterr().out
    assert "Not mended" in told_of and "governor-gap-unusual" in told_of
    other = spoilt.read_text(encoding="utf-8").replace("cut-in 8.5 bar", "cut-in 7.3 bar")
    (tmp_path / "mended.air").write_text(other, encoding="utf-8")
    assert main(["exercise", "--grade", str(answer), str(tmp_path / "mended.air")]) == 0
    assert "Mended" in capsys.readouterr().out
    (tmp_path / "lowered.air").write_text(other.replace("rules us-federal\n", ""), encoding="utf-8")
    assert main(["exercise", "--grade", str(answer), str(tmp_path / "lowered.air")]) == 1
    assert "not-asked-any-more" in capsys.readouterr().out
    (tmp_path / "more.air").write_text(other.replace("drain dry-drain: on dry, placed lowest\n", ""), encoding="utf-8")
    assert main(["exercise", "--grade", str(answer), str(tmp_path / "more.air")]) == 1


@pytest.mark.slow
def test_two_mistakes_are_two_answers(tmp_path, capsys):
    from circuit.cli import main
    from circuit.plant.answer import opened_all

    good, answer = HERE.parents[1] / "examples" / "truck-6x4" / "design.air", tmp_path / "a.json"
    assert main(["exercise", str(good), "--level", "5", "-o", str(tmp_path / "s.air"), "--answer", str(answer)]) == 0
    keys = opened_all(answer.read_text(encoding="utf-8"))
    assert len(keys) == 2 and keys[0].mistake != keys[1].mistake and {each.level for each in keys} == {5}
    lines = [f"{each.lines[0]} {each.rules[0]}" for each in keys]
    (tmp_path / "one.txt").write_text(lines[0], encoding="utf-8")
    (tmp_path / "two.txt").write_text("\n".join(lines), encoding="utf-8")
    assert main(["exercise", "--grade", str(answer), str(tmp_path / "one.txt")]) == 1
    assert main(["exercise", "--grade", str(answer), str(tmp_path / "two.txt")]) == 0
    assert capsys.readouterr().out.count("Found: 10 of 10 marks.") == 3
