"""All papers of a design in their order: titles, and the tables that each is made of."""

from typing import NamedTuple

from circuit.report.sheets import predicted, records, volume
from circuit.report.sheets.cautions import CAUTIONS
from circuit.report.sheets.clauses import coverage
from circuit.report.sheets.parts import assumptions, parts_list, settings_sheet, tube_schedule
from circuit.report.sheets.table import Table, said_once
from circuit.rules.judge import Verdict
from circuit.rules.rule import Result

RESPONSE = "Response prediction"


class Paper(NamedTuple):
    title: str
    tables: tuple[Table, ...]


def papers(judged: Verdict) -> tuple[Paper, ...]:
    """Every paper but the cover and the schematic."""
    circuit = judged.circuit
    moving = in_motion(judged)
    return (
        Paper("Parts list", (parts_list(circuit),)),
        Paper("Volume sheet", volume.sheet(judged)),
        Paper("Tube schedule", (tube_schedule(circuit),)),
        Paper("Settings sheet", (settings_sheet(circuit),)),
        Paper("Clause coverage", (pointed(coverage(judged), moving), *(_of_vehicle(name, own) for name, own in judged.vehicles))),
        Paper("Assumptions", (assumptions(circuit),)),
        Paper("Fault table", (predicted.faults(circuit),)),
        Paper(RESPONSE, moving),
        Paper("Test record", (records.test_record(judged),)),
        Paper("Leak, stroke and balance records", (
            records.leak_record(judged), records.stroke_record(judged), records.balance_record(judged),
            records.photographs())),
        Paper("Cautions", (cautions(),)),
    )


def in_motion(judged: Verdict) -> tuple[Table, ...]:
    """What simulations say: response, build-up, applications. What several took for granted is said once, at the first."""
    circuit = judged.circuit
    sets = tuple(each.name for each in judged.sets)
    return said_once((predicted.response(circuit, sets), predicted.build_up(circuit), predicted.applications(circuit)))


def pointed(table: Table, moving: tuple[Table, ...]) -> Table:
    """Clause coverage, where a clause that the drawing leaves open points at the simulation that has its figures."""
    known = {cell for each in moving if "asked by" in each.columns for cell in each.column("asked by") if cell}
    outcome, clause, seen = (table.columns.index(name) for name in ("outcome", "clause", "what was seen"))
    rows = []
    for row in table.rows:
        if row[outcome] == Result.UNDECIDED.value and row[clause] in known:
            words = "not decided by the drawing; figures of a simulation are under " + RESPONSE.lower()
            row = (*row[:seen], words, *row[seen + 1:])
        rows.append(row)
    return table._replace(rows=tuple(rows))


def cautions() -> Table:
    return Table("cautions", "Cautions", ("no.", "caution"), tuple((str(n), each) for n, each in enumerate(CAUTIONS, 1)),
                 wide=frozenset({"caution"}))


def _of_vehicle(name: str, judged: Verdict) -> Table:
    own = coverage(judged)
    return own._replace(key=f"clauses-{name}", title=f"Clause coverage: {name}, by itself")
