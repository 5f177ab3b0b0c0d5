"""An exercise: a spoilt design for the student and the answer for the teacher."""

import os
from typing import NamedTuple

from circuit.pipeline import judged, load
from circuit.plant.answer import AnswerKey, answer_to
from circuit.plant.bed import Bed
from circuit.plant.operators import OPERATORS
from circuit.plant.planting import Operator, Planting, found_by, plantings
from circuit.plant.rows import edited, swapped
from circuit.syntax.statements import Text

MOST_TRIED = 40
"""Plantings that are tried until the rules find one; an answer that nothing confirms would be no good to a class."""


class Exercise(NamedTuple):
    """text: the spoilt design. answer: what is wrong with it."""

    text: str
    answer: AnswerKey


def exercise(path: str, seed: int, target: str, operators: tuple[Operator, ...] = OPERATORS) -> Exercise | None:
    """A design with one mistake that the rules find, or None where there is no place for one.

    target: where the spoilt design will stand; files that it brings in are named from there. Raises mistake.Unreadable.
    """
    bed = Bed(load(path))
    before = judged(bed.circuit)
    for _, planting in zip(range(MOST_TRIED), plantings(bed, operators, seed)):
        after = judged(planting.circuit)
        if any(j.is_open and found_by(planting, j) for j in after.judgements):
            answer = answer_to(planting, seed, before, after)
            return Exercise(moved(planting, target), answer._replace(design=os.path.basename(target or path)))
    return None


def moved(planting: Planting, target: str) -> str:
    """The spoilt text with the files that it brings in named from the folder of `target`."""
    source = planting.source
    here, there = (os.path.dirname(os.path.abspath(path)) for path in (source.name, target or source.name))
    if here == there:
        return source.text
    edits = []
    for text in _files(Bed(planting.circuit)):
        path = os.path.join(here, text.text)
        if os.path.exists(path):
            edits.append(swapped(text.span, f'"{os.path.relpath(path, there)}"'))
    return edited(source, edits).text


def _files(bed: Bed) -> list[Text]:
    """The names of the files that a design brings in."""
    found = [statement.text for statement in bed.of_kind("use") if statement.text is not None]
    for statement in bed.of_kind("vehicle"):
        for word in ("file", "base"):
            setting = statement.setting(word)
            found += [value for value in (setting.values if setting else ()) if isinstance(value, Text)]
    return found


