"""The rows of a design and changes to them. Knows statements and places, and nothing of what they mean."""

from collections.abc import Iterable
from typing import NamedTuple

from circuit.source import Source, Span
from circuit.syntax.statements import Name, Setting, Statement


class Swap(NamedTuple):
    """A piece of one row replaced. line, column: from 1; length 0 puts `new` in without taking anything out."""

    line: int
    column: int
    length: int
    new: str


class Drop(NamedTuple):
    """A row taken out."""

    line: int


class Add(NamedTuple):
    """A row put in below another."""

    below: int
    row: str


Edit = Swap | Drop | Add


class Edited(NamedTuple):
    """A changed text. changed: its rows that are new or other than before; gone: the rows that are in it no more."""

    text: str
    changed: tuple[int, ...]
    gone: tuple[str, ...]


def edited(source: Source, edits: Iterable[Edit]) -> Edited:
    """The text with all edits done; their places are those of the old text. What is asked twice is done once, but rows
    are put in as often as is asked: two holes take two plugs.
    """
    edits = tuple(edits)
    edits = (*dict.fromkeys(e for e in edits if not isinstance(e, Add)), *(e for e in edits if isinstance(e, Add)))
    dropped = {edit.line for edit in edits if isinstance(edit, Drop)}
    rows: list[str] = []
    changed: list[int] = []
    for number, row in enumerate(source.rows, 1):
        if number not in dropped:
            swaps = sorted((e for e in edits if isinstance(e, Swap) and e.line == number), key=lambda e: -e.column)
            for swap in swaps:
                row = row[: swap.column - 1] + swap.new + row[swap.column - 1 + swap.length:]
            rows.append(row)
            if swaps:
                changed.append(len(rows))
        for added in (e for e in edits if isinstance(e, Add) and e.below == number):
            rows.append(added.row)
            changed.append(len(rows))
    gone = tuple(source.row(line).strip() for line in sorted(dropped))
    return Edited("\n".join(rows), tuple(changed), gone)


def swapped(span: Span, new: str) -> Swap:
    """A place with another text in it."""
    return Swap(span.line, span.column, span.length, new)


def rows_of(statement: Statement) -> range:
    """The rows that a statement without a block stands in."""
    settings = statement.settings
    spans = [statement.span, *(s.span for s in settings), *(v.span for s in settings for v in s.values)]
    return range(statement.kind.span.line, max(span.line for span in spans) + 1)


def dropped(statement: Statement) -> tuple[Drop, ...]:
    """A statement taken out with all its rows."""
    return tuple(Drop(line) for line in rows_of(statement))


def without_name(statement: Statement, name: Name) -> tuple[Edit, ...]:
    """One of several names taken out of a statement, or the statement with its only name."""
    if len(statement.names) == 1:
        return dropped(statement)
    place = statement.names.index(name)
    if place:
        before = statement.names[place - 1].span
        start = before.column + before.length
        end = name.span.column + name.span.length
    else:
        start, end = name.span.column, statement.names[1].span.column
    return (Swap(name.span.line, start, end - start, ""),)


def setting_text(setting: Setting) -> str:
    """A setting as it is written, on one row."""
    return " ".join((setting.name.text, *(f'"{v.text}"' if _quoted(v.span) else v.text for v in setting.values)))


def _quoted(span: Span) -> bool:
    return span.source.row(span.line)[span.column - 1: span.column] == '"'


def with_setting(statement: Statement, name: Name | None, setting: str, value: str) -> tuple[Edit, ...]:
    """One setting of a statement given another value; of several names only `name` is meant."""
    if name is not None and len(statement.names) > 1:
        settings = [s for s in map(setting_text, statement.settings) if s.split()[0] != setting]
        row = f"{statement.kind.text} {name.text}: " + ", ".join([*settings, f"{setting} {value}"])
        return (*without_name(statement, name), Add(rows_of(statement)[-1], row))
    written = statement.setting(setting)
    if written is not None and written.values:
        whole = written.values[0].span.to(written.values[-1].span)
        return (swapped(whole, value),)
    if statement.settings:
        last = statement.settings[-1].span
        return (Swap(last.line, last.column + last.length, 0, f", {setting} {value}"),)
    span = statement.span
    return (Swap(span.line, span.column + span.length, 0, f": {setting} {value}"),)
