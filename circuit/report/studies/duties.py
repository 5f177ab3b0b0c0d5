"""The table of duties in words."""

from circuit.judging.evidence import Evidence
from circuit.report.account import Account
from circuit.report.table import Table
from circuit.studies.duties import Duties, table_of
from circuit.model.circuit import Circuit

KEY, RECORD = "duties", Duties
_COLUMNS = ("answer", "place", "has to", "when", "found")


def account(circuit: Circuit) -> Account:
    """Every duty of a circuit."""
    found = table_of(Evidence(circuit))
    return Account(KEY, "Duties", circuit, found, (_table(found),), is_met=not found.broken)


def _table(found: Duties) -> Table:
    rows = tuple((each.answer, each.place, each.duty, each.when, each.found) for each in found.rows)
    return Table(KEY, "Duties", _COLUMNS, rows, (
        f"{found.kept} kept, {found.broken} broken, {found.open} not decided. Predicted from the circuit at rest, with every "
        "store full and the vehicle laden: how fast it is, and how hard, takes a simulation and a test.",
        "With a store lost, its reservoir and whatever empties with it are empty, and all others are full."),
        wide={"place", "has to", "when", "found"}, marks=tuple((each.place,) for each in found.rows), joined="place")
