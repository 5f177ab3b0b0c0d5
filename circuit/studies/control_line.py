"""What a towed vehicle's control line loses on its way to the vehicle behind."""

from collections.abc import Iterator
from math import pi
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.gas.flow import SHARP_HOLE, from_area
from circuit.judging.limits import difference as allowed_by
from circuit.judging.limits import length, pressure, volume
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Rig, feed
from circuit.studies.hands import PSI, fed_heads, standing, tail_heads
from circuit.studies.once import simulate
from circuit.units import ATMOSPHERE

SETTLES = 240.0
"""s that the rig's small orifice is given to fill the control line, and to empty it; our choice."""
LEAST = 5 * PSI
"""Pa at the input below which nothing is compared; our choice."""


class Difference(NamedTuple):
    """gap, allowed: Pa between the input of a control line and its output. at: absolute Pa at the input then. place:
    where the output is taken. complete: whether the runs reached their end."""

    gap: float
    allowed: float
    at: float
    place: str
    complete: bool = True

    @property
    def figure(self) -> Figure:
        return Figure(f"difference at {(self.at - ATMOSPHERE) / PSI:.0f} psi", self.gap, self.allowed, "difference",
                      at_least=False)


def difference(circuit: Circuit, clause: Clause) -> Difference | None:
    """The worst difference of input and output, the line filled and emptied through the orifice of the clause's rig, with
    its vessel on the output; None for a vehicle that passes no control line on."""
    inputs, outputs = fed_heads(circuit, "control"), tail_heads(circuit, "control")
    if not inputs or not outputs:
        return None
    how = clause.procedure
    start, empties_from = pressure(how, "start"), pressure(how, "empties_from")
    pots = tuple(Rig(head.name, volume(how, "vessel"), name=f"pot on {head.name}") for head in outputs)
    orifice = from_area(SHARP_HOLE * pi / 4 * length(how, "hole") ** 2)
    found: list[tuple[float, Difference]] = []
    for first, falls in ((start, False), (empties_from, True)):
        actions = [feed(head.name, first, 0.0, 0.0, orifice) for head in inputs]
        if falls:
            actions += [feed(head.name, ATMOSPHERE, SETTLES, 0.0, orifice) for head in inputs]
        trace = simulate(circuit, standing(circuit, start, *actions, rigs=pots), 2 * SETTLES if falls else SETTLES)
        if not trace.complete:
            return Difference(0.0, 0.0, ATMOSPHERE, outputs[0].name, False)
        for pot in pots:
            found += [(share, Difference(gap, allowed, at, pot.name)) for share, gap, allowed, at in
                      _differences(trace, inputs[0].name, pot.name, clause, SETTLES if falls else 0.0)]
    return max(found, key=lambda each: each[0])[1]


def _differences(trace: Trace, head: str, pot: str, clause: Clause, after: float
                 ) -> Iterator[tuple[float, float, float, float]]:
    """Share of what is allowed, Pa of difference, Pa allowed and absolute Pa at the input, at the end of each step."""
    for time, at, out in zip(trace.times, trace.at_steps(head), trace.at_steps(pot)):
        if time < after or at - ATMOSPHERE < LEAST:
            continue
        allowed = _allowed(clause, at)
        yield abs(at - out) / allowed, abs(at - out), allowed, at


def _allowed(clause: Clause, at: float) -> float:
    """Pa that an input of some absolute Pa allows."""
    for band in ("low", "middle"):
        if at <= pressure(clause.limit, f"{band}_up_to"):
            return allowed_by(clause.limit, band)
    return float(clause.limit["high_share"]) * (at - ATMOSPHERE)
