"""Brake chambers: how much air they hold, and how hard they push."""

from collections.abc import Mapping

PUSHES_OUT = 0.25e5
"""Pa above atmosphere at which the push rod starts to move; common practice, 2 to 5 psi."""
TAKES_UP = 0.7e5
"""Pa above atmosphere at which the shoe clearance is taken up; common practice, 5 to 12 psi."""
_ATMOSPHERE = 101325.0


def volume(settings: Mapping[str, float], pressure: float) -> float:
    """Air space of a service chamber, m3: pre-fill, plus area times the travel the pressure has given it.

    settings: `area` m2, `prefill` m3, `working-stroke` m. pressure: absolute Pa.
    The travel rises smoothly from none at PUSHES_OUT to the working stroke at TAKES_UP.
    """
    above = (pressure - _ATMOSPHERE - PUSHES_OUT) / (TAKES_UP - PUSHES_OUT)
    share = min(1.0, max(0.0, above))
    travel = settings["working-stroke"] * share * share * (3 - 2 * share)
    return settings["prefill"] + settings["area"] * travel


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
