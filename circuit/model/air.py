"""Where air can go: the circuit at rest in a situation, read from the same passages that a simulation integrates.

Each space gets the pressure it settles at with its sources full. A passage is open when its opening function says so
for those pressures. Questions of time (how fast, how long) are not answered here.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

from circuit.declaring.kind import OUTSIDE
from circuit.declaring.traits import Role, Trait
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Way
from circuit.units import ATMOSPHERE

Hands = Mapping[str, Mapping[str, float]]
"""Part to those of its state variables that a hand, a foot, a coil or a latch holds at a value."""

NEARLY_EMPTY = ATMOSPHERE + 0.3e5
"""Absolute Pa; what a space that empties has left when it is asked whether it still empties."""
_SETTLED = 100.0
_BALANCED = 1.0
_ROUNDS = 60


def full_pressure(circuit: Circuit) -> float:
    """Absolute Pa that a charged circuit stands at: the governor's cut-out, or 100 psi on a towed vehicle."""
    governors = [g.settings["cut-out"] for g in circuit.having(Trait.GOVERNS) if g.settings["cut-out"]]
    return min(governors) if governors else ATMOSPHERE + 100 * 6894.757293168361


@dataclass(frozen=True)
class Air:
    """A circuit at rest.

    situation: parked, driving or braking. sources: spaces held at a pressure. level: absolute Pa of every space.
    hands: parts whose state variables stand otherwise than the situation has them.
    """

    circuit: Circuit
    situation: str
    sources: Mapping[int, float]
    level: Mapping[int, float]
    emptied: frozenset[int] = frozenset()
    hands: Hands = field(default_factory=dict)

    def is_charged(self, space: int) -> bool:
        """Whether a space stands clearly above atmosphere."""
        return self.level.get(space, ATMOSPHERE) > ATMOSPHERE + 0.5e5

    @cached_property
    def states(self) -> dict[str, dict[str, float]]:
        """The state variables of every part."""
        return _states(self.circuit, self.situation, self.hands)

    def opening(self, way: Way, start: float, end: float, level: Mapping[int, float] | None = None) -> float:
        """Pa by which a way is pushed open with its two ends at given pressures and all else at rest."""
        return opening(self.circuit, way, self.states[way.device.name], start, end, level or self.level)

    def vents(self, space: int, pressure: float) -> bool:
        """Whether air at `pressure` in a space would find its way out to the atmosphere."""
        return SPACE_OUTSIDE in self.reaches([space], pressure)

    def bleeds(self, *spaces: int) -> bool:
        """Whether air of one of these spaces is on its way out to the atmosphere in this state of rest."""
        return next(self.escapes(*spaces), None) is not None

    def escapes(self, *spaces: int) -> Iterator[Way]:
        """The ways by which air of these spaces goes out to the atmosphere in this state of rest."""
        for here in self.fed_by_any(spaces):
            for way in self.circuit.ways_at[here]:
                if _other(way, here) == SPACE_OUTSIDE and leaves(
                    self, way, here, self.level.get(here, ATMOSPHERE), self.level
                ):
                    yield way

    def fed_by(self, space: int, avoid: frozenset[int]) -> frozenset[int]:
        """Every space that takes air from this one in this state of rest, without passing `avoid`."""
        return self.fed_by_any((space,), avoid)

    def fed_by_any(self, spaces: Iterable[int], avoid: frozenset[int] = frozenset()) -> frozenset[int]:
        """Every space that takes air from one of these in this state of rest, without passing `avoid`."""
        seen = set(spaces)
        todo = list(seen)
        while todo:
            here = todo.pop()
            for way in self.circuit.ways_at[here]:
                there = _other(way, here)
                if there is None or there in seen or there in avoid or not self.is_charged(there):
                    continue
                if leaves(self, way, here, self.level.get(here, ATMOSPHERE), self.level):
                    seen.add(there)
                    todo.append(there)
        return frozenset(seen)

    def leading_to(self, goals: Iterable[int], within: frozenset[int]) -> frozenset[int]:
        """The spaces of `within` whose air goes on to one of `goals` in this state of rest, the goals included."""
        seen = set(goals) & within
        todo = list(seen)
        while todo:
            sink = todo.pop()
            for way in self.circuit.ways_at[sink]:
                source = way.start if way.end == sink else (way.end if way.passage.both_ways else None)
                if source is None or source in seen or source not in within:
                    continue
                back = source == way.end and bool(way.device.kind.graduated)  # only once the supply has fallen below it
                if source in self.level and _falls(self, way, source, sink, self.level) if back else leaves(
                    self, way, source, self.level.get(source, ATMOSPHERE), self.level
                ):
                    seen.add(source)
                    todo.append(source)
        return frozenset(seen)

    def commanding(self, goals: Iterable[int]) -> frozenset[int]:
        """The spaces whose air goes on to one of `goals`, and those that a valve on its way takes as its signal.

        Valves are gone through as they are made to be, though some let air return; lines and cocks from either end.
        """
        seen = {space for space in goals if self.is_charged(space)}
        todo = list(seen)
        while todo:
            sink = todo.pop()
            for way in self.circuit.ways_at[sink]:
                if _returns(way):
                    continue
                either = way.passage.both_ways and (way.passage.opening is None or way.device.has(Trait.SHUTS_BY_HAND))
                source = way.start if way.end == sink else way.end if either else SPACE_OUTSIDE
                found = [source]
                if way.end == sink:
                    found += [self.circuit.space_of(way.device, port.number)
                              for port in way.device.kind.ports_as(Role.CONTROL)]
                for space in found:
                    if space in seen or not self.is_charged(space):
                        continue
                    if space != source or leaves(self, way, space, self.level[space], self.level):
                        seen.add(space)
                        todo.append(space)
        return frozenset(seen)

    def commanded_by(self, spaces: Iterable[int]) -> frozenset[int]:
        """The other way about: every space whose air comes from one of `spaces`, or through a valve that has its signal
        from there. `b in commanded_by([a])` is `a in commanding([b])`.
        """
        circuit = self.circuit
        seen = {space for space in spaces if self.is_charged(space)}
        todo = list(seen)
        while todo:
            here = todo.pop()
            for way in circuit.ways_at[here]:
                if _returns(way):
                    continue
                either = way.passage.both_ways and (way.passage.opening is None or way.device.has(Trait.SHUTS_BY_HAND))
                there = way.end if way.start == here else way.start if either else SPACE_OUTSIDE
                if there not in seen and self.is_charged(there) and leaves(self, way, here, self.level[here], self.level):
                    seen.add(there)
                    todo.append(there)
            for name, number in circuit.ports_of[here]:
                port = circuit.by_name[name].kind.port(number)
                if port is None or port.role is not Role.CONTROL:
                    continue
                for way in circuit.ways_of.get(name, ()):
                    if not _returns(way) and way.end not in seen and self.is_charged(way.end):
                        seen.add(way.end)
                        todo.append(way.end)
        return frozenset(seen)

    def reaches(self, spaces: Iterable[int], pressure: float) -> frozenset[int]:
        """Every space that air at `pressure` in `spaces` would flow on to, the emptier ends taken as empty."""
        level = dict(self.level)
        level.update(dict.fromkeys(spaces, pressure))
        seen = set(spaces)
        todo = list(seen)
        while todo:
            here = todo.pop()
            for way in self.circuit.ways_at[here]:
                there = _other(way, here)
                if there is None or there in seen:
                    continue
                if way.start == here:
                    open_ = opening(self.circuit, way, self.states[way.device.name], pressure, ATMOSPHERE, level) > 0
                else:
                    open_ = opening(self.circuit, way, self.states[way.device.name], ATMOSPHERE, pressure, level) > 0
                if open_:
                    seen.add(there)
                    if there != SPACE_OUTSIDE:
                        level[there] = pressure
                        todo.append(there)
        return frozenset(seen)


def _returns(way: Way) -> bool:
    """Whether a way of a valve only lets air of its delivery back to its supply."""
    ends = way.device.kind.port(way.passage.start), way.device.kind.port(way.passage.end)
    return ends[0] is not None and ends[1] is not None and (ends[0].role, ends[1].role) == (Role.DELIVERY, Role.SUPPLY)


def opening(
    circuit: Circuit, way: Way, state: Mapping[str, float], start: float, end: float, level: Mapping[int, float]
) -> float:
    """A passage's opening with its start and end spaces at the given absolute pressures, all others at `level`."""
    asked = way.passage.opening
    if asked is None:
        return 1e5
    return asked(_around(circuit, way, start, end, level), way.device.settings, state)


def _around(circuit: Circuit, way: Way, start: float, end: float, level: Mapping[int, float]) -> dict[str, float]:
    """Absolute Pa at every port of a way's device."""
    pressures = {}
    for port, space in circuit.spaces_of[way.device.name]:
        if space == way.start:
            pressures[port] = start
        elif space == way.end:
            pressures[port] = end
        else:
            pressures[port] = level.get(space, ATMOSPHERE)
    pressures[way.passage.start] = start
    if way.passage.end != OUTSIDE:
        pressures[way.passage.end] = end
    return pressures


def _other(way: Way, here: int) -> int | None:
    """The space at the far side of a way for air leaving `here`, or None where it may not leave that way."""
    if way.start == here:
        return way.end
    return way.start if way.passage.both_ways else None


def _states(circuit: Circuit, situation: str, hands: Hands) -> dict[str, dict[str, float]]:
    return {device.name: {**device.kind.state(situation), **hands.get(device.name, {})}
            if device.kind.rest or device.kind.when or device.name in hands else {} for device in circuit.devices}


def settle(
    circuit: Circuit, situation: str, sources: Mapping[int, float], emptied: frozenset[int] = frozenset(),
    hands: Hands = MappingProxyType({}),
) -> Air:
    """The circuit at rest with some spaces held at a pressure and some held empty.

    Found by repeating: fill every space from the sources through what is open at the last round's pressures, until
    nothing changes. A valve that never comes to rest keeps the last of many rounds.
    """
    states = _states(circuit, situation, hands)
    level: dict[int, float] = {}
    for _ in range(_ROUNDS):
        new = _fill(circuit, states, sources, emptied, level)
        if all(abs(new.get(k, ATMOSPHERE) - level.get(k, ATMOSPHERE)) < _SETTLED for k in new.keys() | level.keys()):
            level = new
            break
        level = new
    return Air(circuit, situation, dict(sources), level, emptied, hands)


def _fill(circuit, states, sources, emptied, before) -> dict[int, float]:  # type: ignore[no-untyped-def]
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


def _passes(circuit, way, state, here, there, pressure, before) -> float:  # type: ignore[no-untyped-def]
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
                    if kept < pressure - _SETTLED:
                        fallen[source] = level[source] = kept
                        grew = True
    return Air(circuit, now.situation, now.sources, level, hands=now.hands)


def _shut_in(before: Air, now: Air, beside: Mapping[int, float]) -> dict[int, float]:
    """Spaces that held more before than air from elsewhere gives them now, and that no open way lets fall."""
    circuit = now.circuit
    found = {space: pressure for space, pressure in before.level.items() if now.is_charged(space)
             and pressure > now.level[space] + 10 * _SETTLED and space not in now.sources}
    loose = set(found)
    while loose:
        level = {**beside, **found}
        loose = {space for space in found if any(
            leaves(now, way, space, level[space], level) if there == SPACE_OUTSIDE else _falls(now, way, space, there, level)
            for way in circuit.ways_at[space] if (there := _other(way, space)) is not None)}
        found = {space: pressure for space, pressure in found.items() if space not in loose}
    return found


def _falls(air: Air, way: Way, source: int, there: int, level: Mapping[int, float]) -> bool:
    """Whether air goes on from a space to a lower one at these pressures."""
    ends = level[source], level.get(there, ATMOSPHERE)
    return ends[0] > ends[1] + _SETTLED and air.opening(way, *(ends if way.start == source else ends[::-1]), level) > 0


def _kept(air: Air, way: Way, source: int, pressure: float, level: Mapping[int, float]) -> float:
    """The absolute Pa at which a way that stands open for a space shuts: atmosphere where it lets nearly all go."""
    if leaves(air, way, source, NEARLY_EMPTY, level):
        return ATMOSPHERE
    low, high = NEARLY_EMPTY, pressure
    while high - low > _SETTLED:
        middle = (low + high) / 2
        low, high = (low, middle) if leaves(air, way, source, middle, level) else (middle, high)
    return low


def leaves(air: Air, way: Way, source: int, pressure: float, level: Mapping[int, float]) -> bool:
    """Whether air at `pressure` in a space would pass a way to its other end, that end taken as empty."""
    if way.start == source:
        return air.opening(way, pressure, ATMOSPHERE, level) > 0
    return air.opening(way, ATMOSPHERE, pressure, level) > 0


def path(air: Air, start: int, goal: int, avoid: frozenset[int] = frozenset()) -> tuple[Way, ...] | None:
    """The shortest chain of ways by which air of `start` comes to `goal` in this state of rest, or None."""
    pressure = max(air.level.get(start, ATMOSPHERE), full_pressure(air.circuit))
    came: dict[int, tuple[int, Way] | None] = {start: None}
    row = [start]
    while row and goal not in came:
        following = []
        for here in row:
            for way in air.circuit.ways_at[here]:
                there = _other(way, here)
                if there is None or there in came or there in avoid or (there == SPACE_OUTSIDE and goal != there):
                    continue
                if leaves(air, way, here, pressure, air.level):
                    came[there] = (here, way)
                    following.append(there)
        row = following
    if goal not in came:
        return None
    chain: list[Way] = []
    here = goal
    while (step := came[here]) is not None:
        chain.append(step[1])
        here = step[0]
    return tuple(reversed(chain))
