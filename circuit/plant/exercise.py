"""An exercise: a spoilt design for the student and the answer for the teacher."""

import os
import re
from typing import NamedTuple

from circuit.model.circuit import Circuit
from circuit.pipeline import judged, load
from circuit.plant.answer import AnswerKey, answer_to
from circuit.plant.bed import Bed
from circuit.plant.operators import MOST_LEVEL, OPERATORS, level_of
from circuit.plant.planting import Operator, Planting, found_by, plantings
from circuit.plant.rows import edited, swapped
from circuit.syntax.statements import Text

MOST_TRIED = 40
"""Plantings that are tried until the rules find one; an answer that nothing confirms would be no good to a class."""


class Exercise(NamedTuple):
    """text: the spoilt design. answer: what is wrong with it. more: what else is, of two mistakes."""

    text: str
    answer: AnswerKey
    more: tuple[AnswerKey, ...] = ()


def exercise(path: str, seed: int, target: str, operators: tuple[Operator, ...] = OPERATORS) -> Exercise | None:
    """A design with one mistake that the rules find, or None where there is no place for one.

    target: where the spoilt design will stand; files that it brings in are named from there. Raises mistake.Unreadable.
    """
    found = _planted(load(path), seed, operators)
    if found is None:
        return None
    planting, answer = found
    return Exercise(moved(planting, target), answer._replace(design=os.path.basename(target or path)))


def exercise_of_two(path: str, seed: int, target: str, operators: tuple[Operator, ...] = OPERATORS) -> Exercise | None:
    """As `exercise`, with two mistakes of two classes in two places, each found beside the other."""
    good = load(path)
    first = _planted(good, seed, operators)
    if first is None:
        return None
    planting, answer = first
    others = tuple(each for each in operators if each.name != planting.operator.name)
    for chance in range(seed, seed + MOST_TRIED):
        second = _planted(planting.circuit, chance, others)
        if second is None:
            return None
        both, further = second
        verdict = judged(both.circuit)
        moved_by = {row: place for place, row in enumerate(both.source.rows, 1)}
        lines = tuple(moved_by[planting.source.row(line)] for line in answer.lines if planting.source.row(line) in moved_by)
        still = any(j.is_open and found_by(planting._replace(lines=lines, source=both.source), j) for j in verdict.judgements)
        if still and not set(further.things) & set(answer.things) and lines:
            name = os.path.basename(target or path)
            known = _without_second(answer, further)
            return Exercise(moved(both, target), known._replace(design=name, lines=lines, level=MOST_LEVEL), (
                further._replace(design=name, level=MOST_LEVEL, good=good.source.text, known=answer.known),))
    return None


def _without_second(answer: AnswerKey, further: AnswerKey) -> AnswerKey:
    """The first answer, with what comes with the second mistake among what follows."""
    return answer._replace(follows=(*answer.follows, *further.follows), names=further.names)


def _planted(good: Circuit, seed: int, operators: tuple[Operator, ...]) -> tuple[Planting, AnswerKey] | None:
    """The first planting that the rules find and that no odd word gives away, with its answer."""
    bed, before = Bed(good), judged(good)
    chosen = len(operators) == 1  # a teacher who asks for a class gets it, odd word or not
    sound = (planting for planting in plantings(bed, operators, seed) if chosen or not odd_words(planting, good))
    for _, planting in zip(range(MOST_TRIED), sound):
        after = judged(planting.circuit)
        if any(j.is_open and found_by(planting, j) for j in after.judgements):
            return planting, answer_to(planting, seed, before, after, level_of(planting.operator))
    return None


def odd_words(planting: Planting, good: Circuit) -> set[str]:
    """Setting words of changed rows that no row of their kind had before: a mistake that has one is found without any air."""
    known: dict[str, set[str]] = {}
    for row in good.source.rows:
        known.setdefault(row.split(" ", 1)[0], set()).update(_settings(row))
    own = set(good.source.rows)
    return {word for row in planting.source.rows if row not in own
            for word in _settings(row) - known.get(row.split(" ", 1)[0], _settings(row))}


def _settings(row: str) -> set[str]:
    """The words of a row that begin a setting, and those that a setting is set to."""
    tail = row.split("#")[0].partition(": ")[2]
    return {word for part in tail.split(", ") for word in re.findall(r"(?<![\w.-])[a-z][a-z-]+(?![\w.])", part)[:2]} - NAMES


NAMES = frozenset({"on", "in", "bar", "psi", "cfm", "mm"})
"""Words before a name, and units."""


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


