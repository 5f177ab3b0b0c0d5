"""Where the air of a simulation went: what was held, came and left, and what is missing in the sum."""

from collections.abc import Iterable
from typing import NamedTuple

from circuit.model.trace import Trace
from circuit.report.table import Table

ROUNDING = 1e-9
"""Share of the air held beyond which a sum has lost more than roundings; ours come to some 1e-12."""
_COLUMNS = ("run", "at first g", "at last g", "made g", "from outside g", "let out g", "missing", "steps")


class Balanced(NamedTuple):
    """A run's air, kg, as `model.trace.Balance` has it. complete: whether it came to its end with the accuracy asked for."""

    run: str
    first: float
    last: float
    made: float
    fed: float
    vented: float
    drift: float
    steps: int
    complete: bool


def balanced(traces: Iterable[tuple[str, Trace]]) -> tuple[Balanced, ...]:
    """Each run's."""
    return tuple(Balanced(label, float(air.first), float(air.last), float(air.made), float(air.fed), float(air.vented),
                          float(air.drift), trace.steps, trace.complete)
                 for label, trace in traces for air in (trace.balance,))


def table(found: Iterable[Balanced]) -> Table:
    """In g of air, a row for each run, and how exactly each was worked out."""
    rows, notes = [], []
    for each in found:
        rows.append((each.run, *(f"{round(1e3 * value, 3) + 0.0:.3f}" for value in each[1:6]), f"{each.drift:.0e} of it",
                     str(each.steps)))
        notes.append(f"{each.run}: to its end, with the accuracy asked for." if each.complete else
                     f"{each.run}: SHORT of what was asked; see the notes.")
        if abs(each.drift) > ROUNDING:
            notes.append(f"{each.run}: MORE IS MISSING THAN ROUNDING EXPLAINS: do not rely on this run.")
    return Table("balance", "Air balance, g: predicted, all spaces together", _COLUMNS, tuple(rows),
                 tuple(notes or ["Nothing was simulated."]), numbers={*_COLUMNS[1:6]})
