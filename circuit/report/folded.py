"""A table as it is printed: rows that are alike put together, and what rows share said once above them."""

from typing import NamedTuple

from circuit.report.table import Table, in_minutes, without_columns, without_empty

Cells = tuple[str, ...]


class Folded(NamedTuple):
    """table: the columns that stay. groups: what is said above, empty without bands, and the rows below it."""

    table: Table
    groups: tuple[tuple[Cells, tuple[Cells, ...]], ...]


def folded(table: Table) -> Folded:
    """The rows in groups, in the order of the first row of each."""
    table = _joined(in_minutes(table))
    bands = [table.columns.index(name) for name in table.bands]
    shown = without_empty(without_columns(table, frozenset(table.bands)))
    groups: dict[Cells, list[Cells]] = {}
    for row, rest in zip(table.rows, shown.rows):
        groups.setdefault(tuple(row[place] for place in bands), []).append(rest)
    return Folded(shown, tuple((head, tuple(rows)) for head, rows in groups.items()))


def _joined(table: Table) -> Table:
    """Rows that differ only in the joined column as one row."""
    if not table.joined:
        return table
    place = table.columns.index(table.joined)
    alike: dict[Cells, list[str]] = {}
    for row in table.rows:
        alike.setdefault((*row[:place], *row[place + 1:]), []).append(row[place])
    rows = tuple((*rest[:place], ", ".join(dict.fromkeys(cells)), *rest[place:]) for rest, cells in alike.items())
    return table._replace(rows=rows, marks=())
