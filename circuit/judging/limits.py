"""A clause's limits in SI, read from the unit that the limit's name ends in."""

from collections.abc import Mapping

from circuit.units import to_si

_UNITS = {"psi": "psi", "kpa": "kPa", "bar": "bar", "l": "L", "in3": "in3", "s": "s", "min": "min"}


def pressure(limits: Mapping[str, float], name: str) -> float:
    """A limit such as `least_psi` or `start_kpa`, absolute Pa; raises KeyError."""
    return _si(limits, name, "pressure")


def volume(limits: Mapping[str, float], name: str) -> float:
    """A limit such as `vessel_l`, m3; raises KeyError."""
    return _si(limits, name, "volume")


def time(limits: Mapping[str, float], name: str) -> float:
    """A limit such as `within_s` or `within_min`, s; raises KeyError."""
    return _si(limits, name, "time")


def _si(limits: Mapping[str, float], name: str, dimension: str) -> float:
    return to_si(f"{limits[name]} {_UNITS[name.rsplit('_', 1)[1]]}", dimension)
