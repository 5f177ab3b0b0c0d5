"""What a fitter has written into the form of a commissioning: a CSV file, read cell by cell, with every slip at its place."""

import csv
import io
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from circuit.mistake import Mistake, Unreadable
from circuit.near import did_you_mean
from circuit.source import Source, Span
from circuit.studies.commission import Reading
from circuit.units import UnitMistake, to_si

NEVER = ("none", "never")
"""What is written where something did not come."""
NEEDED = ("step", "place", "measured")
_NOT_WEIGHED = ("leak-down", "separation")
"""Steps of the test record that are not among the readings that are weighed."""
_EXAMPLE = {"pressure": "121 psi or 8.3 bar", "time": "0.41 s", "count": "7"}


class Measured(NamedTuple):
    """values: number of a reading to what was noted, None for what never came. unweighed: rows of steps that are not weighed."""

    values: dict[int, float | None]
    unweighed: int


def measured(source: Source, readings: Sequence[Reading]) -> Measured:
    """The values of a form. Raises Unreadable with every mistake."""
    delimiter = ";" if source.row(1).count(";") > source.row(1).count(",") else ","
    rows = list(csv.reader(io.StringIO(source.text), delimiter=delimiter))
    heads = [cell.strip().lower() for cell in rows[0]] if rows else []
    missing = [word for word in NEEDED if word not in heads]
    if missing:
        raise Unreadable((Mistake(Span(source, 1, 1), f"this table has no column `{missing[0]}`",
                                  "begin from the form: airwright diagnose FILE --form > readings.csv"),))
    known = {(reading.step, reading.place): number for number, reading in enumerate(readings)}
    reader = _Rows(source, heads, known, readings, delimiter)
    for line, row in reader.lines(rows):
        reader.row(line, row)
    if reader.mistakes:
        raise Unreadable(tuple(reader.mistakes))
    if not reader.values:
        raise Unreadable((Mistake(Span(source, 1, 1), "nothing is written under `measured`",
                                  "fill in what was read; what never came is written none"),))
    return Measured(reader.values, reader.unweighed)


class _Rows:
    def __init__(self, source: Source, heads: list[str], known: dict[tuple[str, str], int], readings: Sequence[Reading],
                 delimiter: str) -> None:
        self.source, self.heads, self.known, self.readings, self.delimiter = source, heads, known, readings, delimiter
        self.values: dict[int, float | None] = {}
        self.mistakes: list[Mistake] = []
        self.unweighed = 0

    def lines(self, rows: list[list[str]]) -> Iterator[tuple[int, list[str]]]:
        line = 1
        for row in rows[1:]:
            line += 1
            yield line, row
            line += sum(cell.count("\n") for cell in row)

    def cell(self, row: list[str], name: str) -> str:
        place = self.heads.index(name) if name in self.heads else -1
        return row[place].strip().lstrip("'") if 0 <= place < len(row) else ""

    def wrong(self, line: int, cell: str, says: str, expected: str) -> None:
        column = self.source.row(line).find(cell) + 1 if cell else 1
        self.mistakes.append(Mistake(Span(self.source, line, max(1, column), max(1, len(cell))), says, expected))

    def row(self, line: int, row: list[str]) -> None:
        text = self.cell(row, "measured")
        if not text:
            return
        step, place = self.cell(row, "step"), self.cell(row, "place")
        if step in _NOT_WEIGHED:
            self.unweighed += 1
            return
        knob, said, _ = self.cell(row, "how").partition(" knob")
        if step == "pop-out" and said and (f"pop-out {knob}", place) in self.known:  # the test record says the knob beside
            step = f"pop-out {knob}"
        number = self.known.get((step, place))
        if number is None:
            steps = list(dict.fromkeys(key[0] for key in self.known))
            places = [key[1] for key in self.known if key[0] == step]
            self.wrong(line, place if places else step, f"nothing is read at `{place}` in step `{step}`",
                       (did_you_mean(place, places) or f"its places are {', '.join(places[:6])}") if places
                       else did_you_mean(step, steps) or f"the steps are {', '.join(steps)}")
        elif number in self.values:
            self.wrong(line, place, f"{step} at {place} is written twice", "keep one of the two rows")
        else:
            self.value(line, number, text, self.cell(row, "unit"))

    def value(self, line: int, number: int, text: str, unit: str) -> None:
        reading = self.readings[number]
        if text.lower() in NEVER:
            if reading.at:
                self.wrong(line, text, f"a gauge always reads something, and this says `{text}`",
                           "write what it reads, such as 0 psi, or leave the field empty")
            else:
                self.values[number] = None
            return
        plain = text.replace(",", ".") if self.delimiter == ";" else text
        bare = plain.replace(".", "", 1).isdigit()
        if bare and unit and reading.dimension != "count":
            plain = f"{plain} {unit}"
        try:
            self.values[number] = to_si(plain, reading.dimension)
        except UnitMistake as mistake:
            self.wrong(line, text, f"{reading.step} at {reading.place} {mistake.says}", f"write {_EXAMPLE[reading.dimension]}, "
                       "or none where it never came")
