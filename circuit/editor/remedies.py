"""What an editor can offer to do about a problem: the mend of a finding that is one edit, what to write instead, a waiver."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from circuit.console.fixing import edits_of
from circuit.editor.desk import Desk
from circuit.editor.spots import Edit, Range, range_of, rows_range, units
from circuit.editor.problems import MISTAKE, Problem
from circuit.judging.rule import Judgement
from circuit.mistake import Mistake
from circuit.plant.rows import edited
from circuit.source import Source
from circuit.verdict.judge import Verdict

_WRITE = re.compile(r"^write `([^`]+)`$|^did you mean ([\w.-]+)\?$|^kinds are written small: ([\w-]+)$|^(remove it)$")
_LIST = re.compile(r"^did you mean (.+)\?$")


class Action(NamedTuple):
    """Something to do. title: an order. edits: what it changes. problem: what it mends. sure: it is the one to take."""

    title: str
    edits: tuple[Edit, ...]
    problem: Problem | None = None
    sure: bool = False


def actions(desk: Desk, path: str, first: int, last: int) -> list[Action]:
    """What can be done about the problems in some rows, from 0."""
    found: list[Action] = []
    known = desk.known(path)
    for one in known.mistakes:
        if _within(one.at.outermost.line, first, last) and one.at.via is None and one.at.source.name == desk.source(path).name:
            found += _of_mistake(path, one)
    verdict = desk.verdict(path)
    if verdict is None:
        return found
    for judgement in verdict.findings:
        at = judgement.answer.at.outermost
        if judgement.is_open and at.source.name == desk.source(path).name and _within(at.line, first, last):
            if not known.mistakes:
                found += _of_finding(desk, path, judgement, verdict)
            found.append(_waived(desk, path, judgement))
    return found


def _within(line: int, first: int, last: int) -> bool:
    return first <= line - 1 <= last


def _of_mistake(path: str, one: Mistake) -> Iterator[Action]:
    """What the message says to write, where that is a whole word or row for the place that is marked."""
    problem = Problem(path, range_of(one.at), "error", MISTAKE, one.says)
    meant = _LIST.match(one.expected)
    if meant:
        words = [word.strip() for word in re.split(r" or |, ", meant.group(1))]
        row = one.at.source.row(one.at.line)
        old = row[one.at.column - 1: one.at.column - 1 + one.at.length]
        asked = re.search(r"`([^`]+)`", one.says)
        for word in words:
            new = old.replace(asked.group(1), word, 1) if asked and asked.group(1) in old else word
            yield Action(f"write {word}", (Edit(path, range_of(one.at), new),), problem, len(words) == 1)
        return
    found = _WRITE.match(one.expected)
    if found is None:
        comma = {"put a comma in front of it": (0, ", "), "end this row with a comma": (1, ",")}.get(one.expected)
        if comma:
            at = range_of(one.at)
            here = at.start if comma[0] == 0 else (at.start[0], units(one.at.source.row(one.at.line).rstrip()))
            yield Action(one.expected, (Edit(path, Range(here, here), comma[1]),), problem, True)
        return
    new = next((each for each in found.groups()[:3] if each), "")
    if not re.search(r"\b(NAME|KIND|FROM|TO|THING|RULE)\b|\.\.\.", new):
        title = "remove it" if found.group(4) else f"write {new}"
        yield Action(title, (Edit(path, range_of(one.at), new),), problem, True)


def _of_finding(desk: Desk, path: str, judgement: Judgement, verdict: Verdict) -> Iterator[Action]:
    """The mend, where it is one edit of the text."""
    source = desk.source(path)
    edits = edits_of(judgement, verdict)
    if edits:
        title = f"{judgement.answer.remedy}"
        yield Action(title, tuple(changed(path, source, edited(source, edits).text)), _problem(path, judgement), True)


def _problem(path: str, judgement: Judgement) -> Problem:
    return Problem(path, range_of(judgement.answer.at.outermost), judgement.severity, judgement.rule.name, judgement.answer.says)


def _waived(desk: Desk, path: str, judgement: Judgement) -> Action:
    """A waiver with room for the reason, below the last row: it is refused until somebody writes one."""
    source = desk.source(path)
    thing = judgement.answer.thing
    at = thing if re.fullmatch(r"[^\W\d_][\w-]*(?:\.[\w-]+)*", thing) else f'"{thing}"'
    last = len(source.rows)
    while last > 1 and not source.row(last).strip():
        last -= 1
    end = rows_range(source, last, last).end
    row = f'\n\nwaive {judgement.rule.name}: at {at}, because ""'
    return Action(f"accept {judgement.rule.name} at {thing}, with a reason", (Edit(path, Range(end, end), row),),
                  _problem(path, judgement))


def changed(path: str, source: Source, text: str) -> Iterator[Edit]:
    """The least run of rows by which a text becomes another, as one edit; none where they are alike."""
    old, new = list(source.rows), text.split("\n")
    if old == new:
        return
    first = 0
    while first < min(len(old), len(new)) and old[first] == new[first]:
        first += 1
    back = 0
    while back < min(len(old), len(new)) - first and old[-1 - back] == new[-1 - back]:
        back += 1
    gone, come = old[first: len(old) - back], new[first: len(new) - back]
    if gone and come:
        yield Edit(path, Range((first, 0), (first + len(gone) - 1, units(gone[-1]))), "\n".join(come))
    elif come:
        if first < len(old):
            yield Edit(path, Range((first, 0), (first, 0)), "\n".join(come) + "\n")
        else:
            end = (first - 1, units(old[first - 1]))
            yield Edit(path, Range(end, end), "\n" + "\n".join(come))
    elif first + len(gone) < len(old):
        yield Edit(path, Range((first, 0), (first + len(gone), 0)), "")
    else:
        before = (first - 1, units(old[first - 1])) if first else (0, 0)
        yield Edit(path, Range(before, (first + len(gone) - 1, units(gone[-1]))), "")
