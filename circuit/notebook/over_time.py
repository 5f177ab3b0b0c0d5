"""Pressures over time as arrays, with units in their names."""

from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import Any, NamedTuple

import numpy
from numpy.typing import NDArray

from circuit.model.trace import Trace
from circuit.notebook.given import Value, si
from circuit.report.chart import Chart, Curve
from circuit.report.chart import svg as drawn
from circuit.units import ATMOSPHERE, quantity

Array = NDArray[numpy.float64]


class Curves(NamedTuple):
    """A simulation's result. label: of the variant, or "". trace: as the engine keeps it, in SI."""

    label: str
    trace: Trace

    @property
    def time_s(self) -> Array:
        """The ends of the engine's steps, s."""
        return numpy.asarray(self.trace.times, dtype=float)

    def pressure_bar(self, place: str, time_s: Sequence[float] | Array | None = None) -> Array:
        """Gauge bar in a place at the ends of steps, or at other times, s. Raises NoSuchPlace."""
        if time_s is None:
            found = numpy.asarray(self.trace.at_steps(place), dtype=float)
        else:
            found = numpy.asarray(self.trace.curve(place, [float(each) for each in time_s]), dtype=float)
        return (found - ATMOSPHERE) / 1e5

    def end_bar(self, place: str) -> float:
        """Gauge bar in a place at the end."""
        return (self.trace.last(place) - ATMOSPHERE) / 1e5

    def reached_s(self, place: str, pressure: Value, rising: bool = True, after_s: float = 0.0) -> float | None:
        """s at which a place first stands at a pressure, as `"60 psi"`; None if it never does."""
        return self.trace.first_time(place, si(pressure, "pressure"), rising, after_s)

    def quantity(self, place: str, time_s: float) -> Any:
        """The gauge pressure in a place at a time, as a pint quantity."""
        return quantity(self.trace.pressure(place, time_s), "pressure")

    @property
    def is_complete(self) -> bool:
        """Whether the end was reached with the accuracy asked for; `notes` says what fell short."""
        return self.trace.complete

    @property
    def notes(self) -> tuple[str, ...]:
        return self.trace.notes

    def to_mapping(self, *places: str) -> Mapping[str, Array]:
        """Columns by name, `time_s` and `PLACE_bar`; all spaces that were kept where none is named."""
        named = places or tuple(dict.fromkeys(self.trace.names))
        if places:
            return {"time_s": self.time_s, **{f"{place}_bar": self.pressure_bar(place) for place in places}}
        columns = [[float(value) for value in self.trace.pressures.column(number)] for number in range(len(self.trace.names))]
        return {"time_s": self.time_s, **{f"{name}_bar": (numpy.asarray(column) - ATMOSPHERE) / 1e5
                                          for name, column in zip(named, columns)}}

    def to_pandas(self, *places: str) -> Any:
        """The same as a data frame; pandas has to be there."""
        return import_module("pandas").DataFrame(self.to_mapping(*places))

    def svg(self, *places: str) -> str:
        """A plot of some places over time, gauge bar."""
        time = list(map(float, self.time_s))
        curves = [(place, time, list(map(float, self.pressure_bar(place)))) for place in places]
        return plotted(self.label or self.trace.circuit.vehicle.title, "s", "bar", curves)


def plotted(title: str, across: str, up: str, curves: Sequence[tuple[str, Sequence[float], Sequence[float]]]) -> str:
    """Curves as a picture: each with its label, what is along the axis across and along the one up; the axes' units."""
    return drawn(Chart(title, "predicted", across, up, tuple(Curve(*each) for each in curves)))
