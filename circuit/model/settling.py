"""The circuit brought to rest: what its sources fill, what stays after filling, and what is left of an earlier state."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from circuit.model.air import NEARLY_EMPTY, SETTLED, Air, Hands, falls, far_side, full_pressure, leaves, states_of
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Way
from circuit.model.passed import Plan
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
        new, asked = _fill(circuit, states, sources, emptied, level)
        same = _would_say_the_same(asked, new) or all(
            abs(new.get(k, ATMOSPHERE) - level.get(k, ATMOSPHERE)) < SETTLED for k in new.keys() | level.keys())
        level = new
        if same:
            break
    return Air(circuit, situation, dict(sources), level, emptied, hands)


class _Asked(NamedTuple):
    """What a way was asked while it was filled. beside: Pa of the other spaces of its device. had: Pa of its far side
    before, or None where that decides nothing."""

    plan: Plan
    beside: tuple[float, ...]
    there: int
    had: float | None


def _would_say_the_same(asked: Iterable[_Asked], level: Mapping[int, float]) -> bool:
    """Whether another round would ask every way with the same pressures, and so fill the same."""
    for plan, beside, there, had in asked:
        if had is not None and had != level.get(there, ATMOSPHERE):
            return False
        for (_, space), pressure in zip(plan.beside, beside):
            if level.get(space, ATMOSPHERE) != pressure:
                return False
    return True


def _fill(
    circuit: Circuit, states: Mapping[str, Mapping[str, float]], sources: Mapping[int, float], emptied: frozenset[int],
    before: Mapping[int, float],
) -> tuple[dict[int, float], list[_Asked]]:
    """One round: the highest pressure that reaches each space, highest first, and what was asked for it.

    Valves see what this round has filled already, and the last round elsewhere.
    """
    from heapq import heappop, heappush

    level: dict[int, float] = {}
    asked: list[_Asked] = []
    seen = dict(before)
    exits = circuit.exits
    heap = [(-pressure, space) for space, pressure in sources.items() if space not in emptied]
    heap.sort()
    while heap:
        negative, here = heappop(heap)
        pressure = -negative
        if here in level:
            continue
        level[here] = seen[here] = pressure
        for there, plan, forward, name in exits[here]:
            if there in level or there in emptied:
                continue
            reached = pressure
            if plan is not None:
                beside = tuple([seen.get(space, ATMOSPHERE) for _, space in plan.beside])
                had = seen.get(there, ATMOSPHERE)
                reached, by_itself = _passes(circuit, plan, states[name], forward, pressure, had, beside, seen)
                asked.append(_Asked(plan, beside, there, None if by_itself else had))
            if reached > ATMOSPHERE + 1000:
                heappush(heap, (-reached, there))
    return level, asked


def _passes(
    circuit: Circuit, plan: Plan, state: Mapping[str, float], forward: bool, pressure: float, had: float,
    beside: tuple[float, ...], before: Mapping[int, float],
) -> tuple[float, bool]:
    """What `_balance` says of a way with air at `pressure` at one end."""
    return circuit.passed.once(plan, (forward, pressure, had, beside, *state.items()),
                               lambda: _balance(plan, state, forward, pressure, had, before))


def _balance(
    plan: Plan, state: Mapping[str, float], forward: bool, pressure: float, had: float, before: Mapping[int, float],
) -> tuple[float, bool]:
    """The pressure that air at `pressure` at one end of a way gives the other, and whether it does so by itself.

    A way that air has opened stays open though it would not open again from empty, as a shuttle between two: then it
    hangs on what its far side `had`.
    """
    opens, settings = plan.way.passage.opening, plan.way.device.settings
    assert opens is not None

    def push(far: float) -> float:
        start, end = (pressure, far) if forward else (far, pressure)
        return float(opens(plan.around(start, end, before), settings, state))

    low, high = ATMOSPHERE, pressure
    push_low, push_high = push(low), push(high)
    by_itself = push_low > 0
    if not by_itself:
        low = min(had, pressure)
        push_low = push(low) if low > ATMOSPHERE + 1000 else 0.0
        if push_low <= 0:
            return ATMOSPHERE, False
    if push_high > 0:
        return high, by_itself
    for turn in range(48):
        # Most openings are straight lines, which the first chord meets; halving closes in on those that snap.
        share = 0.5 if turn % 2 else push_low / (push_low - push_high)
        middle = low + share * (high - low)
        pushed = push(middle)
        if abs(pushed) < _BALANCED:
            return middle, by_itself
        if pushed > 0:
            low, push_low = middle, pushed
        else:
            high, push_high = middle, pushed
    return low, by_itself


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
