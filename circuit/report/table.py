"""A table as data: what a terminal, a page, a PDF and a CSV file show alike."""

import csv
import io
from collections.abc import Iterable, Set
from typing import NamedTuple

from circuit.report.words import clock

ASSUMED_FACE = "Contains assumed values: where the design is silent, a typical part was taken. Confirm before use."


class Table(NamedTuple):
    """key: a word for file names. rows: as many words as columns. blank: columns to be filled in by hand.

    numbers: columns that hold bare numbers, in the unit their heading names. wide: columns with sentences. notes: said
    below it. assumed: whether values that safety hangs on were assumed. marks: for a row, the names of its parts. bands:
    columns that a print says once above the rows that share them. joined: a column whose cells a print puts together
    where rows are otherwise alike. cards: in a terminal each row stands by itself, cell below cell. cautions: what a print says
    above the rows, on every sheet.
    """

    key: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()
    blank: Set[str] = frozenset()
    numbers: Set[str] = frozenset()
    wide: Set[str] = frozenset()
    assumed: bool = False
    marks: tuple[tuple[str, ...], ...] = ()
    bands: tuple[str, ...] = ()
    joined: str = ""
    cautions: tuple[str, ...] = ()
    cards: bool = False

    def column(self, name: str) -> list[str]:
        """The cells of one column."""
        place = self.columns.index(name)
        return [row[place] for row in self.rows]


def without_columns(table: Table, names: Set[str]) -> Table:
    """A table without some of its columns."""
    kept = [place for place, name in enumerate(table.columns) if name not in names]
    return table._replace(columns=tuple(table.columns[place] for place in kept),
                          rows=tuple(tuple(row[place] for place in kept) for row in table.rows))


def without_empty(table: Table) -> Table:
    """The table without columns that hold nothing and wait for nothing; a file for programs keeps them."""
    return without_columns(table, {name for place, name in enumerate(table.columns)
                                   if name not in table.blank and table.rows and not any(row[place] for row in table.rows)})


def in_minutes(table: Table) -> Table:
    """The table with times as people say them, where one of its seconds are minutes; a file keeps the seconds."""
    timed = {name for name in table.columns if name in table.numbers and name.endswith(" s")}
    if not any(cell and float(cell) >= 120 for name in timed for cell in table.column(name)):
        return table
    rows = tuple(tuple(clock(float(cell)) if name in timed and cell else cell for name, cell in zip(table.columns, row))
                 for row in table.rows)
    return table._replace(columns=tuple(name[:-2] if name in timed else name for name in table.columns), rows=rows,
                          numbers=table.numbers - timed)


def as_one(tables: Iterable[Table]) -> str:
    """Several tables as one CSV: a first column with each table's key, its heads again where a table begins."""
    return "".join(as_csv(led_by("table", table.key, table)) for table in tables if table.rows)


def led_by(name: str, cell: str, table: Table) -> Table:
    """A table with one more column before the others, the same in every row."""
    return table._replace(columns=(name, *table.columns), rows=tuple((cell, *row) for row in table.rows))


def said_once(tables: Iterable[Table]) -> tuple[Table, ...]:
    """Tables that follow one another, with a note that several have only below the first."""
    said: set[str] = set()
    found = []
    for table in tables:
        found.append(table._replace(notes=tuple(note for note in table.notes if note not in said)))
        said |= set(table.notes)
    return tuple(found)


def as_csv(table: Table) -> str:
    """The rows as CSV with a head, lines ending as RFC 4180 has them. A text that a spreadsheet would take for a formula
    is written behind an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(table.columns)
    for row in table.rows:
        writer.writerow([_harmless(cell, name in table.numbers) for name, cell in zip(table.columns, row)])
    return out.getvalue()


def _harmless(cell: str, number: bool) -> str:
    return "'" + cell if not number and cell[:1] in ("=", "+", "-", "@", "\t") and len(cell) > 1 else cell
