"""Air as an ideal gas: its constants, its density, and the atmosphere at altitude.

An ideal gas is within 0.6 % of real air's density up to 16 bar at room temperature; tests hold it to a reference
equation of state.
"""

GAS_CONSTANT = 287.05
"""J/(kg K), dry air. The moist reference air of ISO 6358 has 288: 0.3 % apart, far below what parts scatter."""
KAPPA = 1.4
"""Ratio of specific heats."""
REFERENCE_TEMPERATURE = 293.15
"""K; ISO 6358."""
REFERENCE_DENSITY = 1.185
"""kg/m3 at the reference temperature, 100 kPa and 65 % relative humidity; ISO 6358."""


def density(pressure: float, temperature: float = REFERENCE_TEMPERATURE) -> float:
    """Density, kg/m3: p / (R T).

    pressure: absolute Pa. temperature: K.

    >>> round(density(101325.0, 288.15), 3)  # ISO 2533 at sea level: 1.225
    1.225
    """
    return pressure / (GAS_CONSTANT * temperature)


def pressure_at(altitude: float) -> float:
    """Pressure of the standard atmosphere, absolute Pa: 101325 (1 - 2.25577e-5 h)^5.25588, ISO 2533, up to 11 km.

    altitude: m above sea level.

    >>> [round(pressure_at(h) / 100.0, 1) for h in (0, 1000, 2000, 3000)]  # ISO 2533: 1013.2, 898.8, 795.0, 701.1
    [1013.2, 898.7, 795.0, 701.1]
    """
    return 101325.0 * float((1.0 - 2.25577e-5 * altitude) ** 5.25588)
