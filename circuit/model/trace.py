"""What a simulation found, as plain data: pressures over time, what snapped over when, and how exact it is.

Rules and studies read it; it knows nothing of the equations. Times are s, pressures absolute Pa.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple

from circuit.model.circuit import Circuit
from circuit.model.places import NoSuchPlace, space_named


class Happening(NamedTuple):
    """Something that snapped over or was done. device: its name. variable and value: what it is now."""

    time: float
    device: str
    variable: str
    value: float

    def __str__(self) -> str:
        return f"{self.time:.3f} s: {self.device} {self.variable} {self.value:g}"


class Balance(NamedTuple):
    """Air in kg. first, last: held at the start and the end. made: by compressors. fed: from outside the drawing.
    vented: to the atmosphere. drift: what is missing, as a share of the most that was held."""

    first: float
    last: float
    made: float
    fed: float
    vented: float
    drift: float


@dataclass(frozen=True)
class Trace:
    """Pressures over time.

    times: ends of steps; a moment at which something snapped over is there twice. pressures, rates: a row each time, a
    column each node: Pa and Pa/s; `column` gives one. names: of the nodes. node: space of the circuit to node; rigs:
    name to node. states: (device, variable) to its changes, (time, value). atmosphere: Pa. complete: whether the end
    was reached with the accuracy asked for; notes say what was assumed and what fell short. partial: only watched
    places were kept.
    """

    circuit: Circuit
    times: Sequence[float]
    pressures: Any
    rates: Any
    names: tuple[str, ...]
    node: Mapping[int, int]
    rigs: Mapping[str, int]
    states: Mapping[tuple[str, str], tuple[tuple[float, float], ...]]
    events: tuple[Happening, ...]
    balance: Balance
    atmosphere: float
    complete: bool = True
    notes: tuple[str, ...] = ()
    steps: int = 0
    label: str = ""
    partial: bool = False
    _cells: dict[str, int] = field(default_factory=dict, compare=False)

    @property
    def end(self) -> float:
        """The last time, s."""
        return float(self.times[-1])

    @cached_property
    def _times(self) -> list[float]:
        return [float(t) for t in self.times]

    def column(self, place: "str | int") -> int:
        """The node of a place as written in a design, of a space's index, or of a rig.

        Raises NoSuchPlace, or KeyError for a space that no air can be in."""
        if isinstance(place, int):
            return self.node[place]
        if place in self.rigs:
            return self.rigs[place]
        if place not in self._cells:
            space = space_named(self.circuit, place)
            if self.partial and space not in self.node:
                raise NoSuchPlace(f"`{place}` is not among the places that this run kept")
            self._cells[place] = self.node[space]
        return self._cells[place]

    def pressure(self, place: "str | int", time: float) -> float:
        """Absolute Pa in a place at a time, between steps by a cubic that cannot overshoot."""
        return self._at(self.column(place), time)

    def last(self, place: "str | int") -> float:
        """Absolute Pa in a place at the end."""
        return self._course(self.column(place))[0][-1]

    def first_time(self, place: "str | int", pressure: float, rising: bool = True, after: float = 0.0) -> float | None:
        """When a place first stands at least (rising) or at most at a pressure from `after` on; None if never."""
        column = self.column(place)
        sign = 1.0 if rising else -1.0
        if sign * (self._at(column, after) - pressure) >= 0:
            return after
        (values, rates), times = self._course(column), self._times
        rows = range(bisect_right(times, after), len(times))
        row = next((row for row in rows if sign * (values[row] - pressure) >= 0), None)
        if row is None:
            return None
        start, end = times[row - 1], times[row]
        ends = values[row - 1], values[row], rates[row - 1], rates[row]
        low, high = max(start, after), end
        for _ in range(50):
            middle = (low + high) / 2
            if middle >= high:
                break
            if sign * (between(middle - start, end - start, *ends) - pressure) >= 0:
                high = middle
            else:
                low = middle
        return high

    def lowest(self, place: "str | int", after: float = 0.0, until: float | None = None) -> float:
        """The lowest absolute pressure in a place between two times, at ends of steps and at the two times."""
        return min(self._between(self.column(place), after, self.end if until is None else until))

    def highest(self, place: "str | int", after: float = 0.0, until: float | None = None) -> float:
        return max(self._between(self.column(place), after, self.end if until is None else until))

    def at_steps(self, place: "str | int") -> list[float]:
        """Absolute Pa in a place at each of `times`."""
        return self._course(self.column(place))[0]

    def curve(self, place: "str | int", times: Sequence[float]) -> list[float]:
        """Absolute Pa in a place at many times."""
        column = self.column(place)
        return [self._at(column, time) for time in times]

    def rows(self, times: Sequence[float]) -> Any:
        """Absolute Pa in every node at many times: an array of a row each time, a column each node."""
        import numpy

        ends, pressures, rates = (numpy.asarray(each, dtype=float) for each in (self.times, self.pressures, self.rates))
        at = numpy.clip(numpy.asarray(times, dtype=float), ends[0], ends[-1])
        after = numpy.clip(numpy.searchsorted(ends, at, side="right"), 1, len(ends) - 1)
        wide = (ends[after] - ends[after - 1])[:, None]
        since = (at - ends[after - 1])[:, None] / wide
        one, rise = pressures[after - 1], pressures[after] - pressures[after - 1]
        flat = rise == 0.0
        steep = numpy.where(flat, 1.0, rise / wide)
        leaves, arrives = (numpy.where(flat, 0.0, numpy.clip(rates[row] / steep, 0.0, 3.0))
                           for row in (after - 1, after))
        return one + rise * since * (leaves + since * (3 - 2 * leaves - arrives + since * (leaves + arrives - 2)))

    def state(self, device: str, variable: str, time: float) -> float:
        """A state variable's value at a time, as it was put last: of a pedal under way that is where it began."""
        history = self.states[device, variable]
        row = bisect_right([t for t, _ in history], time) - 1
        return history[max(row, 0)][1]

    @cached_property
    def _courses(self) -> dict[int, tuple[list[float], list[float]]]:
        return {}

    def _course(self, column: int) -> tuple[list[float], list[float]]:
        """Pressures and rates of a node, one each time."""
        if column not in self._courses:
            self._courses[column] = self.pressures.column(column), self.rates.column(column)
        return self._courses[column]

    def _between(self, column: int, after: float, until: float) -> list[float]:
        low, high = bisect_left(self._times, after), bisect_right(self._times, until)
        return [self._at(column, after), self._at(column, until), *self._course(column)[0][low:high]]

    def _at(self, column: int, time: float) -> float:
        values, rates = self._course(column)
        row = bisect_right(self._times, time)
        if row >= len(self._times):
            return values[-1]
        if row == 0:
            return values[0]
        start, end = self._times[row - 1], self._times[row]
        return between(time - start, end - start, values[row - 1], values[row], rates[row - 1], rates[row])


def between(since: float, wide: float, one: float, other: float, leaves: float, arrives: float) -> float:
    """A cubic through two values with given slopes, each held to three times the mean rise so that it stays between.

    >>> round(between(0.5, 1.0, 0.0, 1.0, 0.0, 0.0), 6), between(0.5, 1.0, 0.0, 0.0, 9.0, 9.0)
    (0.5, 0.0)
    """
    if wide <= 0.0:
        return other
    mean = (other - one) / wide
    if mean == 0.0:
        return one
    leaves = min(max(leaves / mean, 0.0), 3.0) * mean
    arrives = min(max(arrives / mean, 0.0), 3.0) * mean
    s = since / wide
    return one + wide * s * (leaves + s * (3 * mean - 2 * leaves - arrives + s * (leaves + arrives - 2 * mean)))
