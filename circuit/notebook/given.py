"""Values as a caller gives them: a text as in a design, a pint quantity, or a bare number in SI."""

from typing import Any, Protocol

from circuit.declaring.kind import Setting
from circuit.model.circuit import Circuit
from circuit.model.places import NoSuchPlace, device_named
from circuit.units import ATMOSPHERE, UnitMistake, pint_unit, to_si


class Quantity(Protocol):
    """What pint gives: a number with its unit."""

    @property
    def magnitude(self) -> Any: ...

    def to(self, other: str) -> Any: ...


Value = str | float | Quantity
"""A measure: `"8.5 bar"`, a pint quantity, or a number in SI; a number that is a pressure is absolute Pa."""


def si(value: Value, dimension: str) -> float:
    """A value in SI; a pressure that is written or a quantity counts from the atmosphere and comes out absolute.

    Raises ValueError for a unit of another dimension, or none.

    >>> si("100 kPa", "pressure"), si("2 m", "length"), si(0.5, "length")
    (201325.0, 2.0, 0.5)
    """
    if isinstance(value, str):
        return to_si(value, dimension)
    if isinstance(value, (int, float)):
        return float(value)
    try:
        number = float(value.to(pint_unit(dimension) or "dimensionless").magnitude)
    except Exception as trouble:
        raise UnitMistake(f"{value} is no measure of this kind: {trouble}") from None
    return number + ATMOSPHERE if dimension == "pressure" else number


def setting(circuit: Circuit, part: str, name: str, value: Value) -> object:
    """A setting's value as the engine takes it. Raises NoSuchPlace for a part or a setting that there is not."""
    device = device_named(circuit, part)
    declared = device.kind.setting(name)
    if declared is None and name != "bore":
        raise NoSuchPlace(f"`{part}` is a {device.kind.name} and has no setting `{name}`: it has "
                          + ", ".join(each.name for each in device.kind.settings))
    return _value(declared, value)


def _value(declared: Setting | None, value: Value) -> object:
    dimension = declared.dimension if declared else "bore"
    if dimension == "size":
        return str(value).strip().removesuffix("in").strip()
    if dimension == "word":
        return str(value)
    if dimension in ("text", "name", "names", "reference", "chamber"):
        return value
    return si(value, "length" if dimension == "bore" else dimension)
