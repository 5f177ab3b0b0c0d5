"""Crossing between the trade's units and SI. Nothing else in the package converts.

Inside, a bare number is SI and a pressure is absolute Pa. Written pressures are gauge, that is above an atmosphere of
101 325 Pa. The units that drawings use are in an exact table here, so that an ordinary check need not import pint;
any other unit is asked of pint. The tests hold the table to pint and to scipy.constants, unit by unit.
"""

import re
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from pint import UnitRegistry

ATMOSPHERE = 101325.0
"""Pa; standard atmosphere (ISO 2533)."""

_INCH = 0.0254
_FOOT = 12 * _INCH
_POUND = 0.45359237
_G = 9.80665
_LBF = _POUND * _G
_PSI = _LBF / _INCH**2
_MINUTE = 60.0

# dimension: (SI unit as pint writes it, what a person calls it, an example, the exact units)
_PRESSURES = {
    "psi": _PSI, "psig": _PSI, "kPa": 1e3, "bar": 1e5, "barg": 1e5, "mbar": 1e2, "MPa": 1e6, "Pa": 1.0,
}
_TABLE: dict[str, tuple[str, str, str, dict[str, float]]] = {
    "pressure": ("Pa", "a pressure", "8.5 bar or 125 psi", _PRESSURES),
    "difference": ("Pa", "a pressure difference", "0.2 bar or 3 psi", _PRESSURES),
    "volume": ("m^3", "a volume", "20 L or 1400 in3", {
        "L": 1e-3, "litre": 1e-3, "litres": 1e-3, "liter": 1e-3, "liters": 1e-3, "dm3": 1e-3, "ml": 1e-6, "cm3": 1e-6,
        "cc": 1e-6, "m3": 1.0, "in3": _INCH**3, "cuin": _INCH**3, "inch3": _INCH**3, "ft3": _FOOT**3,
    }),
    "length": ("m", "a length", "2 m, 900 mm or 3 ft", {
        "mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": _INCH, "inch": _INCH, "inches": _INCH, "ft": _FOOT, "feet": _FOOT,
        "foot": _FOOT,
    }),
    "area": ("m^2", "an area", "30 in2 or 190 cm2", {"mm2": 1e-6, "cm2": 1e-4, "m2": 1.0, "in2": _INCH**2}),
    "flow": ("m^3/s", "a flow of free air", "12 cfm or 350 L/min", {
        "cfm": _FOOT**3 / _MINUTE, "scfm": _FOOT**3 / _MINUTE, "L/min": 1e-3 / _MINUTE, "l/min": 1e-3 / _MINUTE,
        "L/s": 1e-3, "m3/h": 1 / 3600.0, "m3/min": 1 / _MINUTE, "m3/s": 1.0,
    }),
    "conductance": ("m^3/s/Pa", "a sonic conductance", "20 L/(s.bar)", {
        "L/s/bar": 1e-8, "L/(s.bar)": 1e-8, "L/(s·bar)": 1e-8, "m3/s/Pa": 1.0,
    }),
    "force": ("N", "a force", "1800 lbf or 8 kN", {"N": 1.0, "kN": 1e3, "lbf": _LBF}),
    "torque": ("N*m", "a torque", "2000 N.m", {"N.m": 1.0, "Nm": 1.0, "kN.m": 1e3, "lbf.in": _LBF * _INCH,
                                             "lbf.ft": _LBF * _FOOT}),
    "mass": ("kg", "a mass", "9 t or 20000 lb", {"kg": 1.0, "t": 1e3, "lb": _POUND, "lbs": _POUND}),
    "time": ("s", "a time", "0.45 s or 2 min", {"s": 1.0, "sec": 1.0, "ms": 1e-3, "min": _MINUTE, "h": 3600.0}),
    "speed": ("1/s", "a speed of rotation", "1800 rpm", {"rpm": 1 / _MINUTE, "1/min": 1 / _MINUTE}),
    "rate": ("Pa/s", "a pressure rate", "2 psi/min", {"psi/min": _PSI / _MINUTE, "bar/s": 1e5, "kPa/s": 1e3,
                                                     "psi/s": _PSI, "bar/min": 1e5 / _MINUTE}),
    "temperature": ("K", "a temperature", "-40 °C or 200 °F", {"°C": 1.0, "degC": 1.0, "°F": 5 / 9, "degF": 5 / 9}),
    "height": ("m", "a height", "1500 m or 5000 ft", {"m": 1.0, "ft": _FOOT, "feet": _FOOT}),
    "fraction": ("", "a share", "50 %", {"%": 0.01}),
}
_OFFSETS = {"°C": 273.15, "degC": 273.15, "°F": 273.15 - 32 * 5 / 9, "degF": 273.15 - 32 * 5 / 9}
_PLAIN = {"count", "ratio"}
_MOST = {
    "pressure": "100 bar", "difference": "100 bar", "volume": "10000 L", "length": "500 m", "height": "9000 m", "area": "1 m2",
    "flow": "100000 L/min", "conductance": "10000 L/(s.bar)", "force": "1000 kN", "torque": "1000 kN.m",
    "mass": "1000 t", "time": "1000 h", "speed": "100000 rpm", "rate": "1000 bar/s", "temperature": "1000 °C",
    "fraction": "1000 %", "count": "1000000", "ratio": "1000000",
}
"""The most that can be written of each dimension; common practice, no source: some ten times what any vehicle has."""
DIMENSIONS = frozenset(_TABLE) | _PLAIN

_NUMBER = re.compile(r"([-+]?)(?:(\d+)[ ]+(\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:\.\d+)?))(.*)\Z", re.S)
_SUPERSCRIPT = str.maketrans("²³", "23")


class UnitMistake(ValueError):
    """A measure cannot be read as the dimension asked for.

    says: why, beginning with the measure as written. expected: what to write, or "".
    """

    def __init__(self, says: str, expected: str = "") -> None:
        super().__init__(f"{says}: {expected}" if expected else says)
        self.says, self.expected = says, expected


class Written(NamedTuple):
    """A number and its unit as written: value without conversion, unit "" when there is none."""

    value: float
    unit: str


def split(text: str) -> Written:
    """Take `3/8 in`, `1 3/8 in`, `-40 °C` or `12 in³` apart. Raises UnitMistake when it is no number."""
    found = _NUMBER.match(text.strip().replace("\u00a0", " "))
    if not found:
        raise UnitMistake(f"{text} is not a number with a unit")
    sign, whole, top, bottom, over, under, plain, unit = found.groups()
    if whole is not None:
        value = float(whole) + _divide(text, top, bottom)
    elif over is not None:
        value = _divide(text, over, under)
    else:
        value = float(plain)
    return Written(-value if sign == "-" else value, unit.strip().translate(_SUPERSCRIPT))


def _divide(text: str, over: str, under: str) -> float:
    if float(under) == 0:
        raise UnitMistake(f"{text} divides by nothing")
    return float(over) / float(under)


def _spelling(unit: str, units: dict[str, float]) -> str | None:
    """The table's spelling of `unit`; case is free where it cannot change the meaning."""
    if unit in units:
        return unit
    folded = [known for known in units if known.lower() == unit.lower()]
    if not folded or (unit[0] in "mM" and unit[0] != folded[0][0] and unit[1:] == folded[0][1:]):
        return None  # m and M alone are milli and mega, metre and nothing
    return folded[0]


def to_si(text: str, dimension: str) -> float:
    """The SI value of a written measure, as `_converted` has it, within what can be written of its dimension.

    Raises UnitMistake for a missing unit, a unit of another dimension, an unknown one, and a figure without sense or end.
    """
    value = _converted(text, dimension)
    shift = {"pressure": ATMOSPHERE, "temperature": _OFFSETS["°C"]}.get(dimension, 0.0)
    if not abs(value - shift) <= _most(dimension) - shift:
        raise UnitMistake(f"{_cut_short(text)} is beyond anything that a vehicle has", f"write no more than {_MOST[dimension]}")
    return value


def _cut_short(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:20]}...{text[-10:]}"


def example(dimension: str) -> str:
    """A measure as it is written, for one of the dimensions that have units.

    >>> example("pressure"), example("length")
    ('8.5 bar', '2 m')
    """
    return _TABLE[dimension][2].partition(" or ")[0].partition(",")[0]


def units_of(dimension: str) -> tuple[str, ...]:
    """The units of the exact table that a dimension may be written in; none for a bare number.

    >>> units_of("time")[:3]
    ('s', 'sec', 'ms')
    """
    return tuple(_TABLE[dimension][3]) if dimension in _TABLE else ()


@cache
def _most(dimension: str) -> float:
    return _converted(_MOST[dimension], dimension)


def _converted(text: str, dimension: str) -> float:
    """The SI value of a written measure; a `pressure` is gauge when written and absolute Pa when returned.

    dimension: one of DIMENSIONS. `count` and `ratio` take a bare number.
    Raises UnitMistake for a missing unit, a unit of another dimension or an unknown one.
    """
    written = split(text)
    if dimension in _PLAIN:
        if written.unit:
            raise UnitMistake(f"{text} should be a bare number, without `{written.unit}`")
        if dimension == "count" and abs(written.value) <= 1e15 and not written.value.is_integer():
            raise UnitMistake(f"{text} should be a whole number")
        return written.value
    _, person, example, units = _TABLE[dimension]
    if not written.unit:
        raise UnitMistake(f"{text} needs a unit", f"write {person}, as in {example}")
    bare = written.unit.rstrip("0123456789").lower()
    if dimension in ("pressure", "difference") and bare in ("bara", "psia", "kpaa", "baa"):
        gauge = written.value - ATMOSPHERE / units.get(bare[:-1], _PSI if bare[0] == "p" else 1e5)
        raise UnitMistake(f"{text} is absolute, and pressures are written as a gauge shows them",
                          f"write about {gauge:.3g} {bare[:-1]}")
    known = _spelling(written.unit, units)
    if known is not None:
        value = written.value * units[known] + _OFFSETS.get(known, 0.0)
    else:
        other = _dimension_of(written.unit)
        if other is not None:
            raise UnitMistake(f"{text} measures {other}, and {person} is due", f"write {example}")
        value = _ask_pint(written, text, dimension)
    return value + ATMOSPHERE if dimension == "pressure" else value


def _dimension_of(unit: str) -> str | None:
    for _, person, _, units in _TABLE.values():
        if _spelling(unit, units) is not None:
            return person
    return None


@cache
def registry() -> "UnitRegistry[Any]":
    """The pint registry, made at first use."""
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def _ask_pint(written: Written, text: str, dimension: str) -> float:
    si, person, example, _ = _TABLE[dimension]
    refuse = UnitMistake(f"{text} has no unit that is known here", f"write {person}, as in {example}")
    if len(written.unit) > 24 or not re.fullmatch(r"[^\W\d_]+\d?(?:[/.][^\W\d_]+\d?)*", written.unit):
        raise refuse
    ureg = registry()
    try:
        quantity = ureg.Quantity(written.value, written.unit.replace(".", "*"))
        return float(quantity.to(si or "dimensionless").magnitude)
    except Exception as trouble:
        import pint

        if isinstance(trouble, pint.DimensionalityError):
            raise UnitMistake(f"{text} measures something else, and {person} is due", f"write {example}")
        raise refuse


def pint_unit(dimension: str) -> str:
    """The SI unit of a dimension as pint writes it; "" for a bare number."""
    return _TABLE[dimension][0] if dimension in _TABLE else ""


def quantity(value: float, dimension: str) -> Any:
    """A pint Quantity of an inside value, for users of the library; a pressure comes out as gauge."""
    si = _TABLE[dimension][0]
    return registry().Quantity(value - ATMOSPHERE if dimension == "pressure" else value, si)


# --- SI to the trade's units, for reports -------------------------------------------------------------------------

_IMPERIAL = {"pressure": "psi", "difference": "psi", "volume": "in3", "length": "in", "force": "lbf", "flow": "cfm"}
_METRIC = {"pressure": "bar", "difference": "bar", "volume": "L", "length": "m", "force": "kN", "flow": "L/min"}
_PLACES = {"psi": 1, "bar": 2, "L": 2, "in3": 0, "in": 2, "m": 2, "lbf": 0, "kN": 2, "cfm": 1, "L/min": 0}


_system = "both"


def show_in(system: str) -> None:
    """Which of the trade's units people are shown from now on: metric, imperial or both."""
    global _system
    _system = system


def value_in(value: float, unit: str, dimension: str) -> float:
    """An inside value as a bare number in `unit`; a pressure as gauge."""
    scale = _TABLE[dimension][3][unit]
    return (value - (ATMOSPHERE if dimension == "pressure" else 0.0) - _OFFSETS.get(unit, 0.0)) / scale


def shown(value: float, dimension: str, finer: int = 0) -> str:
    """An inside value for people, in both of the trade's units where it has two: `125.0 psi (8.62 bar)`. finer: further
    digits."""
    if dimension in _PLAIN:
        return f"{value:.{6 + finer}g}"
    if dimension == "fraction":
        return f"{value * 100:.{1 + finer}f} %"
    if dimension not in _IMPERIAL:
        si, _, example, units = _TABLE[dimension]
        unit = {"time": "s", "mass": "kg", "temperature": "°C", "speed": "rpm", "area": "in2",
                "conductance": "L/(s.bar)", "torque": "N.m", "rate": "psi/min", "height": "m"}[dimension]
        return f"{value_in(value, unit, dimension):.{3 + finer}g} {unit}"
    first, second = _IMPERIAL[dimension], _METRIC[dimension]
    if _system != "both":
        unit = first if _system == "imperial" else second
        return f"{value_in(value, unit, dimension):,.{_PLACES[unit] + finer}f} {unit}"
    return (f"{value_in(value, first, dimension):,.{_PLACES[first] + finer}f} {first} "
            f"({value_in(value, second, dimension):,.{_PLACES[second] + finer}f} {second})")


def alike(one: str, other: str) -> bool:
    """Whether two values that people are shown read alike in one of the units.

    >>> alike("4.4 psi (0.31 bar)", "4.4 psi (0.30 bar)"), alike("50 %", "51 %")
    (True, False)
    """
    halves = [set(text.replace(")", "").split(" (")) for text in (one, other)]
    return bool(halves[0] & halves[1])


def told_apart(one: float, other: float, dimension: str) -> tuple[str, str]:
    """Two values for people, with as many digits as it takes until they differ.

    >>> told_apart(59.999 * 6894.757 + ATMOSPHERE, 60.0 * 6894.757 + ATMOSPHERE, "pressure")
    ('59.999 psi (4.1368 bar)', '60.000 psi (4.1369 bar)')
    """
    texts = ("", "")
    for finer in range(7):
        texts = shown(one, dimension, finer), shown(other, dimension, finer)
        if one == other or not alike(*texts):
            break
    return texts


def gauge(value: float) -> float:
    """Absolute Pa to gauge Pa."""
    return value - ATMOSPHERE
