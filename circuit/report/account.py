"""What a study found, ready for every medium: text here, JSON and CSV from the record and the tables, papers and page from
the tables too."""

import textwrap
from collections.abc import Callable, Iterable
from typing import Any, NamedTuple

from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.report import balance
from circuit.report.chart import Chart
from circuit.report.data import document
from circuit.report.plain import WIDTH, as_cards, as_text
from circuit.report.table import Table, as_one
from circuit.report.words import CAUTION, cited, sentence

NO_LIMIT = "no limit stands beside these figures: no clause of the sets named is held to them here"


class Account(NamedTuple):
    """A study's answer. key: as the command is called. record: what the study returned, what the JSON is made from.
    clauses: cited below, with what they ask. limits: whether any figure could be held to one; None where none ever is.
    charts: makes each with the word that goes behind the name of a second file. is_met: whether limits are kept, None
    without any."""

    key: str
    title: str
    circuit: Circuit
    record: Any
    tables: tuple[Table, ...]
    clauses: tuple[Clause, ...] = ()
    limits: bool | None = None
    assumed: tuple[Assumed, ...] = ()
    notes: tuple[str, ...] = ()
    traces: tuple[tuple[str, Trace], ...] = ()
    charts: Callable[[], Iterable[tuple[str, Chart]]] = tuple
    is_met: bool | None = None
    predicted: bool = True

    @property
    def printed(self) -> tuple[Table, ...]:
        """The tables as papers have them: what is noted of the whole study below the first, and a row for each field."""
        first, *rest = (table._replace(joined="") if table.blank else table for table in self.tables)
        return (first._replace(notes=(*first.notes, *map(sentence, dict.fromkeys(self.notes)))), *rest)


def text(found: Account, balanced: bool = False) -> str:
    """For a terminal. balanced: with where the air went."""
    vehicle = found.circuit.vehicle
    lines = [f"{found.title}: {vehicle.title}  ({vehicle.vehicle_class}, {found.circuit.source.name})"]
    lines += ["predicted, not measured"] if found.predicted else []
    several = len([table for table in found.tables if table.rows]) > 1
    for table in found.tables:
        if table.rows or table.notes:
            lines += ["", *([table.title] if several else []), *(as_cards(table) if table.cards else as_text(table))]
    lines += ["", *_asked(found.clauses), *([NO_LIMIT] if found.limits is False else [])]
    if found.assumed:
        lines += ["", *as_text(leaning(found.assumed))]
    short = [note for note in found.notes if note.startswith("stopped")]
    lines += ["", f"NOT COMPLETE, so nothing here is to be relied on: {short[0]}", ""] if short else [""]
    for note in dict.fromkeys(found.notes):
        lines += textwrap.wrap(f"- {note}", WIDTH, subsequent_indent="  ")
    lines += ["", *textwrap.wrap(CAUTION, WIDTH)]
    if balanced:
        went = balance.table(balance.balanced(found.traces))
        lines += ["", went.title, *as_text(went)]
    return page(lines)


def json(found: Account, balanced: bool = False) -> str:
    """For other programs, in SI."""
    more = {"balance": [each._asdict() for each in balance.balanced(found.traces)]} if balanced else {}
    return document(found.key, found.circuit, found.record, **more)


def csv(found: Account, balanced: bool = False) -> str:
    """The tables for a spreadsheet."""
    return as_one((*found.tables, *([balance.table(balance.balanced(found.traces))] if balanced else [])))


FORMATS: dict[str, Callable[[Account, bool], str]] = {"text": text, "json": json, "csv": csv}


def tables_of(make: Callable[[], Account], key: str, title: str) -> tuple[Table, ...]:
    """The tables of a study for a paper; where it has no answer for a circuit, one without rows that says why."""
    from circuit.studies.hands import CannotAsk

    try:
        return make().printed
    except CannotAsk as reason:
        return (Table(key, title, ("not predicted",), (), (f"Not predicted: {reason}.",)),)


def leaning(assumed: Iterable[Assumed]) -> Table:
    """The typical values that figures lean on."""
    columns = ("typical values these figures lean on", "setting", "taken as", "from")
    return Table("leans-on", "Typical values", columns, tuple(tuple(each) for each in assumed), wide={"from"})


def _asked(clauses: Iterable[Clause]) -> list[str]:
    """What is asked, by whom, and how that is known."""
    return [line for clause in {clause.key: clause for clause in clauses}.values()
            for line in textwrap.wrap(f"asked by {cited(clause)}", WIDTH, subsequent_indent="  ")]


def page(lines: Iterable[str]) -> str:
    """Lines as a text, no two blank ones behind each other."""
    kept: list[str] = []
    for line in lines:
        if line.strip() or (kept and kept[-1]):
            kept.append(line.rstrip())
    return "\n".join(kept) + "\n"
