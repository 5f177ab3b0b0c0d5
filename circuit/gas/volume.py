"""How much air a space holds at a pressure, when its volume grows with the pressure.

A volume is a tuple of knots (pressure, volume, slope of volume): a cubic between two knots that meets both, a straight
line beyond the last and the first volume before the first. One knot with no slope is a volume that never changes. So
the volume, its slope and the air it holds are exact polynomials, piece by piece.
"""

from functools import lru_cache
from typing import NamedTuple


class Knot(NamedTuple):
    """pressure: absolute Pa. volume: m3. slope: m3/Pa."""

    pressure: float
    volume: float
    slope: float


Knots = tuple[Knot, ...]


def fixed(volume: float) -> Knots:
    """The knots of a volume that never changes, m3."""
    return (Knot(0.0, volume, 0.0),)


def _cubic(one: Knot, other: Knot) -> tuple[float, float, float, float]:
    """Coefficients in the pressure above the first knot of the cubic that meets two knots."""
    wide = other.pressure - one.pressure
    rise = (other.volume - one.volume) / wide
    return (one.volume, one.slope, (3 * rise - 2 * one.slope - other.slope) / wide,
            (one.slope + other.slope - 2 * rise) / wide**2)


def pieces(knots: Knots) -> tuple[tuple[float, tuple[float, float, float, float]], ...]:
    """From which pressure each polynomial counts, and its coefficients in the pressure above that."""
    found = [] if knots[0].pressure <= 0 else [(0.0, (knots[0].volume, 0.0, 0.0, 0.0))]
    found += [(one.pressure, _cubic(one, other)) for one, other in zip(knots, knots[1:])]
    return (*found, (knots[-1].pressure, (knots[-1].volume, knots[-1].slope, 0.0, 0.0)))


def volume_at(knots: Knots, pressure: float) -> float:
    """Volume, m3, at an absolute pressure, Pa.

    >>> volume_at((Knot(1e5, 1e-3, 0.0), Knot(2e5, 2e-3, 0.0)), 1.5e5)
    0.0015
    """
    start, (a, b, c, d) = next(piece for piece in reversed(pieces(knots)) if piece[0] <= max(pressure, 0.0))
    q = max(pressure, 0.0) - start
    return a + q * (b + q * (c + q * d))


@lru_cache(maxsize=4096)
def summed(volumes: tuple[Knots, ...]) -> Knots:
    """The knots of several volumes that share one pressure.

    >>> summed((fixed(1.0), fixed(2.0)))
    (Knot(pressure=0.0, volume=3.0, slope=0.0),)
    """
    places = sorted({knot.pressure for knots in volumes for knot in knots})
    if len(places) > 1 and all(volume_at(k, places[0]) == volume_at(k, places[1]) for k in volumes if len(k) > 1):
        places = places if places[0] > 0 else places[1:]
    return tuple(
        Knot(p, sum(volume_at(knots, p) for knots in volumes), sum(_slope_at(knots, p) for knots in volumes))
        for p in places
    )


def _slope_at(knots: Knots, pressure: float) -> float:
    start, (_, b, c, d) = next(piece for piece in reversed(pieces(knots)) if piece[0] <= pressure)
    q = pressure - start
    return b + q * (2 * c + q * 3 * d)


@lru_cache(maxsize=4096)
def held(
    knots: Knots, exponent: float, gas: float, calm: float = 0.0
) -> tuple[tuple[float, tuple[float, float, float, float, float]], ...]:
    """The air held, kg, as polynomials in pressure: from which pressure each counts, and five coefficients in q.

    gas: R T in J/kg. With exponent 1 (heat passes freely) it is p V / (R T). With another exponent n each change
    follows p V^n: dm = (V/n + p V') dp / (R T), which integrates to [p V - (1 - 1/n) times the integral of V] / (R T),
    counted from no pressure. calm: m3 of the volume that keep to exponent 1 all the same.

    >>> held(fixed(2.0), 1.0, 1.0)
    ((0.0, (0.0, 2.0, 0.0, 0.0, 0.0)),)
    """
    result = []
    before = 0.0
    rest = 1.0 - 1.0 / exponent
    rows = pieces(knots)
    for number, (start, (a, b, c, d)) in enumerate(rows):
        linear, square, cube, fourth = a + start * b - rest * (a - calm), b + start * c, c + start * d, d
        # p V = (start + q)(a + bq + cq2 + dq3), less its value at q = 0, less rest times the integral of V
        coefficients = (before, linear / gas, (square - rest * b / 2) / gas, (cube - rest * c / 3) / gas,
                        (fourth - rest * d / 4) / gas)
        result.append((start, coefficients))
        if number + 1 < len(rows):
            q = rows[number + 1][0] - start
            before += q * (coefficients[1] + q * (coefficients[2] + q * (coefficients[3] + q * coefficients[4])))
    return tuple(result)
