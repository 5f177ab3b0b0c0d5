"""The single changes of a circuit that could have been meant: ends of two lines exchanged, what stands at two ports of a part
exchanged, a part taken out, one end of a line taken elsewhere, a line drawn to a port that nothing comes to.

Only what stands on the way to a broken place is changed, so that the cost does not grow with what is far away.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from itertools import chain, zip_longest
from typing import NamedTuple

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import exchange, join, move
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Mend
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey
from circuit.source import Span

LINES, PARTS, TARGETS = 18, 10, 8
"""How many lines and parts on the way to what is broken are changed, and to how many places each."""
REACH = 10
"""How many steps up the way from a broken place are looked at."""

Broken = frozenset[tuple[str, str]]
"""Duties and rules by name, each with the place that breaks it."""


class Change(NamedTuple):
    """thing: what is changed. says: what stands there now. remedy: an order. also: other rows that show it."""

    thing: Device
    says: str
    remedy: str
    mend: Mend
    also: tuple[tuple[Span, str], ...] = ()


def changes(evidence: Evidence, before: Broken) -> Iterator[Change]:
    """The likeliest first: parts turned, forgotten lines, ends that belong to a port without one, lines exchanged, the rest."""
    circuit = evidence.circuit
    lines, parts = _suspects(circuit, before)
    alone = _alone(circuit, parts)
    return chain(_turned(circuit, parts), _taken_out(circuit, parts), _forgotten(circuit, alone),
                 _drawn(circuit, alone), _homeless(circuit, alone), _exchanged(circuit, lines), _moved(evidence, lines))


def _suspects(circuit: Circuit, before: Broken) -> tuple[list[Device], list[Device]]:
    """Lines and parts on the way to what is broken, the nearest first; of places that suffer unlike, each in turn."""
    suffers: dict[str, set[str]] = {}
    for name, place in before:
        suffers.setdefault(place, set()).add(name)
    alike: dict[frozenset[str], Counter[str]] = {}
    for place, names in sorted(suffers.items()):
        near = alike.setdefault(frozenset(names), Counter())
        for start in _starts(circuit, place):
            near[start.name] += REACH
            for step, name in enumerate(_upstream(circuit, start)):
                near[name] += max(1, REACH - step)
    ranked = [[circuit.by_name[name] for name, _ in near.most_common()] for near in alike.values()]
    lines = zip_longest(*(_few_of_each([one for one in each if one.is_line]) for each in ranked))
    parts = zip_longest(*([one for one in each if not one.is_line] for each in ranked))
    return _first(lines, LINES), _first(parts, PARTS)


def _starts(circuit: Circuit, place: str) -> list[Device]:
    """The part that is a place, or the chambers of the axle or vehicle that is one."""
    device = circuit.by_name.get(place) or circuit.by_name.get(place.rpartition(".")[0])
    return [device] if device else [one for one in circuit.having(Trait.SERVICE_ACTUATOR)
                                    if place in (one.settings["axle"], circuit.vehicle.name)]


def _few_of_each(lines: list[Device]) -> list[Device]:
    """One of the lines that leave one port for parts of one kind: what is wrong with all of them is not one of them."""
    seen: Counter[tuple[PortKey, str]] = Counter()
    kept: list[Device] = []
    rest: list[Device] = []
    for line in lines:
        family = (line.ends[0], line.ends[1][1]) if line.ends else ((line.name, ""), "")
        seen[family] += 1
        (kept if seen[family] == 1 else rest).append(line)
    return kept + rest


def _first(ranks: Iterable[tuple[Device | None, ...]], count: int) -> list[Device]:
    found = {one.name: one for rank in ranks for one in rank if one is not None}
    return list(found.values())[:count]


def _upstream(circuit: Circuit, start: Device) -> Iterator[str]:
    """What leads to any port of a part, against the way that air is meant to go, nearest first."""
    todo = [space for _, space in circuit.spaces_of[start.name] if space != SPACE_OUTSIDE]
    seen = set(todo)
    given: set[str] = {start.name}
    for here in todo:
        for name, _ in circuit.ports_of.get(here, ()):
            device = circuit.by_name[name]
            if name not in given and device.is_line:
                given.add(name)
                yield name
        for way in circuit.ways_at[here]:
            if way.device.name not in given:
                given.add(way.device.name)
                yield way.device.name
            source = way.start if way.end == here else way.end if way.passage.both_ways else SPACE_OUTSIDE
            ports = [circuit.space_of(way.device, port.number) for port in way.device.kind.ports_as(Role.CONTROL)]
            for space in (source, *ports):
                if space != SPACE_OUTSIDE and space not in seen:
                    seen.add(space)
                    todo.append(space)
        if len(given) > 2 * REACH:
            return


def _turned(circuit: Circuit, parts: list[Device]) -> Iterator[Change]:
    """What stands at two ports of one part, exchanged."""
    for part in parts:
        ports = [port.number for port in part.kind.ports if port.role is not Role.EXHAUST]
        for place, one in enumerate(ports):
            for other in ports[place + 1:]:
                keys = (part.name, one), (part.name, other)
                if circuit.space[keys[0]] != circuit.space[keys[1]]:
                    yield Change(part, f"what stands at its ports {one} and {other} does not do there what it should",
                                  f"exchange what is joined to {circuit.port_name(keys[0])} and {circuit.port_name(keys[1])}",
                                  exchange(*keys), tuple(chain(*(_joined(circuit, key) for key in keys))))


def _joined(circuit: Circuit, key: PortKey) -> tuple[tuple[Span, str], ...]:
    """The lines on a port."""
    return tuple((line.span.outermost, f"what is joined to {circuit.port_name(key)}") for line in circuit.devices
                 if line.is_line and line.ends and key in line.ends)[:2]


def _taken_out(circuit: Circuit, parts: list[Device]) -> Iterator[Change]:
    """A part with one way in and one way out, gone past."""
    for part in parts:
        ports = [port for port in part.kind.ports if port.role is not Role.EXHAUST]
        if [port.role for port in ports] == [Role.SUPPLY, Role.DELIVERY]:
            keys = [(part.name, port.number) for port in ports]
            if circuit.space[keys[0]] != circuit.space[keys[1]] and SPACE_OUTSIDE not in (circuit.space[k] for k in keys):
                yield Change(part, "air does not get past it, there or back, as it should",
                              f"take {part.name} out, or put in one that lets through what is asked",
                              partial(_without, part=part))


def _without(circuit: Circuit, part: Device) -> Circuit:
    """The circuit with a part that has one way in and one way out standing open at all times."""
    first, *_ = part.kind.passages
    open_ = first._replace(opening=None, both_ways=True, says="always open")
    kept = part._replace(kind=part.kind._replace(passages=(open_,), latches=()))
    return replace(circuit, devices=tuple(kept if one.name == part.name else one for one in circuit.devices))


def _alone(circuit: Circuit, parts: list[Device]) -> list[PortKey]:
    """Ports of these parts that nothing is joined to, plugged or open, though the part needs something there."""
    return [(part.name, port.number) for part in parts for port in part.kind.ports if port.required
            and port.role is not Role.EXHAUST and len(circuit.ports_of.get(circuit.space[part.name, port.number], ())) == 1]


def _forgotten(circuit: Circuit, alone: list[PortKey]) -> Iterator[Change]:
    """A line between two ports that nothing is joined to."""
    every = _alone(circuit, [device for device in circuit.devices if not device.is_line])
    for key in alone:
        for other in every:
            if other[0] != key[0]:
                yield _line_lacks(circuit, key, other)


def _homeless(circuit: Circuit, alone: list[PortKey]) -> Iterator[Change]:
    """The end of any line taken to a port that nothing is joined to."""
    for key in alone:
        for line in circuit.devices:
            if line.is_line and line.ends:
                for side in ("2", "1"):
                    if circuit.space[line.name, "1" if side == "2" else "2"] != circuit.space[key]:
                        yield _end_moved(circuit, line, side, key)


def _exchanged(circuit: Circuit, lines: list[Device]) -> Iterator[Change]:
    """The far ends of a line on the way and of another like it."""
    like = [other for other in circuit.devices if other.is_line and other.ends]
    for place, one in enumerate(lines):
        for other in like:
            if other not in lines[:place + 1] and one.kind is other.kind and len({*one.ends, *other.ends}) == 4:  # type: ignore[misc]
                swap = partial(_swap, one=one, other=other)
                yield Change(one, f"its end and that of {other.title} are exchanged",
                              f"exchange {_end(circuit, one, '2')} and {_end(circuit, other, '2')}", swap,
                              ((other.span.outermost, "exchanged with this one"),))


def _swap(circuit: Circuit, one: Device, other: Device) -> Circuit:
    assert one.ends and other.ends
    return circuit.moved((one.name, "2"), other.ends[1]).moved((other.name, "2"), one.ends[1])


def _moved(evidence: Evidence, lines: list[Device]) -> Iterator[Change]:
    circuit = evidence.circuit
    for line in lines:
        if line.ends is None:
            continue
        for side, far in (("2", line.ends[0]), ("1", line.ends[1])):
            for target in _targets(evidence, line, far):
                yield _end_moved(circuit, line, side, target)


def _targets(evidence: Evidence, line: Device, far: PortKey) -> list[PortKey]:
    """Where the like of a line goes to: ports that wait for one, and those where lines from the like of its far end stand."""
    circuit = evidence.circuit
    found: dict[int, PortKey] = {}
    like = circuit.by_name[far[0]].kind
    for key in (*circuit.plugged, *evidence.free_holes()):
        found.setdefault(circuit.space[key], key)
    for other in circuit.devices:
        if other.is_line and other.ends and other is not line:
            for one, end in (other.ends, other.ends[::-1]):
                if circuit.by_name[one[0]].kind is like and one[1] == far[1]:
                    found.setdefault(circuit.space[end], end)
    for tank in circuit.reservoirs_for("service", "parking", "auxiliary", "supply"):
        found.setdefault(circuit.store(tank), (tank.name, tank.kind.ports[0].number))
    own = {circuit.space[line.name, "1"], circuit.space[line.name, "2"], SPACE_OUTSIDE}
    return [key for space, key in found.items() if space not in own][:TARGETS]


def _drawn(circuit: Circuit, alone: list[PortKey]) -> Iterator[Change]:
    """A line to a port that nothing is joined to, from where air or a signal could be meant to come."""
    for key in alone:
        for target in _sources(circuit):
            if circuit.space[target] != circuit.space[key]:
                yield _line_lacks(circuit, key, target)


def _line_lacks(circuit: Circuit, key: PortKey, source: PortKey) -> Change:
    return Change(circuit.by_name[key[0]], f"nothing is joined to {circuit.port_name(key)}",
                   f"lead a line from {circuit.port_name(source)} to {circuit.port_name(key)}", join(key, source))


def _end_moved(circuit: Circuit, line: Device, side: str, target: PortKey) -> Change:
    here = _end(circuit, line, side)
    return Change(line, f"it is joined to {here}", f"take its end from {here} to {circuit.port_name(target)}",
                   move((line.name, side), target))


def _sources(circuit: Circuit) -> list[PortKey]:
    """A port of each store, and each delivery of what hand, foot and governor work."""
    found = {circuit.store(tank): (tank.name, tank.kind.ports[0].number)
             for tank in circuit.reservoirs_for("service", "parking", "auxiliary", "supply")}
    for device in circuit.devices:
        if device.kind.traits & {Trait.SERVICE_CONTROL, Trait.PARK_CONTROL, Trait.GOVERNS, Trait.TRAILER_HAND_CONTROL}:
            for port in device.kind.ports_as(Role.DELIVERY):
                found.setdefault(circuit.space[device.name, port.number], (device.name, port.number))
    return list(found.values())


def _end(circuit: Circuit, line: Device, side: str) -> str:
    assert line.ends is not None
    return circuit.port_name(line.ends[int(side) - 1])
