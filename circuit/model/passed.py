"""What a way lets through, kept: settling asks it again and again with the same few pressures."""

from collections.abc import Callable, Hashable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from circuit.declaring.kind import OUTSIDE
from circuit.units import ATMOSPHERE

if TYPE_CHECKING:
    from circuit.model.circuit import Circuit
    from circuit.model.devices import Way

MOST = 200_000
"""Answers that are kept at once; then it begins anew."""


class Plan(NamedTuple):
    """Where a way's device has its ports. start, end: those of the two spaces that the way joins. beside: the others, each
    with its space. way: the way itself, which so outlives the names that are made of where it is kept. key: of its passage
    and settings and of how its ports are joined.
    """

    start: tuple[str, ...]
    end: tuple[str, ...]
    beside: tuple[tuple[str, int], ...]
    way: "Way"
    key: Hashable

    def around(self, start: float, end: float, level: Mapping[int, float]) -> dict[str, float]:
        """Absolute Pa at every port, the way's ends at the given ones and all others at `level`."""
        pressures = {port: level.get(space, ATMOSPHERE) for port, space in self.beside}
        for port in self.start:
            pressures[port] = start
        for port in self.end:
            pressures[port] = end
        return pressures


def plan_of(circuit: "Circuit", way: "Way") -> Plan:
    """The plan of a way of a circuit."""
    plans = circuit.plans
    found = plans.get(id(way))
    if found is None or found.way is not way:
        passage, ends = way.passage, (way.passage.start, way.passage.end)
        rest = [(port, space) for port, space in circuit.spaces_of[way.device.name] if port not in ends]
        start = (passage.start, *(port for port, space in rest if space == way.start))
        end = tuple(port for port, space in rest if space == way.end != way.start)
        end = end if passage.end == OUTSIDE else (passage.end, *end)
        beside = tuple((port, space) for port, space in rest if space not in (way.start, way.end))
        key = id(passage), id(way.device.settings), start, end
        found = plans[id(way)] = Plan(start, end, beside, way, key)
    return found


Exit = tuple[int, Plan | None, bool, str]
"""A way out of a space: where it leads to, its plan unless it always stands open, whether it is gone through from its start,
and the name of its device."""


def exits(circuit: "Circuit") -> dict[int, tuple[Exit, ...]]:
    """Space to its ways on to other spaces; those out to the atmosphere are none."""
    found: dict[int, list[Exit]] = {space: [] for space in circuit.ports_of}
    for way in circuit.ways:
        if way.end < 0 or way.start < 0 or way.start == way.end:
            continue
        plan = plan_of(circuit, way) if way.passage.opening is not None else None
        found[way.start].append((way.end, plan, True, way.device.name))
        if way.passage.both_ways:
            found[way.end].append((way.start, plan, False, way.device.name))
    return {space: tuple(ways) for space, ways in found.items()}


class Passed:
    """Answers by what they hang on: one for a circuit and all that is made of it by a change, which share most devices."""

    def __init__(self) -> None:
        self._found: dict[Hashable, tuple[float, bool]] = {}
        self._alive: dict[Hashable, Plan] = {}

    def once(self, plan: Plan, asked: Hashable, work: Callable[[], tuple[float, bool]]) -> tuple[float, bool]:
        """What `work` gives, or gave when the same was asked of the same passage with the same settings."""
        question = plan.key, asked
        found = self._found.get(question)
        if found is None:
            if len(self._found) >= MOST:
                self._found.clear()
                self._alive.clear()
            self._alive.setdefault(plan.key, plan)
            found = self._found[question] = work()
        return found
