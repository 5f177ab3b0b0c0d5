"""The way a signal went through a circuit, found from when it arrived where, and what each part of it cost."""

from typing import NamedTuple

from circuit.declaring.traits import Role
from circuit.model.circuit import SPACE_OUTSIDE, Circuit
from circuit.model.trace import Trace
from circuit.units import ATMOSPHERE

SOUND = 343.0
"""m/s in air at 20 °C: no change of pressure is quicker; not in the simulated times."""


class Leg(NamedTuple):
    """One part of the way. part: its title, name: its name. costs: s between the signal at its two ends."""

    part: str
    name: str
    costs: float


class Pathway(NamedTuple):
    """legs: from the pedal or the rig on. length: m of line in it."""

    legs: tuple[Leg, ...]
    length: float

    @property
    def sound(self) -> float:
        """s that the front itself takes over the lines."""
        return self.length / SOUND


def pathway(circuit: Circuit, trace: Trace, space: int, share: float, began: float, settled: float,
            rising: bool = True) -> Pathway:
    """The way by which a share of the whole change came to a space, from its first cause.

    share: of each space's own change between `began` and `settled`, s. A space that hardly changes carries no signal.
    """
    arrivals = {index: arrival(trace, index, share, began, settled, rising) for index in circuit.ports_of
                if index != SPACE_OUTSIDE and index in trace.node}
    legs: list[Leg] = []
    length = 0.0
    here, seen = space, {space}
    while (at := arrivals.get(here)) is not None:
        candidates = []
        for way in circuit.ways_at[here]:
            sources = [way.start if way.end == here else way.end] if way.end == here or way.passage.both_ways else []
            if way.end == here:
                controls = way.device.kind.ports_as(Role.CONTROL)
                sources += [circuit.space_of(way.device, port.number) for port in controls]
            for source in sources:
                time = arrivals.get(source)
                if source not in seen and time is not None and time <= at + 1e-9:
                    candidates.append((time, source, way.device))
        if not candidates:
            ends = [way.device for way in circuit.ways_at[here] if way.end == here and not way.device.is_line]
            owner = ends[0] if ends else None
            head = owner or circuit.by_name[circuit.ports_of[here][0][0]]
            legs.append(Leg(head.title, head.name, at - began))
            break
        time, source, device = min(candidates, key=lambda c: (c[0], c[1]))
        legs.append(Leg(device.title, device.name, at - time))
        if device.is_line:
            length += float(device.settings.get("length") or 0.0)
        seen.add(source)
        here = source
    return Pathway(tuple(reversed(legs)), length)


def arrival(trace: Trace, space: int, share: float, began: float, settled: float, rising: bool = True) -> float | None:
    """When a share of a space's own change has come, s; None for one that hardly changes."""
    first, last = trace.pressure(space, began), trace.pressure(space, settled)
    if (last - first if rising else first - last) < 0.1 * max(abs(first - ATMOSPHERE), abs(last - ATMOSPHERE), 0.5e5):
        return None
    return trace.first_time(space, first + share * (last - first), rising, began)
