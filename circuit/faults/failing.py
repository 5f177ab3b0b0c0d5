"""A circuit with a fault in it: ways held open or shut, what it opens to the air, what it drifts or stops."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from circuit.declaring.following import drifted
from circuit.declaring.kind import OUTSIDE, SITUATIONS, Failure, Kind, Passage, Pressures, Settings, State
from circuit.declaring.traits import Trait
from circuit.faults.floors import Snapped, pressures_at
from circuit.faults.single import LEAK, Fault
from circuit.model.air import Air
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.units import ATMOSPHERE


def failing(circuit: Circuit, fault: Fault, air: Air) -> tuple[Circuit, frozenset[int], frozenset[int]]:
    """The circuit with a fault's ways held open or shut, the spaces it opens to the air, and those that leak to it.

    air: without the fault, in the situation that is asked for.
    """
    if fault.exchanged:
        circuit = circuit.exchanged(*fault.exchanged)
    failures: dict[str, list[Failure]] = {}
    for name, failure_name in fault.parts:
        failures.setdefault(name, []).append(
            next(f for f in circuit.by_name[name].kind.failures if f.name == failure_name))
    for name, variable, value in fault.holds:
        failures.setdefault(name, []).append(Failure("held", "", holds={variable: value}))
    changed: dict[str, Device] = {}
    holes: set[int] = set()
    slow: set[int] = set()
    for name, several in failures.items():
        device = circuit.by_name[name]
        kind = device.kind
        settings = device.settings
        for failure in several:
            kind, opened = _failed(circuit, device, kind, failure, air)
            (slow if failure.share <= LEAK else holes).update(opened)
            settings = drifted(device.kind, settings, failure.scales) if failure.scales else settings
        if kind is not device.kind or settings is not device.settings:
            changed[name] = device._replace(kind=kind, settings=settings)
    return with_devices(circuit, changed), frozenset(holes), frozenset(slow)


def _failed(circuit: Circuit, device: Device, kind: Kind, failure: Failure, air: Air) -> tuple[Kind, set[int]]:
    """A kind with one failure, and the spaces of a device that it opens to the atmosphere.

    A slow leak into a space that has a way out to the air is a leak to the air; else it fills what it leaks into.
    """
    holes: set[int] = set()
    opened: list[Passage] = []
    shut = {frozenset(pair) for pair in failure.shuts}
    narrowed = shut & {frozenset(pair) for pair in failure.opens}  # passes all the same, given all the time there is
    for start, end in failure.opens:
        if frozenset((start, end)) in narrowed:
            continue
        spaces = circuit.space_of(device, start), circuit.space_of(device, end)
        if kind.source is not None and end == kind.source.inlet:
            spaces = spaces[0], SPACE_OUTSIDE  # an inlet stands open to the air, by its filter or the engine's intake
        if SPACE_OUTSIDE in spaces:
            holes |= {space for space in spaces if space != SPACE_OUTSIDE}
        elif failure.share <= LEAK and not air.is_charged(spaces[1]) and air.vents(
                spaces[1], air.level.get(spaces[0], ATMOSPHERE)):
            holes.add(spaces[0])
        else:
            opened.append(Passage(start, end, failure.says))
    shut -= narrowed
    if opened or shut:
        kept = (p._replace(opening=_shut) if frozenset((p.start, p.end)) in shut else p for p in kind.passages)
        kind = kind._replace(passages=(*kept, *opened))
    for variable, value in failure.holds.items():
        kind = held(kind, variable, value)
    source = kind.source
    stops = {port for port in failure.stops if (port, OUTSIDE) not in failure.opens}  # what is torn off empties first
    if source is not None and failure.holds.get(source.held):
        stops.add(source.port)
    return (kind._replace(feeds=_without(kind.feeds, frozenset(stops))) if stops else kind), holes


def _shut(pressures: Pressures, settings: Settings, state: State) -> float:
    return -1e5


def held(kind: Kind, variable: str, value: float) -> Kind:
    """A kind with a state variable that stays at a value in every situation, whatever would snap it over."""
    when = {situation: {**kind.when.get(situation, {}), variable: value} for situation in SITUATIONS}
    return kind._replace(rest=MappingProxyType({**kind.rest, variable: value}), when=MappingProxyType(when),
                         latches=tuple(latch for latch in kind.latches if latch.variable != variable))


def with_devices(circuit: Circuit, changed: Mapping[str, Device]) -> Circuit:
    """The circuit with some devices in place of those of the same name and ports. What stays true is kept."""
    if not changed:
        return circuit
    new = replace(circuit, devices=tuple(changed.get(d.name, d) for d in circuit.devices))
    for kept in ("ports_of", "spaces_of", "tows"):
        new.__dict__[kept] = getattr(circuit, kept)
    return new


def with_held(circuit: Circuit, states: Iterable[Snapped]) -> Circuit:
    """The circuit with some state variables held."""
    changed: dict[str, Device] = {}
    for name, variable, value in states:
        device = changed.get(name) or circuit.by_name[name]
        changed[name] = device._replace(kind=held(device.kind, variable, value))
    return with_devices(circuit, changed)


def depends_on_situation(circuit: Circuit, fault: Fault) -> bool:
    """Whether a fault leaks from a space into another, which may or may not have a way out to the air."""
    for name, failure_name in fault.parts:
        device = circuit.by_name[name]
        failure = next(f for f in device.kind.failures if f.name == failure_name)
        ends = [{circuit.space_of(device, a), circuit.space_of(device, b)} for a, b in failure.opens]
        if failure.share <= LEAK and not all(SPACE_OUTSIDE in pair for pair in ends):
            return True
    return False


def _without(feeds: Callable[[Settings, str], tuple[str, ...]], ports: frozenset[str]
             ) -> Callable[[Settings, str], tuple[str, ...]]:
    return lambda settings, situation: tuple(port for port in feeds(settings, situation) if port not in ports)


def at_cut_out(circuit: Circuit, air: Air, pressure: float) -> Circuit:
    """The circuit with every governor that senses a pressure saying what it says then, absolute Pa."""
    changed = {}
    for device in circuit.having(Trait.GOVERNS):
        sensed = {port: pressure if level > ATMOSPHERE + 0.5e5 else level
                  for port, level in pressures_at(circuit, device, air.level).items()}
        kind = device.kind
        for latch in kind.latches:
            if latch.sets is not None and latch.sets(sensed, device.settings) > 0:
                kind = held(kind, latch.variable, 1.0)
        changed[device.name] = device._replace(kind=kind)
    return with_devices(circuit, changed)
