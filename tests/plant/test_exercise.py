"""`airwright exercise`: what it writes, what it keeps to itself, and how it grades."""

import json
import os
import shutil
from pathlib import Path

import pytest

from circuit.cli import main
from circuit.plant.answer import AnswerKey, NoAnswer, opened, sealed
from circuit.plant.exercise import exercise
from circuit.plant.grade import grade, told
from circuit.plant.operators import OPERATORS, named
from tests.designs import EXAMPLES, example_text

TRUCK = str(EXAMPLES / "truck-6x4" / "design.air")


def answer_of(name: str, seed: int = 1) -> AnswerKey:
    """The answer to an exercise of one class on the truck."""
    operator = named(name)
    assert operator is not None
    found = exercise(TRUCK, seed, "", (operator,))
    assert found is not None
    return found.answer


def test_it_writes_a_spoilt_design_that_check_catches_and_an_answer(tmp_path, capsys):
    shutil.copy(TRUCK, tmp_path / "good.air")
    spoilt, answer = str(tmp_path / "spoilt.air"), str(tmp_path / "answer.json")
    for seed in ("1", "2", "3"):
        targets = ["-o", spoilt, "--answer", answer, "--force"]
        assert main(["exercise", str(tmp_path / "good.air"), "--seed", seed, *targets]) == 0
        assert main(["check", spoilt]) == 1
        assert main(["check", str(tmp_path / "good.air")]) == 0
    capsys.readouterr()
    assert main(["exercise", str(tmp_path / "good.air"), "--seed", "3"]) == 0
    assert capsys.readouterr().out == Path(spoilt).read_text(encoding="utf-8")


def test_nothing_is_written_over_a_file_without_force(tmp_path, capsys):
    there = tmp_path / "spoilt.air"
    there.write_text("mine\n", encoding="utf-8")
    assert main(["exercise", TRUCK, "-o", str(there), "--answer", str(tmp_path / "a.json")]) == 2
    assert there.read_text(encoding="utf-8") == "mine\n" and not (tmp_path / "a.json").exists()
    assert "--force" in capsys.readouterr().err


def test_a_design_written_elsewhere_still_finds_its_files(tmp_path, capsys):
    """A design reads files of its own folders; of those beside them where an airwright.toml stands above both."""
    for name in ("combination-train", "truck-towing", "converter-dolly", "semitrailer-single"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "design.air").write_text(example_text(name), encoding="utf-8")
    train = str(tmp_path / "combination-train" / "design.air")
    spoilt = str(tmp_path / "far" / "train.air")
    (tmp_path / "far").mkdir()
    (tmp_path / "airwright.toml").write_text("", encoding="utf-8")
    assert main(["exercise", train, "--seed", "4", "-o", spoilt]) == 0
    assert main(["check", spoilt]) == 1
    outside = str(tmp_path / "far" / "away" / "train.air")
    (tmp_path / "far" / "away").mkdir()
    (tmp_path / "far" / "away" / "airwright.toml").write_text("", encoding="utf-8")
    capsys.readouterr()
    assert main(["exercise", train, "--seed", "4", "-o", outside]) == 2
    assert "nothing was written" in capsys.readouterr().err and not os.path.exists(outside)


@pytest.mark.parametrize("seed", range(6))
def test_the_sealed_answer_does_not_show_what_it_holds_and_opens_again(seed: int):
    found = exercise(TRUCK, seed, "", OPERATORS)
    assert found is not None
    text = sealed(found.answer)
    outside = {key: value for key, value in json.loads(text).items() if key != "sealed"}
    shown = json.dumps(outside)
    assert found.answer.says not in shown and found.answer.mistake not in shown
    assert all(rule not in text or rule == "part-backwards" for rule in found.answer.rules)  # the form's example
    assert opened(text) == found.answer
    assert "no secret" in outside["about"] and "one finding a line" in outside["findings"]


def test_an_answer_that_was_changed_is_refused():
    head = json.loads(sealed(answer_of("drain-missing")))
    head["sealed"][0] = head["sealed"][0][::-1]
    with pytest.raises(NoAnswer, match="changed"):
        opened(json.dumps(head))
    for wrong in ("", "{}", "[]", '{"sealed": 3, "format": 1}', '{"sealed": [], "format": 9, "checksum": ""}'):
        with pytest.raises(NoAnswer):
            opened(wrong)


def test_a_row_or_a_name_with_a_word_or_a_rule_is_right():
    answer = answer_of("part-reversed")
    thing, line = answer.things[0], answer.lines[0]
    for right in (f"{line} part-backwards", f"{thing}: fitted backwards", f"line {line}: wrong way round",
                  f"design.air:{line} is turned round", f"{thing}.1 and {thing}.2 are swapped"):
        graded = grade(answer, right)
        assert graded.found, right
        assert graded.remarks[0].says.startswith("right")


@pytest.mark.parametrize("line, says", [
    ("{line} has no drain", "but this is not what is wrong there"),
    ("{line} no-pressure-gauge", "but this is not what is wrong there"),
    ("rear-relay is backwards", "right kind of mistake, but not there"),
    ("something is backwards", "say where"),
    ("front-release has no drain", "not planted"),
    ("it looks odd", "nothing can be said"),
])
def test_what_is_not_right_is_told_apart(line: str, says: str):
    answer = answer_of("part-reversed")
    assert not {"rear-relay", "front-release"} & set(answer.things)
    graded = grade(answer, line.format(line=answer.lines[0]))
    assert not graded.found and says in graded.remarks[0].says


def test_a_rule_that_is_named_counts_more_than_a_word():
    answer = answer_of("drain-missing")
    assert grade(answer, f"{answer.things[0]} reservoir-without-drain").found
    assert not grade(answer, f"{answer.things[0]} drain").found, "a word is no claim"
    assert not grade(answer, f"{answer.things[0]} drain-not-lowest").found


def test_a_finding_that_was_there_before_is_called_true():
    board = exercise(str(EXAMPLES / "teaching-board" / "design.air"), 1, "", (named("drain-missing"),))  # type: ignore[arg-type]
    assert board is not None
    graded = grade(board.answer, "dry circuits-not-separate\n")
    assert not graded.found and "in the design before" in graded.remarks[0].says


def test_the_grade_tells_what_was_missed_and_the_lesson(tmp_path, capsys):
    answer = answer_of("gauge-missing")
    (tmp_path / "a.json").write_text(sealed(answer), encoding="utf-8")
    (tmp_path / "f.txt").write_text("# mine\n\nfoot is backwards   # I think\n", encoding="utf-8")
    assert main(["exercise", "--grade", str(tmp_path / "a.json"), str(tmp_path / "f.txt")]) == 1
    out = capsys.readouterr().out
    assert "Missed." in out and answer.says in out and "The driver cannot see" in out
    assert "airwright explain no-pressure-gauge" in out and f"no longer there: {answer.gone[0]}" in out
    (tmp_path / "f.txt").write_text(f"{answer.things[0]} has no gauge\n", encoding="utf-8")
    assert main(["exercise", "--grade", str(tmp_path / "a.json"), str(tmp_path / "f.txt")]) == 0
    assert "Found: 10 of 10 marks." in capsys.readouterr().out


def test_an_empty_list_is_graded_too():
    assert "no findings" in told(grade(answer_of("gauge-missing"), "\n# nothing\n"))


def test_what_cannot_be_planted_is_said(capsys):
    old = str(EXAMPLES / "semitrailer-old" / "design.air")
    assert main(["exercise", old, "--mistake", "gauge-missing"]) == 2
    assert "no place for such a mistake" in capsys.readouterr().err
    assert main(["exercise", old, "--mistake", "gauge-mising"]) == 2
    assert "gauge-missing" in capsys.readouterr().err
    assert main(["exercise", "--grade", TRUCK, TRUCK]) == 2
    assert "no answer" in capsys.readouterr().err
