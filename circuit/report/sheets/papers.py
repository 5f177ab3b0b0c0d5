"""All papers of a design in their order: titles, and the tables that each is made of."""

from collections.abc import Callable
from typing import NamedTuple

from circuit.judging.rule import Result
from circuit.report.faults.fault_sheet import faults
from circuit.report.sheets import motion, records, step_record, stored, volume_sheet
from circuit.report.sheets.clause_sheet import SIMULATED, coverage
from circuit.report.sheets.findings import findings
from circuit.report.sheets.lists import assumptions, parts_list, settings_sheet, tube_schedule
from circuit.report.table import Table, said_once
from circuit.verdict.judge import Verdict

RESPONSE = "Response prediction"


class Paper(NamedTuple):
    title: str
    tables: tuple[Table, ...]


def papers(judged: Verdict, tell: Callable[[str], None] = lambda words: None) -> tuple[Paper, ...]:
    """Every paper but cover, contents and schematic; of a combination's vehicles also what each is by itself.

    tell: is told what is worked on.
    """
    circuit = judged.circuit
    makers: dict[str, Callable[[], tuple[Table, ...]]] = {
        "Findings": lambda: (findings(judged), *_each(judged, findings)),
        "Parts list": lambda: (parts_list(circuit),),
        "Volume sheet": lambda: volume_sheet.sheet(judged),
        "Tube schedule": lambda: (tube_schedule(circuit),),
        "Settings sheet": lambda: (settings_sheet(circuit),),
        "Clause coverage": lambda: (_coverage(judged), *_each(judged, _coverage)),
        "Assumptions": lambda: (assumptions(circuit),),
        "Fault table": lambda: (faults(circuit),),
        RESPONSE: lambda: (_response(judged), _ways(judged), *_each(judged, _response)),
        "Charging and reserve": lambda: (
            _build_up(judged), *_each(judged, _build_up), stored.duty(circuit, _sets(judged)), _applications(judged),
            *_each(judged, _applications), _limits(judged), *_each(judged, _limits), stored.leaking(circuit)),
        "Trials": lambda: (motion.trials(circuit),),
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


def in_motion(judged: Verdict) -> tuple[Table, ...]:
    """What simulations say: response, build-up, applications. What several take for granted is said at the first."""
    return said_once((_response(judged), _build_up(judged), _applications(judged)))


def _sets(judged: Verdict) -> tuple[str, ...]:
    return tuple(each.name for each in judged.sets)


def _response(judged: Verdict) -> Table:
    return motion.response(judged.circuit, _sets(judged))


def _ways(judged: Verdict) -> Table:
    return motion.ways(judged.circuit, _sets(judged))


def _build_up(judged: Verdict) -> Table:
    return stored.build_up(judged.circuit, _sets(judged))


def _applications(judged: Verdict) -> Table:
    return stored.applications(judged.circuit, _sets(judged))


def _limits(judged: Verdict) -> Table:
    return stored.limits(judged.circuit, _sets(judged))


def _coverage(judged: Verdict) -> Table:
    return pointed(coverage(judged), in_motion(judged))


def _each(judged: Verdict, make: Callable[[Verdict], Table]) -> tuple[Table, ...]:
    """A table for each vehicle of a combination, where it has rows."""
    own = ((name, make(verdict)) for name, verdict in judged.vehicles)
    return tuple(table._replace(key=f"{table.key}-{name}", title=f"{table.title}: {name}, by itself")
                 for name, table in own if table.rows)


def pointed(table: Table, moving: tuple[Table, ...]) -> Table:
    """Clause coverage, where a clause that a drawing leaves open, or counts from volumes, points at the simulation."""
    times: dict[str, set[str]] = {}
    for each in moving:
        if "asked by" in each.columns:
            for cited, time in zip(each.column("asked by"), each.column("time s")):
                if cited:
                    times.setdefault(cited, set()).add(time)
    outcome, clause, seen = (table.columns.index(name) for name in ("outcome", "clause", "what was seen"))
    rows = []
    for row in table.rows:
        words = row[seen]
        if row[clause] in times and row[outcome] == Result.UNDECIDED.value:
            words = "not decided by the drawing; figures of a simulation are under " + RESPONSE.lower()
        elif row[clause] in times and not words.endswith(SIMULATED):
            given = times[row[clause]]
            words += "; counted from volumes: " + (f"a simulation gives {min(given)} s" if len(given) == 1 else
                                                   "a simulation's times are under charging and reserve")
        rows.append((*row[:seen], words, *row[seen + 1:]))
    return table._replace(rows=tuple(rows))
