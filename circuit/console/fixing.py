"""Mends that are a single edit of the text, carried out: each is tried first, and kept only where it brings no finding."""

import argparse
import os
from codecs import BOM_UTF8
from collections import Counter
from collections.abc import Sequence

from circuit.console.gating import Gated
from circuit.console.inputs import STDIN
from circuit.console.say import complain, say
from circuit.gate.baseline import key
from circuit.gate.gate import Gate
from circuit.judging.causes import Exchange, Move, Set
from circuit.judging.rule import Judgement
from circuit.mistake import Unreadable
from circuit.plant.bed import Bed
from circuit.plant.rows import Edit, dropped, edited, with_setting
from circuit.source import Source
from circuit.verdict.judge import Verdict
from circuit.verdict.waivers import WAIVER
from circuit.writing import write

MOST = 20
"""Mends of one design in one run."""


def fix(names: Sequence[str], options: argparse.Namespace) -> None:
    """Carries out what it can in each design, and says what."""
    gated = Gated(names, options)
    for name in names:
        try:
            before = _content(name)
            text, done = fixed(name, gated.gate(name))
            if not done:
                continue
            if _content(name) != before:
                complain(f"{name} was changed meanwhile: none of its mends is written; run it again")
                continue
            write(name, _ended_as(before, text))
        except Unreadable:
            continue  # it is told by the check that follows
        except OSError as trouble:
            complain(f"{name} cannot be mended: {(trouble.strerror or str(trouble)).lower()}")
            continue
        for one in done:
            say(f"{name}: mended {one.rule.name} at {one.answer.thing}: {one.answer.remedy}")


def _content(name: str) -> bytes:
    """What a file holds; nothing of what is no file."""
    if not os.path.isfile(name):
        return b""
    with open(name, "rb") as file:
        return file.read()


def _ended_as(before: bytes, text: str) -> bytes:
    """A text as bytes, with the mark in front and the line ends that the file had."""
    mark = BOM_UTF8 if before.startswith(BOM_UTF8) else b""
    return mark + (text.replace("\n", "\r\n") if b"\r\n" in before else text).encode("utf-8")


def fixed(name: str, gate: Gate) -> tuple[str, list[Judgement]]:
    """The text of a design with all mends that could be carried out, and these; rows that a mend does not touch stay."""
    from circuit.pipeline import opened

    source = opened(name, gate.root)
    done: list[Judgement] = []
    verdict = _judged(source, gate) if name != STDIN and os.path.isfile(name) else None
    while verdict is not None and len(done) < MOST:
        better = next(((one, text, after) for one in verdict.findings if one.is_open
                       for text, after in [_tried(one, verdict, source, gate)] if after is not None), None)
        if better is None:
            break
        one, text, verdict = better
        source = Source(source.name, text)
        done.append(one)
    return source.text, done


def _judged(source: Source, gate: Gate) -> Verdict:
    from circuit.pipeline import judged, load_source

    return judged(load_source(source, gate.root), gate=gate)


def _tried(one: Judgement, verdict: Verdict, source: Source, gate: Gate) -> tuple[str, Verdict | None]:
    """The text with one mend and its verdict, or None where there is no such edit, or something else is found then."""
    edits = edits_of(one, verdict)
    if not edits:
        return "", None
    text = edited(source, edits).text
    try:
        after = _judged(Source(source.name, text), gate)
    except Unreadable:
        return "", None
    before, left = _open(verdict), _open(after)
    is_better = not left - before and left.total() < before.total()
    return (text, after) if is_better else ("", None)


def _open(verdict: Verdict) -> Counter[tuple[str, str]]:
    """Every open finding, those under others and those of vehicles too."""
    found = Counter(key(each, verdict.circuit) for one in verdict.findings if one.is_open for each in (one, *one.follows))
    for _, own in verdict.vehicles:
        found += _open(own)
    return found


def edits_of(one: Judgement, verdict: Verdict) -> tuple[Edit, ...]:
    """The edit that a mend is, or nothing: guesses, and mends in several ways, are left to people."""
    bed = Bed(verdict.circuit)
    if one.rule.name == WAIVER:
        row = one.answer.at.line
        return next((dropped(each) for each in bed.of_kind("waive") if each.span.line == row), ())
    if len(one.answer.mends) != 1 or one.answer.guessed:
        return ()
    mend = one.answer.mends[0]
    if isinstance(mend, Exchange):
        first, second = bed.only_line(mend.one), bed.only_line(mend.other)
        return bed.crossed(first, second) if first and second else ()
    if isinstance(mend, Move):
        line = verdict.circuit.by_name.get(mend.end[0])
        return (bed.moved(line, int(mend.end[1]) - 1, mend.port),) if line and bed.statement(line) else ()
    if isinstance(mend, Set):
        found = bed.written(verdict.circuit.by_name[mend.name])
        return with_setting(*found, mend.setting, mend.value) if found else ()
    return ()
