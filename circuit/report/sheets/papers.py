"""All papers of a design in their order: titles, and the tables that each is made of."""

from typing import NamedTuple

from circuit.report.sheets import predicted, records
from circuit.report.sheets.cautions import CAUTIONS
from circuit.report.sheets.clauses import coverage
from circuit.report.sheets.parts import assumptions, parts_list, settings_sheet, tube_schedule
from circuit.report.sheets.table import Table
from circuit.report.sheets.volume import chambers, ratios, reservoirs
from circuit.rules.judge import Verdict


class Paper(NamedTuple):
    title: str
    tables: tuple[Table, ...]


def papers(judged: Verdict) -> tuple[Paper, ...]:
    """Every paper but the cover and the schematic."""
    circuit = judged.circuit
    return (
        Paper("Parts list", (parts_list(circuit),)),
        Paper("Volume sheet", (ratios(judged), reservoirs(judged), chambers(judged))),
        Paper("Tube schedule", (tube_schedule(circuit),)),
        Paper("Settings sheet", (settings_sheet(circuit),)),
        Paper("Clause coverage", (coverage(judged), *(_of_vehicle(name, own) for name, own in judged.vehicles))),
        Paper("Assumptions", (assumptions(circuit),)),
        Paper("Fault table", (predicted.faults(circuit),)),
        Paper("Response prediction", (predicted.response(circuit), predicted.build_up(circuit),
                                      predicted.applications(circuit))),
        Paper("Test record", (records.test_record(judged),)),
        Paper("Leak, stroke and balance records", (
            records.leak_record(judged), records.stroke_record(judged), records.balance_record(judged),
            records.photographs())),
        Paper("Cautions", (cautions(),)),
    )


def cautions() -> Table:
    return Table("cautions", "Cautions", ("no.", "caution"), tuple((str(n), each) for n, each in enumerate(CAUTIONS, 1)),
                 wide=frozenset({"caution"}))


def _of_vehicle(name: str, judged: Verdict) -> Table:
    own = coverage(judged)
    return own._replace(key=f"clauses-{name}", title=f"Clause coverage: {name}, by itself")
