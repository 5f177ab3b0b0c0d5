"""One and the same ramp given whole or in pieces, and when each opening opens while it is played.

Openings are worked out anew by the equations of `reference`, not by the engine's own.
"""

from typing import NamedTuple

import numpy as np

from circuit.sim import Options, feed, leak, move, stop_engine, stop_feeding
from circuit.sim.run import prepare, run
from circuit.studies.hands import fed_heads, pedals, standing
from circuit.studies.leak_down import hole_for
from circuit.units import ATMOSPHERE
from tests.sim.reference import Equations

FULL = ATMOSPHERE + 8e5
BEGINS, SETTLES = 1.0, 2.0
"""s before the ramp, where nothing moves, and after it."""


class Played(NamedTuple):
    """A run and when each opening that was shut as the ramp began first opened, s: by element. pushes: (times, a row of
    Pa each)."""

    problem: object
    trace: object
    opened: dict[int, float]
    pushes: tuple[object, object]


def kinds(circuit):
    """What can be ramped here."""
    heads = fed_heads(circuit, "supply")
    return (*(("apply", "release") if pedals(circuit) or fed_heads(circuit, "control") else ()),
            *(("supply falls", "supply rises") if heads else ()), "leaks")


def play(circuit, kind, pieces, over, share=1.0, options=Options()):
    """A ramp of `over` s in so many pieces. share: how far of all the way; of a leak that much sooner."""
    begins = 4.0 if kind == "release" else 0.0 if kind == "leaks" else BEGINS
    until = begins + over + (0.0 if kind == "leaks" else SETTLES)
    actions = [action for piece in range(pieces)
               for action in _piece(circuit, kind, begins + over * piece / pieces, over / pieces, piece / pieces,
                                    (piece + 1) / pieces, share)]
    start = "empty" if kind == "supply rises" else "charged"
    problem = prepare(circuit, standing(circuit, FULL, *_first(circuit, kind, over, share), *actions), until, start=start,
                      options=options)
    trace = run(problem)
    assert trace.complete
    return Played(problem, trace, *_openings(problem, trace, begins))


def _first(circuit, kind, over, share):
    """What is done before the ramp begins."""
    if kind == "release":
        yield from _hands(circuit, 0.0, 0.1, share)
    if kind == "supply rises":
        yield from (feed(head.name, ATMOSPHERE, 0.0) for head in fed_heads(circuit, "supply"))
    if kind == "leaks":
        yield from (stop_feeding(head.name, 0.0) for head in fed_heads(circuit, "supply"))
        for tank in circuit.reservoirs:
            volume = float(tank.settings.get("volume") or 0.02)
            yield leak(tank.name, hole_for(volume, FULL, share * (FULL - ATMOSPHERE) / over), 0.0)


def _piece(circuit, kind, at, over, one, other, share):
    """One piece of the ramp, from share `one` of its time to `other`."""
    if kind == "leaks":
        # nothing is ramped: the time is cut into pieces by something that changes nothing
        yield stop_engine(at)
    elif kind in ("apply", "release"):
        yield from _hands(circuit, at, over, share * (other if kind == "apply" else 1.0 - other))
    else:
        way = other if kind == "supply rises" else 1.0 - share * other
        yield from (feed(head.name, ATMOSPHERE + way * (FULL - ATMOSPHERE), at, over)
                    for head in fed_heads(circuit, "supply"))


def _hands(circuit, at, over, share):
    yield from (move(device.name, variable, share, at, over) for device, variable in pedals(circuit))
    yield from (feed(head.name, ATMOSPHERE + share * (FULL - ATMOSPHERE), at, over)
                for head in fed_heads(circuit, "control"))


def _openings(problem, trace, begins):
    """When each opening first opened, and every push at ends of steps."""
    equations, arrays = Equations(problem), problem.arrays
    slots = problem.network.sums.inputs
    moments = sorted([(arrays.sg_time[number], 0, number) for number in range(arrays.segments)]
                     + [(event.time, 1, event) for event in trace.events], key=lambda moment: moment[:2])
    times = [float(time) for time in trace.times]
    opened, rows, shut = {}, [], None
    for row, time in enumerate(times):
        if row and time > times[row - 1] and shut:
            push = equations.pushes(time, trace.pressures[row])
            for element in [e for e in shut if push[e] > 0.0]:
                # evenly between ends of steps, where pressures are known best
                share = rows[-1][element] / (rows[-1][element] - push[element])
                opened[element] = times[row - 1] + share * (time - times[row - 1])
                shut.remove(element)
        while moments and moments[0][0] <= time:
            _, event, what = moments.pop(0)
            if event:
                equations.values[slots[what.device, what.variable]] = what.value
            else:
                equations.enter(what)
        push = equations.pushes(time, trace.pressures[row])
        rows.append(push)
        if shut is None and time >= begins:
            shut = {e for e, push_ in enumerate(push) if push_ <= 0.0}
        elif shut:
            for element in [e for e in shut if push[e] > 0.0]:
                opened[element] = time
                shut.remove(element)
    return opened, (np.array(times), np.array(rows))
