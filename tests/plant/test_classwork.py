"""A class of exercises made, handed in and marked by script; what is sealed gives nothing away."""

import csv
import io
from pathlib import Path

import pytest

from circuit.cli import main
from circuit.plant.answer import AnswerKey, opened_all
from circuit.sealing import SEAL, unsealed

ROOT = Path(__file__).resolve().parents[2]
BOARD, TRUCK = (str(ROOT / "examples" / name / "design.air") for name in ("teaching-board", "truck-6x4"))


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"))))


def key(folder: Path, name: str) -> AnswerKey:
    return opened_all((folder / f"{name}.answer.json").read_text(encoding="utf-8"))[0]


def hand_in(folder: Path, names: list[str]) -> None:
    """The first finds it, the second finds it behind a wrong claim, the third guesses, the fourth mends, the fifth is wrong, the
    others hand in nothing."""
    for place, name in enumerate(names[:5]):
        answer = key(folder, name)
        right, wrong = f"{answer.lines[0]} {answer.rules[0]}", f"{answer.things[0]} leaks"
        text = ("\n".join([right]), "\n".join([wrong, right]), "\n".join([*[f"{wrong} {n}" for n in range(9)], right]), "",
                wrong)[place]
        if place == 3:
            (folder / f"{name}-mended.air").write_text(answer.good, encoding="utf-8")
        else:
            (folder / f"{name}.txt").write_text(text, encoding="utf-8")


def made_and_marked(folder: Path, many: int, *designs: str) -> list[dict[str, str]]:
    assert main(["classwork", *designs, "--students", str(many), "--seed", "3", "-o", str(folder)]) == 0
    names = [row["student"] for row in rows(folder / "questions.csv")]
    assert len(names) == many == len(rows(folder / "answers.csv"))
    hand_in(folder, names)
    assert main(["classwork", "--mark", str(folder)]) == 0
    return rows(folder / "marks.csv")


@pytest.mark.slow
def test_a_class_is_made_and_marked(tmp_path: Path):
    marks = made_and_marked(tmp_path / "class", 6, BOARD)
    assert [row["marks"] for row in marks] == ["10", "8", "0", "10", "0", "0"]
    assert [row["handed in"] for row in marks] == ["list", "list", "list", "mended design", "list", "nothing"]


def test_a_class_of_one_and_what_its_seal_keeps(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    folder = tmp_path / "class"
    assert [row["marks"] for row in made_and_marked(folder, 1, BOARD)] == ["10"]
    for name in ("questions.pdf", "answers.pdf", "marks.pdf"):
        assert (folder / name).read_bytes().startswith(b"%PDF")
    capsys.readouterr()
    spoilt = folder / "student-01.air"
    assert main(["check", str(spoilt)]) == 2
    told = capsys.readouterr()
    answer = key(folder, "student-01")
    assert "sealed exercise" in told.err and all(rule not in told.out + told.err for rule in answer.rules)
    assert spoilt.read_text(encoding="utf-8").startswith(SEAL)
    (tmp_path / "open.air").write_text(unsealed(spoilt.read_text(encoding="utf-8")), encoding="utf-8")
    assert main(["check", str(tmp_path / "open.air")]) == 1
    assert answer.rules[0] in capsys.readouterr().out
    sealed = spoilt.read_text(encoding="utf-8").split("\n")
    assert all(0 < line <= len(sealed) for line in answer.lines), "rows are counted with the seal"
    assert main(["classwork", BOARD, "--students", "2", "-o", str(folder)]) == 2
    assert main(["classwork", "--mark", str(folder)]) == 2 and "--force" in capsys.readouterr().err


@pytest.mark.parametrize("words", [[], [BOARD], [BOARD, "--students", "0", "-o", "x"],
                                   [BOARD, "--students", "none.txt", "-o", "x"], ["--mark", "nowhere"]])
def test_what_cannot_be_made_is_said(words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["classwork", *words]) == 2
    assert "airwright: " in capsys.readouterr().err and not list(tmp_path.iterdir())


@pytest.mark.slow
def test_a_class_of_twelve(tmp_path: Path):
    marks = made_and_marked(tmp_path / "class", 12, BOARD, TRUCK)
    assert len(marks) == 12 and sum(int(row["marks"]) for row in marks) == 28
