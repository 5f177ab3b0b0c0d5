"""Response times under one clause, as predictions: one for each place."""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.judging.prediction import Predicted
from circuit.judging.question import by, fell_short
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.studies.hands import CannotAsk
from circuit.studies.respond import Timed, timed
from circuit.units import shown


def predicted(circuit: Circuit, clause: Clause, does: str, at_coupling: bool) -> Iterator[Predicted]:
    """does: `comes on` or `lets go`. at_coupling: at the heads to a vehicle behind, not at the chambers."""
    try:
        rows, complete, assumed = timed(circuit, clause, at_coupling)
    except CannotAsk:
        return
    if rows and not complete:
        yield fell_short(clause)
        return
    yield from (_told(clause, each, each.limit, does, assumed) for each in rows if each.limit is not None)


def _told(clause: Clause, found: Timed, limit: float, does: str, assumed: tuple[Assumed, ...]) -> Predicted:
    if found.time.value is None:
        return by(clause, -1.0, found.name, f"{found.name} does not get there")
    counted = found.counted(found.time.value)
    what = f"time before it is rounded to {found.step:g} s" if found.step else "time"
    figure = Figure(what, found.time.value, limit + found.step / 2, "time", at_least=False)
    says = f"{found.name} {does}" + ("" if found.is_met or found.hangs else " too late")
    if found.share is not None and found.hangs:
        says += (f" in time in {100 * found.share:.0f} % of {found.time.runs} plausible vehicles, half of them within "
                 f"{shown(found.time.value, 'time')}")
    elif found.step:
        says += f": {shown(found.time.value, 'time')}"
    says += f", which counts as {shown(counted, 'time')}" if found.step else ""
    return by(clause, figure.margin, found.name, says, figure, assumed, found.hangs)
