"""Brake chambers: how much air they hold, and how hard they push.

The push rod's travel follows the pressure without delay: its mass is far too small to matter beside the air. Four
parts: pre-fill (nothing moves yet), clearance (the return spring gives way until the shoes touch), shoes (drum and
linkage give a little), and the end of the stroke.
"""

from collections.abc import Mapping

from circuit.gas.volume import Knot, Knots, volume_at
from circuit.units import ATMOSPHERE

PUSHES_OUT = 0.25e5
"""Pa above atmosphere at which the push rod starts to move; common practice, 2 to 5 psi."""
TAKES_UP = 0.7e5
"""Pa above atmosphere at which the shoe clearance is taken up; common practice, 5 to 12 psi."""
GIVES = 0.4 * 0.0254 / (100 * 6894.757)
"""m of travel for each Pa once the shoes touch; from memory, 0.3 to 0.6 in for 100 psi."""
ADJUSTED_AT = 6.2e5
"""Pa above atmosphere at which the working stroke is measured; common practice, 85 to 90 psi."""
_END = 0.1e5
"""Pa over which the travel comes to its stop; our choice, it only rounds the corner."""
SPRING_STARTS = 1.5e5
"""Pa above atmosphere at which a spring begins to be pushed back; common practice, fully applied by 20 to 25 psi."""
SPRING_REST = 0.3
"""Share of the spring chamber's volume that is there without air; common practice, no source."""


def clearance(settings: Mapping[str, float]) -> float:
    """Travel until the shoes touch, m: the working stroke less what the shoes give, at least 0.3 of it.

    >>> round(clearance({"working-stroke": 1.5 * 0.0254}) / 0.0254, 2)
    1.18
    """
    stroke = settings["working-stroke"]
    return max(0.3 * stroke, stroke - GIVES * (ADJUSTED_AT - TAKES_UP))


def knots(settings: Mapping[str, float]) -> Knots:
    """The volume of a service chamber by absolute pressure.

    settings: `area` m2, `prefill` m3, `working-stroke` m and `stroke` m, the travel at which it bottoms.
    """
    area, rest = settings["area"], settings["prefill"]
    touches = clearance(settings)
    bottoms = TAKES_UP + max((settings["stroke"] - touches) / GIVES, 2 * _END)
    swept = area * (touches + GIVES * (bottoms - TAKES_UP))
    return (
        Knot(ATMOSPHERE + PUSHES_OUT, rest, 0.0),
        Knot(ATMOSPHERE + TAKES_UP, rest + area * touches, area * GIVES),
        Knot(ATMOSPHERE + bottoms - _END, rest + swept - area * GIVES * _END, area * GIVES),
        Knot(ATMOSPHERE + bottoms + _END, rest + swept, 0.0),
    )


def volume(settings: Mapping[str, float], pressure: float) -> float:
    """Air space of a service chamber, m3, at an absolute pressure, Pa. settings: as for `knots`.

    >>> sizes = {"area": 0.0194, "prefill": 2e-4, "working-stroke": 0.0381, "stroke": 0.0635}
    >>> [round(volume(sizes, 101325.0 + p) * 1e3, 3) for p in (0, 0.25e5, 0.7e5, 6.2e5)]
    [0.2, 0.2, 0.782, 0.939]
    """
    return volume_at(knots(settings), pressure)


def spring_knots(settings: Mapping[str, float]) -> Knots:
    """The volume of a spring chamber by absolute pressure: it grows while the air pushes the spring back.

    settings: `spring-volume` m3 with the spring held off, `holds-off-at` absolute Pa.
    """
    full = settings["spring-volume"]
    done = settings["holds-off-at"]
    starts = min(ATMOSPHERE + SPRING_STARTS, ATMOSPHERE + 0.5 * (done - ATMOSPHERE))
    return (Knot(starts, SPRING_REST * full, 0.0), Knot(done, full, 0.0))


def spring_volume(settings: Mapping[str, float], pressure: float) -> float:
    """Air space of a spring chamber, m3, at an absolute pressure, Pa. settings: as for `spring_knots`.

    >>> sizes = {"spring-volume": 1e-3, "holds-off-at": 101325.0 + 4.8e5}
    >>> [round(spring_volume(sizes, 101325.0 + p) * 1e3, 3) for p in (0, 3.15e5, 4.8e5)]
    [0.3, 0.65, 1.0]
    """
    return volume_at(spring_knots(settings), pressure)


def push(pressure: float, area: float) -> float:
    """Force on the piston or diaphragm, N, before the return spring: gauge pressure times area.

    pressure: gauge Pa. area: m2. The trade's two facts (common practice, no source) follow from a 4 in piston:
    25 psi give 314 lb and 90 psi give 1,130 lb.

    >>> from math import pi
    >>> piston = pi / 4 * (4 * 0.0254) ** 2
    >>> round(push(25 * 6894.757, piston) / 4.448222)
    314
    >>> round(push(90 * 6894.757, piston) / 4.448222, -1)
    1130.0
    """
    return pressure * area
