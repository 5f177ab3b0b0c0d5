"""How far a typical value is taken to be off: its range, by the setting itself or else by its dimension.

A share runs from 0 to 1 along a range, evenly among plausible vehicles: 0.5 is the typical value, so that half of them lie
on either side of it whatever the shape.
"""

from collections.abc import Mapping
from math import exp, log
from statistics import NormalDist
from typing import Any, NamedTuple

from circuit.declaring.kind import Setting, Typical
from circuit.units import ATMOSPHERE, UnitMistake, to_si

SHAPES = {
    "even": "every value on one side of the typical one is as likely as the next, up to the ends",
    "bell": "values near the typical one are likelier; one in ten lies beyond the ends",
    "log": "as bell, in factors: twice as much is as likely as half",
}
_NORMAL = NormalDist()
_END = _NORMAL.inv_cdf(0.95)
_MOST = 1.5 * _END
"""How far beyond its ends a bell reaches, in normal deviates; our choice, so that no value loses its sign."""
BY_DIMENSION: dict[str, tuple[float, float, str]] = {
    "conductance": (0.7, 1.4, "log"), "difference": (0.5, 2.0, "log"), "volume": (0.7, 1.4, "log"), "time": (0.7, 1.4, "log"),
    "bore": (0.9, 1.1, "bell"), "length": (0.9, 1.1, "bell"), "fraction": (0.9, 1.1, "bell"), "ratio": (0.9, 1.1, "bell"),
    "force": (0.85, 1.15, "bell"), "pressure": (0.92, 1.08, "bell"), "speed": (0.9, 1.1, "bell"),
    "flow": (0.9, 1.1, "bell"), "area": (0.9, 1.1, "bell"),
}
"""Dimension to the ends as factors on the typical value (of a pressure, above the atmosphere) and the shape; our choice, for
parts whose own range nothing tells."""
OURS = "range by its dimension, our choice"


class Range(NamedTuple):
    """SI values, pressures absolute. source: of the ends."""

    low: float
    typical: float
    high: float
    shape: str
    source: str

    @property
    def wide(self) -> bool:
        """Whether there is anything between its ends."""
        return self.high > self.low

    def at(self, share: float) -> float:
        """The value at a share of plausible vehicles.

        >>> Range(1.0, 1.5, 2.0, "even", "").at(0.25), round(Range(1.0, 2.0, 4.0, "log", "").at(0.95), 9)
        (1.25, 4.0)
        """
        end = self.low if share < 0.5 else self.high
        if self.shape == "even":
            return self.typical + (end - self.typical) * abs(2 * share - 1)
        far = min(_MOST, abs(_NORMAL.inv_cdf(share))) / _END
        if self.shape == "log" and min(self.low, self.typical) > 0:
            return self.typical * exp(far * log(end / self.typical))
        return self.typical + far * (end - self.typical)


def range_of(setting: Setting, settings: Mapping[str, Any]) -> Range | None:
    """How far the typical (or usual) value of a setting is taken to be off; None for what is no quantity.

    settings: of the part, which an end may follow from.
    """
    typical = setting.typical or setting.usual
    if typical is None or setting.dimension not in BY_DIMENSION:
        return None
    dimension = "length" if setting.dimension == "bore" else setting.dimension
    value = to_si(typical.text, dimension)
    if typical.low:
        low, high = to_si(typical.low, dimension), _end(typical, dimension, settings)
        return Range(min(low, value), value, max(high, value), typical.shape or "even", typical.source)
    least, most, shape = BY_DIMENSION[setting.dimension]
    zero = ATMOSPHERE if dimension == "pressure" else 0.0
    if dimension == "fraction":
        most = min(most, 1.0 / value) if value else most
    return Range(zero + least * (value - zero), value, zero + most * (value - zero), shape, OURS)


def in_words(setting: Setting) -> str:
    """The ends as `low to high`, in the unit that the typical value is written in; empty for what is no quantity.

    >>> in_words(Setting("conductance", "conductance", "", Typical("8 L/(s.bar)", "")))
    '5.6 to 11.2 L/(s.bar)'
    """
    typical = setting.typical or setting.usual
    if typical is None or setting.dimension not in BY_DIMENSION:
        return ""
    if typical.low:
        return f"{typical.low} to {typical.high}"
    number, _, unit = typical.text.partition(" ")
    try:
        value = float(number)
    except ValueError:
        return ""
    least, most, _ = BY_DIMENSION[setting.dimension]
    high = min(most * value, 100.0) if unit == "%" else most * value
    return f"{least * value:.3g} to {high:.3g} {unit}".rstrip()


def _end(typical: Typical, dimension: str, settings: Mapping[str, Any]) -> float:
    try:
        return to_si(typical.high, dimension)
    except UnitMistake:
        return float(settings[typical.high])
