"""A clause's limits and procedure in SI. Each figure says its unit at the end of its name: `start_kpa`, `within_min`.

A figure is asked for by what it is about (`start`), so that a standard may write it in any unit of the list.
"""

from collections.abc import Mapping

from circuit.units import to_si

UNITS = {"psi": "psi", "kpa": "kPa", "bar": "bar", "l": "L", "in3": "in3", "cm3": "cm3", "m": "m", "mm": "mm", "in": "in",
         "s": "s", "min": "min", "kpa_s": "kPa/s", "psi_s": "psi/s", "psi_min": "psi/min", "l_s_bar": "L/s/bar"}
"""The end of a figure's name to its unit."""

Limits = Mapping[str, float]


def has(limits: Limits, name: str) -> bool:
    """Whether a figure is written, in whatever unit."""
    return _written(limits, name) is not None


def pressure(limits: Limits, name: str) -> float:
    """A pressure such as `least` or `start`, absolute Pa; raises KeyError, as all of these do."""
    return _si(limits, name, "pressure")


def difference(limits: Limits, name: str) -> float:
    """A difference of pressures, Pa."""
    return _si(limits, name, "difference")


def rate(limits: Limits, name: str) -> float:
    """How fast a pressure changes, Pa/s."""
    return _si(limits, name, "rate")


def volume(limits: Limits, name: str) -> float:
    """A volume such as `vessel`, m3."""
    return _si(limits, name, "volume")


def length(limits: Limits, name: str) -> float:
    """A length or a bore, m."""
    return _si(limits, name, "length")


def time(limits: Limits, name: str) -> float:
    """A time such as `within`, s."""
    return _si(limits, name, "time")


def conductance(limits: Limits, name: str) -> float:
    """A sonic conductance, m3/(s Pa)."""
    return _si(limits, name, "conductance")


def as_written(limits: Limits, name: str) -> str:
    """A figure as the standard has it, with its unit: `60 psi`. Raises KeyError."""
    value, unit = _found(limits, name)
    return f"{value:g} {unit}"


def in_words(limits: Mapping[str, object]) -> list[str]:
    """Every figure in words: `start 100 psi`, `share 0.75`."""
    found = []
    for name, value in limits.items():
        unit = next((unit for unit in sorted(UNITS, key=len, reverse=True) if name.endswith(f"_{unit}")), "")
        about = name.removesuffix(f"_{unit}" if unit else "").replace("_", " ")
        values = " and ".join(map(str, value)) if isinstance(value, list) else "" if value is True else str(value)
        found.append(f"{about} {values} {UNITS[unit]}".rstrip() if unit else f"{about} {values}".rstrip())
    return found


def _si(limits: Limits, name: str, dimension: str) -> float:
    value, unit = _found(limits, name)
    return to_si(f"{value} {unit}", dimension)


def _found(limits: Limits, name: str) -> tuple[float, str]:
    written = _written(limits, name)
    if written is None:
        raise KeyError(name)
    return limits[f"{name}_{written}"], UNITS[written]


def _written(limits: Limits, name: str) -> str | None:
    return next((unit for unit in UNITS if f"{name}_{unit}" in limits), None)
