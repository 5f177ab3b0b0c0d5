"""What stored air is good for: pressures after applications without feed, and the time a compressor takes to fill.

Both are isothermal: air has come back to the temperature of its surroundings before the next application, and what the
compressor delivers has cooled. Right behind a fast application a real reservoir is colder and reads lower for a moment.
"""

from collections.abc import Callable
from math import atan, atanh, inf
from typing import NamedTuple

from circuit.gas.compressor import volumetric_efficiency
from circuit.units import ATMOSPHERE

_STEPS = 60


class Application(NamedTuple):
    """Absolute Pa: given is what the brakes got, left what the reservoir kept."""

    given: float
    left: float


def plain_share(ratio: float, times: int) -> float:
    """Share of the gauge pressure that is left after full applications into a volume that is there from the start.

    ratio: reservoir over that volume. (k / (k + 1)) ** n, Boyle's law, no refilling.

    >>> [round(plain_share(12, n), 3) for n in (1, 4, 8)]
    [0.923, 0.726, 0.527]
    """
    return (ratio / (ratio + 1)) ** times


def applications(
    reservoir: float, start: float, taken: Callable[[float], float], times: int, demand: float = inf
) -> tuple[Application, ...]:
    """Full applications one after the other without feed, each released to the open air before the next.

    reservoir: m3. start: absolute Pa. taken: the volume, m3, that brakes and lines have at an absolute pressure; what
    they hold at the atmosphere's is there before each application. demand: absolute Pa the brakes get no more than.

    Before: p V + pa v(pa). After: p' V + p' v(p'), or the demand in v and the rest in V.

    >>> [round((one.given - 101325) / 1e3) for one in applications(10.0, 951325.0, lambda p: 1.0, 8, 851325.0)]
    [750, 705, 640, 582, 529, 481, 437, 398]
    """
    found = []
    rest = ATMOSPHERE * taken(ATMOSPHERE)
    pressure = start
    for _ in range(times):
        air = pressure * reservoir + rest
        shared = _shared(air, reservoir, taken, pressure)
        given = min(shared, demand)
        pressure = (air - given * taken(given)) / reservoir if given < shared else shared
        found.append(Application(given, pressure))
    return tuple(found)


def _shared(air: float, reservoir: float, taken: Callable[[float], float], most: float) -> float:
    """The pressure p with p V + p v(p) = air, no higher than `most`."""
    guess = air / (reservoir + taken(most))
    if taken(guess) == taken(most):
        return guess
    low, high = min(ATMOSPHERE, most), most
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if middle * (reservoir + taken(middle)) < air else (low, middle)
    return high


def filling_time(
    volume: float, start: float, end: float, swept: float, clearance: float, tightness: float
) -> float:
    """Seconds in which a piston compressor takes a volume from one absolute pressure to another; inf where it stalls.

    volume: m3. start, end: absolute Pa. swept: m3/s. clearance: dead space over swept volume. tightness: what leaks
    leave.

    dt = V dp / (pa S e(p / pa)) with the volumetric efficiency e = tightness (1 + c - c r^(4/5)) of
    `gas.compressor` (exponent 1.25). With r = u^5 and k^4 = (1 + c) / c the integral is closed:
    (5 / c) ((k / 2) (artanh(u / k) + arctan(u / k)) - u).

    A compressor without dead space delivers what it sweeps: 10 L/s lift 100 L by one atmosphere in 10 s.

    >>> filling_time(0.1, 101325.0, 202650.0, 0.01, 0.0, 1.0)
    10.0
    """
    if end <= start:
        return 0.0
    if swept <= 0 or tightness <= 0 or volumetric_efficiency(end / ATMOSPHERE, clearance, tightness) <= 0:
        return inf
    return volume / (swept * tightness) * (_antiderivative(end, clearance) - _antiderivative(start, clearance))


def _antiderivative(pressure: float, clearance: float) -> float:
    ratio = pressure / ATMOSPHERE
    if clearance == 0:
        return ratio
    u: float = ratio**0.2
    k: float = ((1 + clearance) / clearance) ** 0.25
    return 5 / clearance * (k / 2 * (atanh(u / k) + atan(u / k)) - u)
