"""Exercises for a class from one seed list: a spoilt design for each, question and answer sheets, and a table of marks."""

import os
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from circuit.pipeline import load_source
from circuit.plant.answer import AnswerKey, opened_all, sealed
from circuit.plant.exercise import Exercise, exercise, exercise_of_two
from circuit.plant.grade import FULL, grade_all
from circuit.plant.mended import judged_mend
from circuit.plant.operators import MOST_LEVEL, of_level
from circuit.report.course.lesson_paper import printed
from circuit.report.table import Table, as_csv
from circuit.report.words import count, sentence
from circuit.sealing import SEAL, unsealed
from circuit.source import Source

ANSWER, LIST, MENDED = ".answer.json", ".txt", "-mended.air"
"""How the files of a student end: the sealed answer, the list handed in, or the mended design."""
SEEDS = 200
"""So many seeds are tried for one student, until a mistake fits the level and is unlike the neighbour's."""


class Set(NamedTuple):
    """A student's exercise. name: the student's. seed: that plants it again."""

    name: str
    seed: int
    path: str
    found: Exercise

    @property
    def answers(self) -> tuple[AnswerKey, ...]:
        return (self.found.answer, *self.found.more)


class Result(NamedTuple):
    """What a student handed in was worth. handed: list, mended design or nothing."""

    name: str
    answers: tuple[AnswerKey, ...]
    handed: str
    found: int
    wrong: int
    marks: int


def sets(names: Sequence[str], paths: Sequence[str], seed: int, level: int, folder: str) -> list[Set]:
    """An exercise for each name, the designs in turn, neighbours with other mistakes. Raises LookupError where there are too few
    places for a mistake, mistake.Unreadable where a design's files would not be found from the folder."""
    made: list[Set] = []
    at = seed
    for place, name in enumerate(names):
        path = paths[place % len(paths)]
        for at in range(at, at + SEEDS):
            plant = exercise_of_two if level == MOST_LEVEL else exercise
            found = plant(path, at, os.path.join(folder, f"{name}.air"), of_level(level))
            if found is not None and found.answer.says not in {each.found.answer.says for each in made[-3:]}:
                break
        else:
            raise LookupError(f"{path} has no place for another mistake of level {level}")
        load_source(Source(os.path.join(folder, f"{name}.air"), found.text))
        made.append(Set(name, at, path, found))
        at += 1
    return made


def files(made: Sequence[Set], level: int) -> dict[str, bytes]:
    """Everything for a class by name: spoilt designs and sealed answers of each, questions and answers as PDF and CSV."""
    out: dict[str, bytes] = {}
    for each in made:
        out[f"{each.name}.air"] = (SEAL + "\n" + each.found.text).encode()
        out[f"{each.name}{ANSWER}"] = sealed(*(_lower(answer) for answer in each.answers)).encode()
    out["questions.pdf"] = printed("\n\n".join(_question(each, level) for each in made))
    out["answers.pdf"] = printed("\n\n".join(_answer(each) for each in made))
    out["questions.csv"] = as_csv(_table("questions", ("student", "design", "seed", "level", "mistakes"), (
        (each.name, _design(each), str(each.seed), str(level), str(len(each.answers))) for each in made))).encode()
    out["answers.csv"] = as_csv(_table("answers", ("student", "class", "rows", "what is wrong", "rule"), (
        (each.name, answer.mistake, " ".join(str(line + 1) for line in answer.lines), answer.says, answer.rules[0])
        for each in made for answer in each.answers))).encode()
    return out


def _design(each: Set) -> str:
    """The design as its folder is called."""
    return os.path.basename(os.path.dirname(os.path.abspath(each.path)))


def _lower(answer: AnswerKey) -> AnswerKey:
    """The answer with its rows where they stand below the seal."""
    return answer._replace(lines=tuple(line + 1 for line in answer.lines),
                           known=tuple((rule, thing, line + 1) for rule, thing, line in answer.known),
                           follows=tuple((rule, thing, line + 1) for rule, thing, line in answer.follows))


def _table(key: str, columns: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Table:
    return Table(key, sentence(key), columns, tuple(rows))


_TAKES = {1: "a rule seen at sight", 2: "a path followed", 3: "a pressure compared", 4: "volumes and times", 5: "two mistakes"}


def _question(each: Set, level: int) -> str:
    blanks = "\n".join(f"{number}. row or name: ____________   what is wrong: ________________________________________"
                       for number in range(1, 5))
    return f"""# Exercise for {each.name}

The file `{each.name}.air` is a good design with {count(len(each.answers), "mistake")} in it. Level {level}: {_TAKES[level]}.

- Draw it: `airwright draw {each.name}.air -o {each.name}.svg`. Follow the air from the compressor to each wheel.
- Write into `{each.name}{LIST}` one finding a line: a row or a name, and what is wrong there, in your own words.
- Or mend it, and hand in `{each.name}{MENDED}`.
- Each wrong claim costs two marks of ten. More than three are guessing and find nothing.
- `airwright check` does not judge this file: it is sealed.

## Your findings

{blanks}

Everything is predicted from a file; it is a drawing, and no vehicle is touched.
"""


def _answer(each: Set) -> str:
    lines = [f"# Answer to {each.name}", "", f"Seed {each.seed}, design {_design(each)}.", ""]
    for answer in each.answers:
        lines += [f"- {sentence(answer.says)} ({answer.title}.) Rows {', '.join(str(line + 1) for line in answer.lines)}; "
                  f"`airwright explain {answer.rules[0]}`."]
        lines += [f"- Stands no longer there: `{row}`" for row in answer.gone]
    return "\n".join(lines) + "\n"


# --- marking ------------------------------------------------------------------------------------------------------------


def marked(folder: str) -> list[Result]:
    """What each student of a folder handed in. Raises answer.NoAnswer, OSError."""
    names = sorted(name.removesuffix(ANSWER) for name in os.listdir(folder) if name.endswith(ANSWER))
    return [_result(folder, name) for name in names]


def _result(folder: str, name: str) -> Result:
    def text(ending: str) -> str:
        with open(os.path.join(folder, name + ending), encoding="utf-8") as file:
            return file.read()

    answers = opened_all(text(ANSWER))
    if os.path.exists(os.path.join(folder, name + MENDED)):
        return _of_mended(name, answers, Source(os.path.join(folder, name + MENDED), unsealed(text(MENDED))))
    if os.path.exists(os.path.join(folder, name + LIST)):
        grades = grade_all(answers, text(LIST))
        right = sum(each.found for each in grades)
        wrong = min(each.wrong for each in grades)
        return Result(name, answers, "list", right, wrong, round(sum(each.marks for each in grades) / len(grades)))
    return Result(name, answers, "nothing", 0, 0, 0)


def _of_mended(name: str, answers: tuple[AnswerKey, ...], source: Source) -> Result:
    from circuit.mistake import Unreadable

    try:
        circuit = load_source(source)
    except Unreadable:
        return Result(name, answers, "a design that cannot be read", 0, 0, 0)
    right = sum(judged_mend(each, circuit).found for each in answers)
    return Result(name, answers, "mended design", right, 0, round(FULL * right / len(answers)))


def marks(results: Iterable[Result]) -> Table:
    """The table of marks."""
    return _table("marks", ("student", "handed in", "mistakes", "found", "wrong claims", "marks", "of", "class"), (
        (each.name, each.handed, str(len(each.answers)), str(each.found), str(each.wrong), str(each.marks), str(FULL),
         " and ".join(answer.mistake for answer in each.answers)) for each in results))
