"""The fault table: every single fault, those with the same outcome together, the worst first."""

from circuit.faults.effect import Effect
from circuit.faults.study import rank, study
from circuit.model.circuit import Circuit
from circuit.report.faults.overview import ASSUMED, TITLES, left, lost, names
from circuit.report.situations import unit_of
from circuit.report.table import Table


def faults(circuit: Circuit) -> Table:
    found = study(circuit)
    unit = unit_of(circuit)
    groups: dict[tuple[str, str, str], list[Effect]] = {}
    for effect in found.effects:
        groups.setdefault((TITLES[rank(effect)], lost(effect, unit), left(effect, unit)), []).append(effect)
    rows = tuple((title, *(words.replace("\u00a0", " ") for words in (gone, kept)), names(same, len(same)), "")
                 for (title, gone, kept), same in groups.items())
    columns = ("outcome", "lost", "left", "single faults that do it", "looked at by")
    return Table("faults", "Fault table", columns, rows, (ASSUMED,), frozenset({"looked at by"}),
                 wide=frozenset(columns[1:4]), bands=("outcome",), assumed=bool(circuit.assumed))
