"""Water in compressed air: how much the air carries, and what falls out of it when it is compressed and cools.

Numbers in, numbers out, SI; temperatures in K, pressures absolute Pa.
"""

from math import exp

WATER_CONSTANT = 461.5
"""J/(kg K), steam."""
RATIO = 0.622
"""Molar mass of water over that of dry air."""


def saturation(temperature: float) -> float:
    """Pressure of saturated steam over water, Pa: 611.2 exp(17.62 t / (243.12 + t)), t in °C; the Magnus formula.

    >>> round(saturation(293.15))
    2333
    """
    t = temperature - 273.15
    return 611.2 * exp(17.62 * t / (243.12 + t))


def content(temperature: float) -> float:
    """Steam in saturated air, kg/m3. A handbook of compressed air prints 17.30 g/m3 at 20 °C and 39.63 at 35.

    >>> [round(content(273.15 + t) * 1e3, 1) for t in (20, 35)]
    [17.2, 39.5]
    """
    return saturation(temperature) / (WATER_CONSTANT * temperature)


def carried(temperature: float, pressure: float, humidity: float = 1.0) -> float:
    """kg of steam to each kg of dry air: 0.622 e / (p - e). humidity: relative, 0 to 1.

    A published case: air at 20 °C and 70 % is compressed to 8 bar above atmosphere and leaves at 40 °C, saturated; of
    each m3 taken in, 0.0064 kg of water are removed (printed to two digits; 0.0060 by these formulas).

    >>> dry = (101325 - 0.7 * saturation(293.15)) / (287.05 * 293.15)
    >>> round(dry * (carried(293.15, 101325, 0.7) - carried(313.15, 101325 + 8e5)), 4)
    0.006
    """
    steam = humidity * saturation(temperature)
    return RATIO * steam / (pressure - steam)


def condensed(carries: float, temperature: float, pressure: float) -> float:
    """kg of water that falls out of air with `carries` kg of steam to each kg of dry air; 0 while it is not saturated.

    >>> condensed(0.001, 313.15, 101325.0)
    0.0
    """
    return max(0.0, carries - carried(temperature, pressure))
