"""What a loss leaves in the spaces that it does not empty: each falls until the last way towards what is lower shuts.

Pressures are absolute Pa.
"""

from collections.abc import Iterable, Iterator, Mapping
from heapq import heappop, heappush

from circuit.declaring.kind import OUTSIDE, Latch
from circuit.model.air import Air, opening
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, Way
from circuit.units import ATMOSPHERE

NEAR = 2e3
"""Pa within which a latch that a falling pressure comes to rest at has snapped."""
FILLED = 0.2e5
"""Pa by which a space has to rise with a fault to count as newly filled; our choice, above what the settling leaves open."""
Snapped = tuple[str, str, float]
"""A device, one of its state variables and the value it stays at."""


def falling(air: Air, emptied: Iterable[int], to: float = ATMOSPHERE) -> dict[int, float]:
    """Spaces that lose air to the emptied ones but not all of it, with the pressure at which the last way shuts.

    Lowest first: each space falls until every way towards what is lower is shut. to: absolute Pa that the emptied ones
    fall to.
    """
    circuit = air.circuit
    known = dict(air.level)
    rest: dict[int, float] = {}
    known.update(dict.fromkeys(emptied, to))
    drawn = _drawn(air, emptied, known)
    drawn |= air.fed_by_any(space for space in drawn if air.is_charged(space) and known[space] > ATMOSPHERE)
    heap = [(to, space) for space in emptied]
    while heap:
        sunk, sink = heappop(heap)
        if sink in rest:
            continue
        rest[sink] = known[sink] = sunk
        for way in circuit.ways_at[sink]:
            source = way.start if way.end == sink else way.end if way.passage.both_ways else SPACE_OUTSIDE
            if source == SPACE_OUTSIDE or source in rest or not air.is_charged(source):
                continue
            left = _falls_to(air, way, source, sink, known, drawn - rest.keys())
            if left < air.level[source] - 1000:
                heappush(heap, (left, source))
    gone = frozenset(emptied)
    return {space: pressure for space, pressure in rest.items() if space not in gone}


def shared_out(air: Air, before: Air) -> dict[int, float]:
    """What reservoirs and lines fall to that fill what stood lower before, with nothing pumped after it.

    Air at one temperature: the pressure at which all together hold what they held, and no way towards it shuts earlier.
    """
    circuit = air.circuit
    filled = {space: before.level.get(space, ATMOSPHERE) for space, pressure in air.level.items()
              if pressure > before.level.get(space, ATMOSPHERE) + FILLED}
    if not filled:
        return {}
    tanks = {circuit.store(tank) for tank in circuit.reservoirs} - filled.keys()
    giving = air.leading_to(filled, frozenset(air.level)) & tanks
    sizes = {space: volume(circuit, space, air.level[space]) for space in giving | filled.keys()}
    if not giving or not all(sizes[space] for space in giving):
        return {}
    highest = max(air.level[space] for space in giving)
    top = [space for space in giving if air.level[space] > highest - 1e4]
    left = highest - sum(sizes[space] * (air.level[space] - filled[space]) for space in filled) / sum(sizes[s] for s in top)
    if left >= max(air.level[space] for space in filled):  # enough is left to fill it through what limits it
        return dict.fromkeys(top, left)
    held = sum(size * filled.get(space, air.level[space]) for space, size in sizes.items())
    return falling(air, filled, held / sum(sizes.values()))


def volume(circuit: Circuit, space: int, pressure: float) -> float:
    """m3 of a space at an absolute pressure, what parts and lines declare."""
    return sum(store.volume(device.settings, pressure) for name, port in circuit.ports_of.get(space, ())
               for device in (circuit.by_name[name],) for store in device.kind.stores if store.port == port)


def _drawn(air: Air, emptied: Iterable[int], known: Mapping[int, float]) -> frozenset[int]:
    """Every space whose air begins to flow towards the emptied ones."""
    seen = set(emptied)
    todo = list(seen)
    while todo:
        sink = todo.pop()
        for way in air.circuit.ways_at[sink]:
            source = way.start if way.end == sink else way.end if way.passage.both_ways else SPACE_OUTSIDE
            if source == SPACE_OUTSIDE or source in seen or not air.is_charged(source):
                continue
            ends = (air.level[source], ATMOSPHERE)
            device = way.device
            pressures = pressures_at(air.circuit, device, air.level)
            state = snapped_over(device, pressures, air.states[device.name])
            if any(opening(air.circuit, way, each, *(ends if way.start == source else ends[::-1]), known) > 0
                   for each in either(device, pressures, state)):
                seen.add(source)
                todo.append(source)
    return frozenset(seen)


def _falls_to(air: Air, way: Way, source: int, sink: int, known: Mapping[int, float], drawn: frozenset[int]) -> float:
    """The pressure of `source` at which a way towards `sink` shuts. drawn: spaces that fall together with it."""
    low, high = known[sink], air.level[source]
    sunk = low
    if way.passage.opening is None:
        return low
    circuit, device = air.circuit, way.device
    begun = snapped_over(device, pressures_at(circuit, device, air.level), air.states[device.name])
    beside = [space for _, space in circuit.spaces_of[device.name] if space in drawn and space != sink]

    def flows(pressure: float) -> bool:
        level = {**known, **{space: min(known[space], pressure) for space in beside}, source: pressure}
        pressures = pressures_at(circuit, device, level)
        ends = (pressure, sunk) if way.start == source else (sunk, pressure)
        return any(opening(circuit, way, state, *ends, level) > 0
                   for state in either(device, pressures, snapped_over(device, pressures, begun)))

    if high <= low or not flows(high):
        return high
    if flows(low + 1.0):
        return low
    while high - low > 1.0:
        middle = (low + high) / 2
        low, high = (low, middle) if flows(middle) else (middle, high)
    return low


def snapped_over(device: Device, pressures: Mapping[str, float], state: Mapping[str, float], near: float = 0.0
                 ) -> Mapping[str, float]:
    """State variables of a device after its latches have seen the pressures at its ports."""
    for latch in device.kind.latches:
        value = _latched(latch, device, pressures, near)
        if value is not None and state.get(latch.variable) != value:
            state = {**state, latch.variable: value}
    return state


def either(device: Device, pressures: Mapping[str, float], state: Mapping[str, float]) -> Iterator[Mapping[str, float]]:
    """A device's state, and those in which a latch stands the other way that these pressures move neither way.

    A shuttle between two that fall together goes to and fro, so that either side is open in its turn.
    """
    yield state
    for latch in device.kind.latches:
        if latch.sets is not None and latch.resets is not None and _latched(latch, device, pressures, 0.0) is None:
            yield {**state, latch.variable: 1.0 - state.get(latch.variable, 0.0)}


def _latched(latch: Latch, device: Device, pressures: Mapping[str, float], near: float) -> float | None:
    if latch.resets is not None and latch.resets(pressures, device.settings) > -near:
        return 0.0
    if latch.sets is not None and latch.sets(pressures, device.settings) > 0:
        return 1.0
    return None


def snapped(circuit: Circuit, air: Air, emptied: frozenset[int], floors: Mapping[int, float]) -> tuple[Snapped, ...]:
    """Every latch that a loss has snapped over, with its new value."""
    level = {**air.level, **floors, **dict.fromkeys(emptied, ATMOSPHERE)}
    found: list[Snapped] = []
    for device in circuit.devices:
        if not device.kind.latches:
            continue
        touched = {space for _, space in circuit.spaces_of[device.name]}
        if not touched & emptied and not touched & floors.keys():
            continue
        state = device.kind.state(air.situation)
        before = snapped_over(device, pressures_at(circuit, device, air.level), state)
        now = snapped_over(device, pressures_at(circuit, device, level), before, NEAR)
        found += [(device.name, variable, value) for variable, value in now.items()
                  if value != before.get(variable) and value != state.get(variable)]
    return tuple(found)


def pressures_at(circuit: Circuit, device: Device, level: Mapping[int, float]) -> dict[str, float]:
    """Absolute Pa at every port of a device, and of the open air."""
    found = {port: level.get(space, ATMOSPHERE) for port, space in circuit.spaces_of[device.name]}
    return {**found, OUTSIDE: ATMOSPHERE}
