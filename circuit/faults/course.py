"""How fast a leak is: what it takes in a minute, and how long until a warning comes on and springs do.

Read from the run of the fault's stop, the engine standing. Times are s, pressures Pa.
"""

from typing import NamedTuple

from circuit.faults.effect import Effect
from circuit.faults.sorts import opens_a_way
from circuit.faults.stops import Run
from circuit.faults.study import Study
from circuit.faults.times import is_slow, springs_in, warnings_in

MINUTE = 60.0
LEAST = 100.0
"""Pa a minute below which nothing is lost that a run can tell from its own error; our choice."""


class Course(NamedTuple):
    """rate: Pa that the reservoir which falls the fastest loses in the first minute, 0 where none does. warning, springs: s until
    they come on; null where they do not before the pedal goes down at `until`."""

    rate: float
    warning: float | None
    springs: float | None
    until: float


def course(study: Study, effect: Effect, run: Run) -> Course | None:
    """The course of a leak until the pedal goes down; None for what is no leak."""
    circuit, trace, until = study.circuit, run.trace, run.acts.pedal
    if not effect.fault.parts or not is_slow(circuit, effect) or not opens_a_way(circuit, effect.fault):
        return None
    first = min(MINUTE, until)
    falls = [trace.pressure(tank.name, 0.0) - trace.pressure(tank.name, first) for tank in circuit.reservoirs
             if tank.settings["role"] != "regeneration"]
    warned, sprung = ([event.time for event in found if event.kind in ("warning", "springs") and event.time < until]
                      for found in (warnings_in(circuit, trace), springs_in(study, trace)))
    rate = max(falls, default=0.0) * MINUTE / first
    return Course(rate if rate >= LEAST else 0.0, min(warned, default=None), min(sprung, default=None), until)
