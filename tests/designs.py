"""Designs for tests: a whole small design, or a good example with a few lines changed.

A case is a text. Its first line that is no remark says what it changes: `on: truck-6x4` (a folder of `examples/`) or
`on: nothing`, after which the design itself follows. A patch has one row a line:

    - begin of a row        this row goes
    = begin of a row        this row stays; what a `# expect:` behind it says is added to it
    + a row                 this row comes in, where the last `-` or `=` was, or at the end

The begin of a row must fit exactly one row, and that of a row that is set in is set in too. `# expect: rule` or
`# expect: rule, other-rule` marks a finding's line.
"""

import re
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest

from circuit.model.circuit import Circuit
from circuit.pipeline import load_source
from circuit.source import Source
from circuit.verdict.judge import Verdict, judge

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
_MARK = re.compile(r"\s*# expect: (.*)$")
PREFACE = ("vehicle x: class truck", "rules us-federal", "axle front: position 1")
"""What a fragment of a design lacks to be one: a vehicle, its rules and an axle."""


class NoSuchRow(ValueError):
    """A patch names a row that the example does not have, or has more than once."""


def example_names() -> tuple[str, ...]:
    """The folders of `examples/` that hold a design."""
    return tuple(sorted(path.parent.name for path in EXAMPLES.glob("*/design.air")))


def sampled(values: Iterable[Any], keep: int, name: Callable[[Any], str] = str) -> list[Any]:
    """Values to parametrize by, `keep` of them from all over, the others in the slow tests alone."""
    every = list(values)
    kept = {len(every) * place // keep for place in range(min(keep, len(every)))}
    return [pytest.param(value, id=name(value), marks=() if place in kept else pytest.mark.slow)
            for place, value in enumerate(every)]


def example_text(name: str) -> str:
    return (EXAMPLES / name / "design.air").read_text(encoding="utf-8")


def design_of(case: str) -> str:
    """The text of the design that a case describes, marks included."""
    rows = case.split("\n")
    first = next(place for place, row in enumerate(rows) if row.strip() and not row.startswith("#"))
    head, _, base = rows[first].partition(":")
    if head != "on":
        raise ValueError(f"a case begins with `on:`, not with {rows[first]!r}")
    if base.strip() == "nothing":
        return "\n".join(rows[first + 1:])
    return patched(example_text(base.strip()), rows[first + 1:])


def patched(text: str, patch: list[str]) -> str:
    """A design's text with some rows taken out, marked or put in."""
    rows = text.split("\n")
    place = len(rows)
    for row in patch:
        sign, wanted = row[:2], row[2:]
        if sign == "+ ":
            rows.insert(place, wanted)
            place += 1
        elif sign in ("- ", "= "):
            mark = _MARK.search(wanted)
            begin = wanted[: mark.start()] if mark else wanted
            fitting = [number for number, known in enumerate(rows) if known.startswith((begin.strip(), begin.rstrip()))]
            if len(fitting) != 1:
                raise NoSuchRow(f"{len(fitting)} rows begin with {begin.strip()!r}")
            place = fitting[0]
            if sign == "- ":
                del rows[place]
            else:
                rows[place] += mark.group(0) if mark else ""
                place += 1
        elif row.strip() and not row.startswith("#"):
            raise ValueError(f"no row of a patch: {row!r}")
    return "\n".join(rows)


def marks(text: str) -> list[tuple[int, str]]:
    """Line and rule of every finding that a text's marks expect."""
    found = []
    for number, row in enumerate(text.split("\n"), 1):
        mark = _MARK.search(row)
        if mark:
            found += [(number, name.strip()) for name in mark.group(1).split(",")]
    return sorted(found)


def loaded(text: str) -> Circuit:
    """The circuit of a text."""
    return load_source(Source(str(EXAMPLES / "case.air"), text))


def completed(fragment: str) -> str:
    """A fragment with what it lacks put in front: a vehicle, its rules, the front axle."""
    rows = fragment.split("\n")
    if any(row.startswith("combination") for row in rows):
        return f"rules us-federal\n{fragment}"
    lacking = [row for row in PREFACE
               if not any(known.startswith(row.split(":")[0].removesuffix(" x")) for known in rows)]
    return "\n".join([*lacking, fragment])


def open_findings(verdict: Verdict) -> list[tuple[int, str]]:
    """Line and rule of every finding that nobody has accepted; what follows from another is not one of its own."""
    return sorted((j.answer.at.outermost.line, j.rule.name) for j in verdict.judgements if j.is_open)


def findings_of(text: str) -> list[tuple[int, str]]:
    """The open findings of a text; one in a file that it couples stands at the row that names the file."""
    rows = text.split("\n")
    found = []
    for judgement in judge(loaded(text)).judgements:
        if judgement.is_open:
            span = judgement.answer.at.outermost
            names = [number for number, row in enumerate(rows, 1)
                     if 'file "' in row and span.source.name.endswith(row.split('"')[1])]
            found.append((names[0] if names else span.line, judgement.rule.name))
    return sorted(found)
