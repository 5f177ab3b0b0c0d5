"""How far each passage of a part stands open at given pressures, from the functions that a simulation integrates."""

from collections.abc import Mapping
from math import cos, pi
from typing import NamedTuple

from circuit.declaring.kind import Kind
from circuit.declaring.section import CYCLE, PUMP
from circuit.sections import way
from circuit.sim.script import Options
from circuit.units import ATMOSPHERE

Pressures = Mapping[str, float]
WIDE = Options().opening
"""Pa over which a simulation opens a valve."""


class Inside(NamedTuple):
    """A part at a moment. pressures: absolute Pa by port. settings: SI. state: its hands, coils and latches."""

    kind: Kind
    settings: Mapping[str, float]
    pressures: Pressures
    state: Mapping[str, float]

    def pressure(self, port: str) -> float:
        """Absolute Pa at a port; an exhaust and the outside have none of their own."""
        return self.pressures.get(port, ATMOSPHERE)


def share(push: float) -> float:
    """How far Pa that push a passage open open it, 0 to 1, as `sim/elements` has it.

    >>> share(-1.0), share(7500.0), share(15000.0)
    (0.0, 0.5, 1.0)
    """
    part = min(max(push / WIDE, 0.0), 1.0)
    return part * part * (3.0 - 2.0 * part)


def pumping(inside: Inside) -> tuple[dict[str, float], dict[str, float]]:
    """Of a pump: how far its two valves stand open, and its other values. Its stroke is an illustration.

    Loaded, the inlet opens as the piston goes down and the discharge valve late as it comes up; unloaded, the inlet is held.
    """
    source = inside.kind.source
    if source is None:
        return {}, {}
    cycle = inside.state.get(CYCLE, 0.3)
    rests = share(source.rests(_everywhere(inside), inside.settings, inside.state))
    down = 0.05 < cycle < 0.5
    inlet, discharge = max(rests, float(down)), (1.0 - rests) * float(cycle > 0.7)
    return {PUMP[0]: inlet, PUMP[1]: discharge}, {"rests": rests, "stroke": 0.5 - 0.5 * cos(2 * pi * cycle)}


def cylinder(inside: Inside) -> float:
    """Absolute Pa over a pump's piston, as a picture has it: a little beyond what is taken in from or delivered to."""
    valves, more = pumping(inside)
    cycle = inside.state.get(CYCLE, 0.3)
    if more["rests"] > 0.5 or cycle <= 0.5:
        return ATMOSPHERE + (-5e3 if cycle <= 0.5 else 5e3)
    rising = min(1.0, (cycle - 0.5) / 0.2)
    return ATMOSPHERE + rising * (inside.pressure("2") - ATMOSPHERE + 20e3)


def _everywhere(inside: Inside) -> dict[str, float]:
    return {port.number: inside.pressure(port.number) for port in inside.kind.ports}


def shares(inside: Inside) -> dict[str, float]:
    """How far each way stands open, the widest of its passages."""
    everywhere, found = _everywhere(inside), pumping(inside)[0]
    for passage in inside.kind.passages:
        opened = 1.0 if passage.opening is None else share(passage.opening(everywhere, inside.settings, inside.state))
        found[way(passage)] = max(found.get(way(passage), 0.0), opened)
    return found


def values(inside: Inside) -> dict[str, float]:
    """The further values by which a section's pieces move: state variables, and those of a pump."""
    return {**inside.state, **pumping(inside)[1]}
