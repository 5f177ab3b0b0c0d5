"""A table as plain text for a terminal: heads over two lines, figures flush right, notes below."""

import textwrap

from circuit.report.table import Table, without_columns, without_empty

WIDTH = 110
GAP = 2


def as_text(table: Table) -> list[str]:
    """The lines of a table; columns for a pen and columns without anything are left out."""
    table = without_empty(without_columns(table, table.blank))
    heads = [_split(name, name in table.numbers) for name in table.columns]
    widths = [max(len(head[1]), *(len(row[place]) for row in table.rows), 0) for place, head in enumerate(heads)]
    spans = _spans(heads)
    for first, last in spans:
        short = len(heads[first][0]) - sum(widths[first: last + 1]) - GAP * (last - first)
        widths[last] += max(0, short)
    upper = (" " * GAP).join(_over(heads[first][0], widths[first: last + 1]) for first, last in spans)
    lower = _row(table, tuple(head[1] for head in heads), widths)
    rows = [_row(table, row, widths) for row in table.rows]
    over = [upper.rstrip()] if upper.strip() else []
    notes = [line for note in table.notes for line in textwrap.wrap(note, WIDTH)]
    return [*over, lower, "-" * max(len(lower), *map(len, over), 0), *rows, *notes]


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


def _row(table: Table, cells: tuple[str, ...], widths: list[int]) -> str:
    return (" " * GAP).join(cell.rjust(width) if name in table.numbers else cell.ljust(width)
                            for name, cell, width in zip(table.columns, cells, widths)).rstrip()
