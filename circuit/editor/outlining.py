"""The shape of a design's text: what stands in it, what folds, what each word is, and values that were assumed."""

import re
from collections.abc import Iterator, Set
from typing import NamedTuple

from circuit import kinds
from circuit.editor.desk import Desk
from circuit.editor.naming import uses_in
from circuit.editor.spots import Range, last_line, range_of, rows_range, units
from circuit.model.forms import ACTIONS, FORMS
from circuit.source import Source
from circuit.syntax.cut import without_comment
from circuit.syntax.statements import Statement

TOKENS = ("keyword", "type", "variable", "property", "number", "string", "comment", "enumMember", "operator")
"""What words are, by the names that editors have for them: a word of the language, a kind, a name, a setting ..."""


class Entry(NamedTuple):
    """A statement in the outline. sort: its kind. inside: the statements of its block."""

    name: str
    sort: str
    at: Range
    head: Range
    inside: "tuple[Entry, ...]" = ()


class Token(NamedTuple):
    """A word. line, letter: from 0, in units of UTF-16."""

    line: int
    letter: int
    length: int
    sort: str


class Hint(NamedTuple):
    """A text beside a row. line, letter: where, from 0."""

    line: int
    letter: int
    text: str
    says: str


def outline(desk: Desk, path: str) -> tuple[Entry, ...]:
    """Every statement, those of blocks under their own."""
    read = desk.read(path)
    return tuple(_entry(each, read.source) for each in read.statements if each.kind.text)


def _entry(statement: Statement, source: Source) -> Entry:
    names = " and ".join(name.text for name in statement.names)
    if statement.ends:
        names = f"{statement.ends[0].text} -> {statement.ends[1].text}"
    elif statement.text:
        names = statement.text.text
    inside = tuple(_entry(each, source) for each in statement.block or () if each.kind.text)
    last = last_line(statement)
    if statement.block is not None and source.row(last + 1).strip() == "}":
        last += 1
    whole = rows_range(source, statement.span.line, last)
    return Entry(names or statement.kind.text, statement.kind.text, whole, range_of(statement.span), inside)


def folds(desk: Desk, path: str) -> Iterator[tuple[int, int]]:
    """First and last row, from 0, of what folds: blocks, statements of several rows, all that stands under a remark."""
    read = desk.read(path)
    source = read.source
    for statement in read.statements:
        last = last_line(statement)
        if statement.block is not None and source.row(last + 1).strip() == "}":
            last += 1
        if last > statement.span.line:
            yield statement.span.line - 1, last - 1
    heads = [number for number, row in enumerate(source.rows, 1)
             if row.startswith("#") and not source.row(number - 1).strip()]
    for head, following in zip(heads, [*heads[1:], len(source.rows) + 1]):
        last = following - 1
        while last > head and not source.row(last).strip():
            last -= 1
        if last > head:
            yield head - 1, last - 1


_NAME = r"(?:[^\W\d_][\w-]*|<[^\W\d_][\w-]*>)(?:\.(?:[\w-]+|<[^\W\d_][\w-]*>))*"
_PIECE = re.compile(rf'"[^"]*"?|->|[-+]?\d[\d./x-]*(?![\w-])|{_NAME}|%|°[CF]')


def tokens(desk: Desk, path: str) -> list[Token]:
    """Every word of a design with what it is, in the order of the text."""
    return words(desk.read(path).source, {use.at.start for use in uses_in(desk, path)})


def words(source: Source, names: Set[tuple[int, int]] = frozenset()) -> list[Token]:
    """The same of a text alone. names: places of words that are known to be names; without them a value may be one."""
    found: list[Token] = []
    goes_on = False
    for line, row in enumerate(source.rows):
        code, comment = without_comment(row)
        begins, behind = not goes_on, goes_on
        setting_next = goes_on
        for piece in _PIECE.finditer(code):
            text, start = piece.group(), units(code[:piece.start()])
            before = code[:piece.start()].rstrip()
            setting_next = before.endswith((":", ",")) or (goes_on and not before)
            behind = behind or ":" in before
            sort = _sort(text, begins, behind, setting_next, (line, start) in names)
            begins = False
            found.append(Token(line, start, units(text), sort))
        if comment:
            found.append(Token(line, units(code), units(comment), "comment"))
        goes_on = code.rstrip().endswith(",") if code.strip() else goes_on and bool(comment)
    return found


def _sort(text: str, begins: bool, behind: bool, setting: bool, named: bool) -> str:
    if text[0] == '"':
        return "string"
    if text == "->" or text == "and":
        return "operator"
    if text[0].isdigit() or text[0] in "+-%°":
        return "number"
    if begins:
        return "keyword" if text in FORMS or text in ACTIONS else "type"
    if behind and setting:
        return "property"
    return "variable" if named or not behind else "enumMember"


def hints(desk: Desk, path: str, first: int, last: int) -> Iterator[Hint]:
    """Values that a row leaves out and that were taken as typical, behind it; rows from 0. Of a row with several names once."""
    circuit = desk.known(path).circuit
    if circuit is None:
        return
    source = desk.source(path)
    lines: dict[int, dict[str, str]] = {}
    for device, name, given in circuit.assumed:
        span = device.span
        is_here = span.via is None and span.source.name == source.name and first <= span.line - 1 <= last
        if is_here and _tells(device.kind.name, name):
            lines.setdefault(span.line, {}).setdefault(name, f"{given.text} ({given.source})")
    for line, values in sorted(lines.items()):
        row = without_comment(source.row(line))[0].rstrip()
        text = ", ".join(f"{name} {value.partition(' (')[0]}" for name, value in values.items())
        says = "\n".join(f"{name} {value}" for name, value in values.items())
        yield Hint(line - 1, units(row), f" assumed: {text}", says)


def _tells(word: str, setting: str) -> bool:
    """Whether an assumed value is a figure, which somebody may know better; a word that is usual is not shown."""
    kind = kinds.find(word)
    found = kind.setting(setting) if kind else None
    return found is not None and found.dimension not in ("word", "text", "name")
