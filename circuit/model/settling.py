"""The circuit brought to rest: what its sources fill, what stays after filling, and what is left of an earlier state."""

from collections.abc import Mapping
from types import MappingProxyType

from circuit.model.air import NEARLY_EMPTY, SETTLED, Air, Hands, falls, far_side, full_pressure, leaves, opening, states_of
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Way
from circuit.units import ATMOSPHERE

_BALANCED = 1.0
_ROUNDS = 60


def settle(
    circuit: Circuit, situation: str, sources: Mapping[int, float], emptied: frozenset[int] = frozenset(),
    hands: Hands = MappingProxyType({}),
) -> Air:
    """The circuit at rest with some spaces held at a pressure and some held empty.

    Found by repeating: fill every space from the sources through what is open at the last round's pressures, until
    nothing changes. A valve that never comes to rest keeps the last of many rounds.
    """
    states = states_of(circuit, situation, hands)
    level: dict[int, float] = {}
    for _ in range(_ROUNDS):
        new = _fill(circuit, states, sources, emptied, level)
        if all(abs(new.get(k, ATMOSPHERE) - level.get(k, ATMOSPHERE)) < SETTLED for k in new.keys() | level.keys()):
            level = new
            break
        level = new
    return Air(circuit, situation, dict(sources), level, emptied, hands)


def _fill(
    circuit: Circuit, states: Mapping[str, Mapping[str, float]], sources: Mapping[int, float], emptied: frozenset[int],
    before: Mapping[int, float],
) -> dict[int, float]:
    """One round: the highest pressure that reaches each space, highest first.

    Valves see what this round has filled already, and the last round elsewhere.
    """
    from heapq import heappop, heappush

    level: dict[int, float] = {}
    seen = dict(before)
    heap = [(-pressure, space) for space, pressure in sources.items() if space not in emptied]
    heap.sort()
    while heap:
        negative, here = heappop(heap)
        pressure = -negative
        if here in level:
            continue
        level[here] = seen[here] = pressure
        for way in circuit.ways_at[here]:
            there = way.end if way.start == here else way.start if way.passage.both_ways else SPACE_OUTSIDE
            if there == SPACE_OUTSIDE or there in level or there in emptied:
                continue
            reached = pressure
            if way.passage.opening is not None:
                reached = _passes(circuit, way, states[way.device.name], here, there, pressure, seen)
            if reached > ATMOSPHERE + 1000:
                heappush(heap, (-reached, there))
    return level


def _passes(
    circuit: Circuit, way: Way, state: Mapping[str, float], here: int, there: int, pressure: float, before: Mapping[int, float],
) -> float:
    """The pressure that air at `pressure` in `here` gives the far side `there` of a way.

    A way that air has opened stays open though it would not open again from empty, as a shuttle between two.
    """
    forward = way.start == here

    def at(far: float) -> float:
        start, end = (pressure, far) if forward else (far, pressure)
        return opening(circuit, way, state, start, end, before)

    low, high = ATMOSPHERE, pressure
    push_low, push_high = at(low), at(high)
    if push_low <= 0:
        low = min(before.get(there, ATMOSPHERE), pressure)
        push_low = at(low) if low > ATMOSPHERE + 1000 else 0.0
        if push_low <= 0:
            return ATMOSPHERE
    if push_high > 0:
        return high
    for turn in range(48):
        # Most openings are straight lines, which the first chord meets; halving closes in on those that snap.
        share = 0.5 if turn % 2 else push_low / (push_low - push_high)
        middle = low + share * (high - low)
        push = at(middle)
        if abs(push) < _BALANCED:
            return middle
        if push > 0:
            low, push_low = middle, push
        else:
            high, push_high = middle, push
    return low


def outside_sources(circuit: Circuit, situation: str, demand: float | None = None) -> dict[int, float]:
    """Spaces that air comes into from outside the drawing: compressors and coupling heads.

    demand: absolute Pa at what is fed only while braking, a control line; None is full pressure.
    """
    pressure = full_pressure(circuit)
    return {
        circuit.space_of(device, port): pressure if demand is None or port in device.kind.feeds(device.settings, "driving")
        else min(pressure, demand)
        for device in circuit.devices
        for port in device.kind.feeds(device.settings, situation)
        if circuit.space_of(device, port) != SPACE_OUTSIDE
    }


def charged(
    circuit: Circuit, situation: str, emptied: frozenset[int] = frozenset(), filling: Air | None = None,
    demand: float | None = None, hands: Hands = MappingProxyType({}),
) -> Air:
    """The circuit at rest in a situation after it was filled while driving: what fills then stays in its reservoirs.

    Where nothing comes from outside, as on an uncoupled trailer, a reservoir that is open to the air keeps nothing.
    filling: the circuit filled from empty, where it is known already. demand: as for `outside_sources`.
    hands: as of `Air`.
    """
    if filling is None:
        filling = settle(circuit, "driving", outside_sources(circuit, "driving"))
    kept = {circuit.store(tank): filling.level[circuit.store(tank)] for tank in circuit.reservoirs
            if filling.is_charged(circuit.store(tank))}
    outside = outside_sources(circuit, situation, demand)
    air = settle(circuit, situation, {**kept, **outside}, emptied, hands)
    fed = {space for space, pressure in outside.items() if pressure > ATMOSPHERE}
    open_to_air = not fed and air.bleeds(*kept)  # asked of all at once first: of most circuits nothing bleeds
    lost = {space for space in kept if space not in emptied and air.bleeds(space)} if open_to_air else set()
    if lost:
        held = {space: pressure for space, pressure in kept.items() if space not in lost}
        air = settle(circuit, situation, {**held, **outside}, emptied, hands)
    return air


def after(before: Air, now: Air) -> Air:
    """What is left where the pressures of `before` find their way out in the situation of `now`.

    Spaces that `now` holds charged keep that; every other space keeps its former pressure until a way out of it is
    open, and then what is left when that way shuts. So a plugged exhaust shows as a space that stays charged.
    """
    circuit = now.circuit
    level = {**before.level, **{space: p for space, p in now.level.items() if now.is_charged(space)}}
    level.update(_shut_in(before, now, level))
    held = {*now.sources, *(space for space in now.level if now.is_charged(space))}
    fallen = {SPACE_OUTSIDE: ATMOSPHERE}
    grew = True
    while grew:
        grew = False
        for sink in list(fallen):
            for way in circuit.ways_at[sink]:
                source = way.start if way.end == sink else way.end if way.passage.both_ways else SPACE_OUTSIDE
                if source == SPACE_OUTSIDE or source in held or fallen.get(source) == ATMOSPHERE:
                    continue
                pressure = max(level.get(source, ATMOSPHERE), NEARLY_EMPTY)
                if leaves(now, way, source, pressure, level):
                    kept = max(_kept(now, way, source, pressure, level), fallen[sink])
                    if kept < pressure - SETTLED:
                        fallen[source] = level[source] = kept
                        grew = True
    return Air(circuit, now.situation, now.sources, level, hands=now.hands)


def _shut_in(before: Air, now: Air, beside: Mapping[int, float]) -> dict[int, float]:
    """Spaces that held more before than air from elsewhere gives them now, and that no open way lets fall."""
    circuit = now.circuit
    found = {space: pressure for space, pressure in before.level.items() if now.is_charged(space)
             and pressure > now.level[space] + 10 * SETTLED and space not in now.sources}
    loose = set(found)
    while loose:
        level = {**beside, **found}
        loose = {space for space in found if any(
            leaves(now, way, space, level[space], level) if there == SPACE_OUTSIDE else falls(now, way, space, there, level)
            for way in circuit.ways_at[space] if (there := far_side(way, space)) is not None)}
        found = {space: pressure for space, pressure in found.items() if space not in loose}
    return found


def _kept(air: Air, way: Way, source: int, pressure: float, level: Mapping[int, float]) -> float:
    """The absolute Pa at which a way that stands open for a space shuts: atmosphere where it lets nearly all go."""
    if leaves(air, way, source, NEARLY_EMPTY, level):
        return ATMOSPHERE
    low, high = NEARLY_EMPTY, pressure
    while high - low > SETTLED:
        middle = (low + high) / 2
        low, high = (low, middle) if leaves(air, way, source, middle, level) else (middle, high)
    return low
