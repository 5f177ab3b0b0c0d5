"""Places as editors count them: lines and letters from 0, letters in units of UTF-16; and words under a cursor."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from circuit.source import Source, Span
from circuit.syntax.cut import without_comment
from circuit.syntax.statements import Statement

Spot = tuple[int, int]
"""Line and letter, from 0, in units of UTF-16."""


class Range(NamedTuple):
    start: Spot
    end: Spot


class Edit(NamedTuple):
    """A range of a file with another text in it."""

    path: str
    at: Range
    new: str


def units(text: str) -> int:
    """How many units of UTF-16 a text has.

    >>> units("a°"), units("\U0001F69A")
    (2, 2)
    """
    return len(text) if text.isascii() else len(text.encode("utf-16-le")) // 2


def column_of(row: str, letter: int) -> int:
    """The column, from 1, of a letter counted in units of UTF-16.

    >>> column_of("a\U0001F69Ab", 3)
    3
    """
    if row.isascii():
        return min(letter, len(row)) + 1
    count = 0
    for place, each in enumerate(row):
        if count >= letter:
            return place + 1
        count += 2 if ord(each) > 0xFFFF else 1
    return len(row) + 1


def range_of(span: Span) -> Range:
    """A span of the program as an editor has it, no longer than its row."""
    row = span.source.row(span.line)
    start = min(span.column - 1, len(row))
    end = min(start + max(1, span.length), len(row)) if len(row) > start else start
    return Range((span.line - 1, units(row[:start])), (span.line - 1, units(row[:end])))


def rows_range(source: Source, first: int, last: int) -> Range:
    """Whole rows, from 1, without the end of the last."""
    return Range((first - 1, 0), (last - 1, units(source.row(last))))


Nested = tuple[Statement, tuple[Statement, ...]]
"""A statement, and those whose block it stands in."""


def every(statements: tuple[Statement, ...], above: tuple[Statement, ...] = ()) -> Iterator[Nested]:
    """Each statement with those whose block it stands in, in the order of the text."""
    for statement in statements:
        yield statement, above
        if statement.block is not None:
            yield from every(statement.block, (*above, statement))


def last_line(statement: Statement) -> int:
    """The last row of a statement, its block without the brace included."""
    lines = [statement.span.line, *(value.span.line for each in statement.settings for value in each.values),
             *(each.name.span.line for each in statement.settings)]
    return max([*lines, *(last_line(each) for each in statement.block or ())])


class Typed(NamedTuple):
    """What stands before the cursor in its statement: the code from its first row on, the word that is being typed, and the
    statements whose block is open there, by their first word."""

    before: str
    word: str
    inside: tuple[str, ...]


_WORD = re.compile(r"[\w.<>/-]*\Z")


def typed(source: Source, line: int, column: int) -> Typed | None:
    """What is being typed at a place, from 1; None in a remark or a text between quotes."""
    code, comment = without_comment(source.row(line))
    before = code[:column - 1]
    if comment and column - 1 > len(code) or before.count('"') % 2:
        return None
    rows = [before]
    number = line - 1
    while number > 0:
        above = without_comment(source.row(number))[0].rstrip()
        if not above:
            if number == line - 1 or len(rows) > 1 or not without_comment(source.row(number))[1]:
                break
        elif not above.endswith(","):
            break
        rows.insert(0, above)
        number -= 1
        if len(rows) > 40:
            break
    text = " ".join(rows)
    found = _WORD.search(before)
    return Typed(text, found.group() if found else "", tuple(_open_above(source, number + 1)))


def _open_above(source: Source, line: int) -> Iterator[str]:
    """The first words of the rows above whose blocks are open here."""
    heads: list[str] = []
    for number in range(1, line):
        code = without_comment(source.row(number))[0].strip()
        if code.endswith("{"):
            heads.append(code.split(maxsplit=1)[0])
        elif code == "}" and heads:
            heads.pop()
    yield from heads
