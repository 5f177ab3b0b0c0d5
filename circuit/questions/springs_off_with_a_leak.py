"""The springs of a towed vehicle with each leak of its service brakes, for as long as the supply line has its pressure.

What happens
------------
One failure puts springs on while it is driven: they drag, heat and lock wheels.

Mend
----
Put a check valve or a protection valve between what fails and what is to be kept: airwright faults tells what each
failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, Runs, least_spring, of_faults, played
from circuit.faults.effect import Effect
from circuit.faults.sorts import service_leaks
from circuit.faults.study import likeness
from circuit.judging.limits import pressure
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.sim import Variant, feed
from circuit.sim.variants import extras_of
from circuit.studies.hands import RIG_VALVE, fed_heads, standing

SETTLED = 60.0
"""s after which a leak has drawn the supply line down as far as it will; our choice."""


def answer(asked: Asked, clause: Clause) -> Found | None:
    runs = asked.once(_fed, clause)
    if runs is None or not asked.study.whole.springs:
        return None
    heads, level = [head.name for head in fed_heads(asked.circuit, "supply")], pressure(clause.procedure, "supply")

    def spare(trace: Trace, spring: Device) -> float:
        falls = [trace.first_time(head, level, rising=False) for head in heads]
        until = min((time for time in falls if time is not None), default=trace.end)
        return float(trace.lowest(asked.circuit.spring_space(spring), 0.0, until) - spring.settings["holds-off-at"])

    return least_spring(asked, runs, spare, "holds off",
                        lambda worst: f"the worst of {len(runs)} single leaks is {worst.fault.name}")


def _fed(asked: Asked, clause: Clause) -> Runs:
    """Each leak of the service brakes with the rig flowing, the widest of those that are alike."""
    circuit = asked.circuit
    widest: dict[object, tuple[float, Effect]] = {}
    for effect in service_leaks(asked.study):
        wide = sum(extra.conductance for extra in extras_of(circuit, Variant("", effect.fault.parts)))
        like = likeness(asked.study.whole, effect.fault)
        if like not in widest or widest[like][0] < wide:
            widest[like] = wide, effect
    heads, rig = fed_heads(circuit, "supply"), pressure(clause.procedure, "rig")
    if not widest or not heads:
        return None
    faults = [effect for _, effect in widest.values()]
    return played(asked, faults, standing(circuit, rig, *(feed(head.name, rig, 0.0, 0.0, RIG_VALVE) for head in heads)),
                  SETTLED)


QUESTION = of_faults("springs-off-with-a-leak", "whether the springs stay off, with a leak and the supply line fed", answer)
