"""A table as plain text for a terminal: heads over two lines, figures flush right, sentences folded, notes below."""

import textwrap
from collections.abc import Sequence

from circuit.report.folded import folded
from circuit.report.table import Table, without_columns

WIDTH = 118
GAP = 2
LEAST = 16
"""Letters that a column of words keeps at least where the room is short; our choice."""


def as_text(table: Table, width: int = WIDTH) -> list[str]:
    """The lines of a table, folded as a print has it; columns for a pen and columns without anything are left out."""
    shown, groups = folded(without_columns(table, table.blank))
    groups = tuple((head, tuple(_loud(shown, row) for row in some)) for head, some in groups)
    rows = [row for _, some in groups for row in some]
    heads = [_split(name, name in shown.numbers) for name in shown.columns]
    widths = _widths(shown, heads, rows, width)
    spans = _spans(heads)
    for first, last in spans:
        short = len(heads[first][0]) - sum(widths[first: last + 1]) - GAP * (last - first)
        widths[last] += max(0, short)
    upper = (" " * GAP).join(_over(heads[first][0], widths[first: last + 1]) for first, last in spans).rstrip()
    lower = _row(shown, tuple(head[1] for head in heads), widths)
    lines = [*([upper] if upper else []), *lower] if rows else []
    lines += ["-" * max(map(len, lines))] if rows else []
    for number, (head, some) in enumerate(groups):
        lines += [""] if number else []
        lines += textwrap.wrap(" \u00b7 ".join(filter(None, head)), width)
        lines += [line for row in some for line in _row(shown, row, widths)]
    return [*lines, *(line for note in table.notes for line in textwrap.wrap(note, width))]


def as_cards(table: Table, width: int = WIDTH) -> list[str]:
    """The rows of a table of sentences one below the other, each cell behind its column's first word."""
    shown, groups = folded(without_columns(table, table.blank))
    words = [name.partition(" ")[0] for name in shown.columns]
    lead = max(map(len, words)) + 2
    lines: list[str] = []
    for head, rows in groups:
        lines += ["", " \u00b7 ".join(filter(None, head)).upper()] if any(head) else []
        for row in rows:
            for word, cell in zip(words, row):
                lines += textwrap.wrap(cell, width, initial_indent=f"  {word:<{lead}}", subsequent_indent=" " * (lead + 2),
                                       break_on_hyphens=False) if cell else []
            lines.append("")
    return [*lines, *(line for note in table.notes for line in textwrap.wrap(note, width))]


def _loud(table: Table, row: tuple[str, ...]) -> tuple[str, ...]:
    """A row that says in capitals what is not met or not run."""
    return tuple(cell[:7].upper() + cell[7:] if name == "outcome" and cell.startswith(("not met", "not run")) else cell
                 for name, cell in zip(table.columns, row))


def _widths(table: Table, heads: Sequence[tuple[str, str]], rows: Sequence[tuple[str, ...]], room: int) -> list[int]:
    """How wide each column is: as its widest cell, columns of sentences narrower where the room is short."""
    widths = [max(len(head[1]), *(len(row[place]) for row in rows), 0) if rows else 0 for place, head in enumerate(heads)]
    least = [max([LEAST, len(head[1]), *(len(word) for row in rows for word in row[place].split(" "))])
             if name in table.wide else width
             for place, (name, head, width) in enumerate(zip(table.columns, heads, widths))]
    over = sum(widths) + GAP * (len(widths) - 1) - room
    while over > 0 and (loose := [place for place, width in enumerate(widths) if width > least[place]]):
        widths[max(loose, key=lambda place: widths[place])] -= 1
        over -= 1
    return widths


def _split(name: str, number: bool) -> tuple[str, str]:
    """A head in two: `reservoirs in3` is `reservoirs` over `in3`; words are one."""
    first, _, last = name.rpartition(" ")
    return (first, last) if number and first else ("", name)


def _spans(heads: list[tuple[str, str]]) -> list[tuple[int, int]]:
    """Neighbours that share their upper head, first and last."""
    found: list[tuple[int, int]] = []
    for place, (upper, _) in enumerate(heads):
        if found and upper and heads[found[-1][0]][0] == upper:
            found[-1] = (found[-1][0], place)
        else:
            found.append((place, place))
    return found


def _over(word: str, widths: list[int]) -> str:
    """An upper head over its columns: flush right over one, flush left over several."""
    wide = sum(widths) + GAP * (len(widths) - 1)
    return word.rjust(wide) if len(widths) == 1 else word.ljust(wide)


def _row(table: Table, cells: tuple[str, ...], widths: list[int]) -> list[str]:
    """A row's lines: cells that are too long go on below."""
    parts = [textwrap.wrap(cell, width, break_long_words=False, break_on_hyphens=False) if len(cell) > width > 0 else [cell]
             for cell, width in zip(cells, widths)]
    return [(" " * GAP).join(
        (part[number] if number < len(part) else "").rjust(width) if name in table.numbers else
        (part[number] if number < len(part) else "").ljust(width)
        for name, part, width in zip(table.columns, parts, widths)).rstrip() for number in range(max(map(len, parts)))]
