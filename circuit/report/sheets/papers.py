"""All papers of a design in their order: titles, and the tables that each is made of."""

from collections.abc import Callable
from typing import NamedTuple

from circuit.report.account import tables_of
from circuit.report.sheets import records, step_record
from circuit.report.sheets.clause_sheet import coverage
from circuit.report.sheets.findings import findings
from circuit.report.sheets.lists import assumptions, confirmed, parts_list, settings_sheet, tube_schedule
from circuit.report.studies import charge, duties, faults, leak_down, order, reserve, respond, sizes, trials
from circuit.report.table import Table, said_once
from circuit.verdict.judge import Verdict


class Paper(NamedTuple):
    title: str
    tables: tuple[Table, ...]


def papers(judged: Verdict, tell: Callable[[str], None] = lambda words: None) -> tuple[Paper, ...]:
    """Every paper but cover, contents and schematic; of a combination's vehicles also what each is by itself.

    tell: is told what is worked on.
    """
    circuit = judged.circuit
    makers: dict[str, Callable[[], tuple[Table, ...]]] = {
        "Findings": lambda: (findings(judged), *_each(judged, lambda own: (findings(own),))),
        "Parts list": lambda: (parts_list(circuit),),
        "Volume sheet": lambda: sizes.account(judged).tables,
        "Tube schedule": lambda: (tube_schedule(circuit),),
        "Order and cut lists": lambda: order.account(circuit).printed,
        "Settings sheet": lambda: (settings_sheet(circuit),),
        "Duties": lambda: (*duties.account(circuit).tables, *_each(judged, lambda own: duties.account(own.circuit).tables)),
        "Clause coverage": lambda: (coverage(judged), *_each(judged, lambda own: (coverage(own),))),
        "Assumptions": lambda: (assumptions(circuit), confirmed(circuit)),
        "Fault table": lambda: faults.for_papers(circuit),
        "Response prediction": lambda: (*response(judged), *_each(judged, response)),
        "Charging and reserve": lambda: (
            *charging(judged), *applications(judged), *_each(judged, charging), *_each(judged, applications),
            *tables_of(lambda: leak_down.account(circuit), "leaking", "Leaking down")),
        "Trials": lambda: trials.account(circuit).printed if circuit.trials else (),
        "Test record": lambda: (step_record.step_record(judged),),
        "Leak, stroke and balance records": lambda: (
            records.leak_record(judged), records.stroke_record(judged), records.balance_record(judged),
            records.photographs()),
    }
    found = []
    for title, make in makers.items():
        tell(f"working on the {title.lower()}")
        tables = said_once(table for table in make() if table.rows or table.notes)
        if tables:
            found.append(Paper(title, tables))
    return tuple(found)


def response(judged: Verdict) -> tuple[Table, ...]:
    """Application and release, and where the time goes."""
    return tables_of(lambda: respond.account(judged.circuit, _sets(judged)), "response", "Application and release")


def charging(judged: Verdict) -> tuple[Table, ...]:
    """How the reservoirs fill."""
    return tables_of(lambda: charge.account(judged.circuit, _sets(judged)), "build-up", "Charging")


def applications(judged: Verdict) -> tuple[Table, ...]:
    """What full applications leave."""
    return tables_of(lambda: reserve.account(judged.circuit, _sets(judged)), "applications", "Reserve")


def _sets(judged: Verdict) -> tuple[str, ...]:
    return tuple(each.name for each in judged.sets)


def _each(judged: Verdict, make: Callable[[Verdict], tuple[Table, ...]]) -> tuple[Table, ...]:
    """Tables of each vehicle of a combination, where they have rows."""
    return tuple(table._replace(key=f"{table.key}-{name}", title=f"{table.title}: {name}, by itself")
                 for name, verdict in judged.vehicles for table in make(verdict) if table.rows)
