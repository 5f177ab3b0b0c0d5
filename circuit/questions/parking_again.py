"""Whether a parking brake that was released comes on again, at many combinations of reservoir pressures and with each
single leak; a trailer's with its supply line just above a pressure, and full.

What happens
------------
Springs that were let off may not come on again, and the vehicle rolls.

Mend
----
Let the springs' air out by a valve that opens whatever the reservoirs hold.
"""

from collections.abc import Iterator
from itertools import product

from circuit.clauses import Clause
from circuit.faults.sorts import single_service_leaks
from circuit.judging.limits import pressure
from circuit.judging.limits import time as time_of
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question
from circuit.model.circuit import Circuit
from circuit.sim import Script, Variant
from circuit.studies.hands import PSI
from circuit.studies.once import simulate_many
from circuit.studies.parking import Control, control_of, pots, springs_on
from circuit.units import ATMOSPHERE

LEVELS = tuple(ATMOSPHERE + psi * PSI for psi in (100, 60, 30, 0))
"""Absolute Pa in each service reservoir, in every combination; our choice."""
RELEASED = 2.0
"""s at which the brake is released; our choice."""
LIFTS_IN = 20.0
"""s that a released brake is left to lift; our choice."""
ABOVE = 5 * PSI
"""Pa by which a trailer's supply line is above the pressure that may not release its brake; our choice."""


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    control = control_of(circuit)
    if control is None:
        return
    how = clause.procedure
    start, looked = pressure(how, "start"), time_of(how, "looked")
    ends = RELEASED + LIFTS_IN + 2 * looked
    lines = (pressure(how, "trailer") + ABOVE, start) if control.heads else (start,)
    tanks = circuit.reservoirs_for("service")
    combined: list[Variant] = []
    for line, levels in product(lines, product(LEVELS, repeat=min(len(tanks), 2))):
        pressures = {tank.name: levels[min(number, len(levels) - 1)] for number, tank in enumerate(tanks)}
        words = " and ".join(f"{(level - ATMOSPHERE) / PSI:.0f} psi" for level in levels)
        combined.append(Variant(f"from {words} in the reservoirs",
                                script=_again(circuit, clause, control, line, pressures)))
    runs = [(trace.label, trace) for trace in simulate_many(circuit, Script(), combined, ends)]
    leaks = single_service_leaks(circuit)
    traces = simulate_many(circuit, _again(circuit, clause, control, start, {"reservoirs": start}),
                           [Variant(fault.name, fault.parts) for fault in leaks], ends)
    runs += [(f"with {fault.name}", trace) for fault, trace in zip(leaks, traces)]
    yield from springs_on(circuit, clause, runs, RELEASED + LIFTS_IN + looked, "applied again")


def _again(circuit: Circuit, clause: Clause, control: Control, line: float, pressures: dict[str, float]) -> Script:
    """Applied at once, released, applied again."""
    start = pressure(clause.procedure, "start")
    actions = (*control.on(0.0), *control.off(RELEASED, line), *control.on(RELEASED + LIFTS_IN))
    return Script(actions, "driving" if control.heads else "parked", {**pressures, **{head: start for head in control.heads}},
                  rigs=pots(circuit, clause))


QUESTION = Question("parking-again", "whether a released parking brake can be put on again", answer)
