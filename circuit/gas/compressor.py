"""How much air a piston compressor delivers."""

EXPANSION = 1.25
"""Exponent of the dead space's expansion; common practice, 1.2 to 1.3."""


def volumetric_efficiency(
    pressure_ratio: float, clearance: float, tightness: float = 1.0, exponent: float = EXPANSION
) -> float:
    """Volume taken in over volume swept: tightness (1 + c - c r^(1/n)), never below 0.

    The air left in the dead space expands before fresh air comes in. A textbook formula of reciprocating machines.
    pressure_ratio: delivery over inlet, absolute. clearance: dead space over swept volume. tightness: what leaks and
    heating leave of it. exponent: n of that expansion.

    A 5 % dead space at n = 1 stalls at a pressure ratio of (1 + c)/c = 21.

    >>> round(volumetric_efficiency(21.0, 0.05, exponent=1.0), 12)
    0.0
    >>> round(volumetric_efficiency(8.0, 0.04, exponent=1.3), 3)
    0.842
    """
    return max(0.0, tightness * (1.0 + clearance - clearance * float(pressure_ratio ** (1.0 / exponent))))


def delivery(
    swept: float, pressure: float, inlet_pressure: float, inlet_density: float,
    clearance: float, tightness: float = 1.0, exponent: float = EXPANSION,
) -> float:
    """Mass flow delivered, kg/s: inlet density times swept volume a second times the volumetric efficiency.

    swept: m3/s. pressure, inlet_pressure: absolute Pa. inlet_density: kg/m3.

    >>> round(delivery(0.0075, 101325.0, 101325.0, 1.2, 0.05), 4)
    0.009
    """
    return inlet_density * swept * volumetric_efficiency(pressure / inlet_pressure, clearance, tightness, exponent)
