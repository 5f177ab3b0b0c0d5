"""Where one mistake shows at several brakes: what stops the air on its way to them, so that it is said once."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Mend
from circuit.model.air import Air
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey, Way
from circuit.source import Span

MOST_MENDS = 8
"""How many lines are tried to bring air to brakes that lack it."""


def listed(names: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def rows(ways: Iterable[Way] | None, says: str, most: int = 6) -> tuple[tuple[Span, str], ...]:
    """The rows of what lies on some ways, each once, for a finding to show."""
    spans = dict.fromkeys(way.device.span.outermost for way in ways or ())
    return tuple((span, says) for span in list(spans)[:most])


def loose_ends(circuit: Circuit, most: int = 4) -> tuple[tuple[Span, str], ...]:
    """Rows of ports that are plugged, and of spaces that one port alone comes to: where something could be meant to be joined."""
    found: dict[Span, str] = {}
    for name, port in circuit.plugged:
        found.setdefault(circuit.by_name[name].span.outermost, f"{circuit.port_name((name, port))} is plugged")
    for space, keys in circuit.ports_of.items():
        joined = [key for key in keys if circuit.by_name[key[0]].is_line]
        if space != SPACE_OUTSIDE and len(keys) - len(joined) <= 1 and len(joined) == 1:
            row = circuit.by_name[joined[0][0]].span.outermost
            if all(circuit.by_name[key[0]].has(Trait.JOINS) or key in joined for key in keys):
                found.setdefault(row, "this line leads to nothing else")
    return tuple(found.items())[:most]


def together(devices: Iterable[Device], cause: Callable[[Device], Device | None]) -> list[tuple[Device, list[Device]]]:
    """Devices gathered by their cause, in order; a device without one stands for itself."""
    groups: dict[str, tuple[Device, list[Device]]] = {}
    for device in devices:
        found = cause(device) or device
        groups.setdefault(found.name, (found, []))[1].append(device)
    return list(groups.values())


@dataclass(frozen=True)
class Exchange:
    """What is joined to two ports, exchanged."""

    one: PortKey
    other: PortKey

    def __call__(self, circuit: Circuit) -> Circuit:
        return circuit.exchanged(self.one, self.other)


def exchange(one: PortKey, other: PortKey) -> Mend:
    return Exchange(one, other)


def unplug(device: Device, port: str) -> Mend:
    """A plug or a dead line taken off an exhaust."""
    return lambda c: c.unplugged(device, port)


@dataclass(frozen=True)
class Set:
    """A setting of a part given another value."""

    name: str
    setting: str
    value: str

    def __call__(self, circuit: Circuit) -> Circuit:
        return circuit.with_setting(circuit.by_name[self.name], self.setting, self.value)


def open_cock(cock: Device) -> Mend:
    """A cock that stands shut, opened."""
    return Set(cock.name, "state", "open")


def join(one: PortKey, other: PortKey) -> Mend:
    """A forgotten line drawn."""
    return lambda c: c.joined(one, other)


@dataclass(frozen=True)
class Move:
    """The end of a line taken to another port."""

    end: PortKey
    port: PortKey

    def __call__(self, circuit: Circuit) -> Circuit:
        return circuit.moved(self.end, self.port)


def move(end: PortKey, port: PortKey) -> Mend:
    return Move(end, port)


def take(port: PortKey) -> Mend:
    """A forgotten part put into a hole."""
    return lambda c: c.taken(port)


def fed(evidence: Evidence, ports: list[PortKey], cause: Device, signals: bool) -> tuple[Mend, ...]:
    """Ways to bring air to ports that lack it: a cock opened, or lines to each space that could be meant to feed them.

    signals: the air that comes and goes with the pedal; else what is there while driving and gone while parked.
    """
    circuit = evidence.circuit
    if cause.has(Trait.SHUTS_BY_HAND):
        return (open_cock(cause),)
    before, after = (evidence.braking, evidence.driving) if signals else (evidence.driving, evidence.parked)
    spaces = dict.fromkeys(min(evidence.zone(space)) for space in before.level
                           if before.is_charged(space) and not after.is_charged(space))

    def led(c: Circuit, target: PortKey) -> Circuit:
        for port in ports:
            c = c.joined(port, target)
        return c

    return tuple(partial(led, target=circuit.ports_of[space][0]) for space in list(spaces)[:MOST_MENDS])


def stopping(cause: Device) -> str:
    """The part that air stops at, for a sentence."""
    shut = cause.has(Trait.SHUTS_BY_HAND) and cause.settings["state"] == "shut"
    return f"{cause.title}, which stands shut" if shut else cause.title


def stops_at(air: Air, space: int) -> Device | None:
    """The nearest part on the way to a space that has air ahead of it and none behind it.

    Where no part has air ahead of it, the farthest valve that leads to the space.
    """
    farthest: Device | None = None
    for way, source in upstream(air.circuit, space):
        if air.is_charged(source):
            return way.device
        if not way.device.is_line:
            farthest = way.device
    return farthest


def valve_before(circuit: Circuit, space: int) -> Device | None:
    """The nearest valve or reservoir on the way to a space."""
    for way, source in upstream(circuit, space):
        if not way.device.is_line:
            return way.device
        stores = circuit.on_space(source, Trait.STORES_AIR)
        if stores:
            return stores[0]
    return None


def upstream(circuit: Circuit, space: int) -> Iterator[tuple[Way, int]]:
    """The ways that lead to a space, nearest first, each with the space it comes from.

    Valves are gone through as they are made to be, though some let air return; lines and cocks from either end.
    """
    seen = {space}
    todo = [space]
    for here in todo:
        for way in circuit.ways_at[here]:
            either = way.passage.both_ways and (way.passage.opening is None or way.device.has(Trait.SHUTS_BY_HAND))
            source = way.start if way.end == here else way.end if either else SPACE_OUTSIDE
            if source != SPACE_OUTSIDE and source not in seen:
                seen.add(source)
                todo.append(source)
                yield way, source
