"""Where air can go: the circuit at rest in a situation, read from the same passages that a simulation integrates.

Each space gets the pressure it settles at with its sources full. A passage is open when its opening function says so
for those pressures. Questions of time (how fast, how long) are not answered here.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from circuit.declaring.traits import Role, Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Way
from circuit.model.passed import plan_of
from circuit.units import ATMOSPHERE

Hands = Mapping[str, Mapping[str, float]]
"""Part to those of its state variables that a hand, a foot, a coil or a latch holds at a value."""

NEARLY_EMPTY = ATMOSPHERE + 0.3e5
"""Absolute Pa; what a space that empties has left when it is asked whether it still empties."""
SETTLED = 100.0


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
        return states_of(self.circuit, self.situation, self.hands)

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
                if far_side(way, here) == SPACE_OUTSIDE and leaves(
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
                there = far_side(way, here)
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
                if source in self.level and falls(self, way, source, sink, self.level) if back else leaves(
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
                there = far_side(way, here)
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
    return asked(plan_of(circuit, way).around(start, end, level), way.device.settings, state)


def far_side(way: Way, here: int) -> int | None:
    """The space at the far side of a way for air leaving `here`, or None where it may not leave that way."""
    if way.start == here:
        return way.end
    return way.start if way.passage.both_ways else None


def falls(air: Air, way: Way, source: int, there: int, level: Mapping[int, float]) -> bool:
    """Whether air goes on from a space to a lower one at these pressures."""
    ends = level[source], level.get(there, ATMOSPHERE)
    return ends[0] > ends[1] + SETTLED and air.opening(way, *(ends if way.start == source else ends[::-1]), level) > 0


def states_of(circuit: Circuit, situation: str, hands: Hands) -> dict[str, dict[str, float]]:
    return {device.name: {**device.kind.state(situation), **hands.get(device.name, {})}
            if device.kind.rest or device.kind.when or device.name in hands else {} for device in circuit.devices}


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
                there = far_side(way, here)
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
