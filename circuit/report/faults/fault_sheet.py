"""The fault table: every single fault, those with the same outcome together, the worst first."""

from circuit.faults.effect import Effect
from circuit.faults.outcome import outcomes
from circuit.faults.study import study
from circuit.model.circuit import Circuit
from circuit.report.faults.losses import later, left, lost
from circuit.report.faults.overview import PLAYED, TITLES, names
from circuit.report.situations import unit_of
from circuit.report.table import Table
from circuit.report.words import FAST


def faults(circuit: Circuit) -> Table:
    found = study(circuit)
    unit = unit_of(circuit)
    groups: dict[tuple[str, str, str, str], list[Effect]] = {}
    for each in outcomes(found):
        row = (TITLES[each.rank], lost(each.seen, unit), later(each, circuit, unit), left(each.seen, unit))
        groups.setdefault(row, []).append(each.effect)
    rows = tuple((title, *(words.replace(FAST, " ") for words in said), names(same, len(same)), "")
                 for (title, *said), same in groups.items())
    columns = ("outcome", "lost", "then", "left", "single faults that do it", "looked at by")
    return Table("faults", "Fault table", columns, rows, (PLAYED.replace(FAST, " "),), frozenset({"looked at by"}),
                 wide=frozenset(columns[1:5]), bands=("outcome",), assumed=bool(circuit.assumed))
