"""The exact table of units against pint and scipy, gauge against absolute, and what is said of a measure refused."""

import pint
import pytest
import scipy.constants as constants

from circuit import units
from circuit.units import ATMOSPHERE, UnitMistake, gauge, quantity, shown, split, to_si, value_in

UREG = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
PINT_WORDS = {
    "psig": "psi", "barg": "bar", "L": "liter", "litre": "liter", "litres": "liter", "liters": "liter", "dm3": "dm^3",
    "cm3": "cm^3", "cc": "cm^3", "m3": "m^3", "in3": "inch^3", "cuin": "inch^3", "inch3": "inch^3", "ft3": "foot^3",
    "in": "inch", "inches": "inch", "feet": "foot", "mm2": "mm^2", "cm2": "cm^2", "m2": "m^2", "in2": "inch^2",
    "cfm": "foot^3/minute", "scfm": "foot^3/minute", "L/min": "liter/minute", "l/min": "liter/minute",
    "L/s": "liter/second", "m3/h": "m^3/hour", "m3/min": "m^3/minute", "m3/s": "m^3/second",
    "L/s/bar": "liter/second/bar", "L/(s.bar)": "liter/second/bar", "L/(s·bar)": "liter/second/bar",
    "m3/s/Pa": "m^3/second/pascal", "lbf": "pound_force", "N.m": "newton*meter", "Nm": "newton*meter",
    "kN.m": "kilonewton*meter", "lbf.in": "pound_force*inch", "lbf.ft": "pound_force*foot", "t": "metric_ton",
    "lbs": "pound", "sec": "second", "h": "hour", "rpm": "1/minute", "1/min": "1/minute", "psi/min": "psi/minute",
    "bar/s": "bar/second", "kPa/s": "kilopascal/second", "psi/s": "psi/second", "bar/min": "bar/minute",
    "°C": "degC", "°F": "degF", "%": "percent",
}
"""How pint spells a unit of the table, where it is otherwise."""
SCIPY = {
    "psi": constants.psi, "bar": constants.bar, "in": constants.inch, "ft": constants.foot, "lb": constants.pound,
    "lbf": constants.pound_force, "L": constants.liter, "min": constants.minute, "h": constants.hour,
}
ROWS = [(dimension, unit) for dimension, row in units._TABLE.items() for unit in row[3]]


def test_the_atmosphere_is_the_standard_one():
    assert ATMOSPHERE == constants.atm == 101325.0


@pytest.mark.parametrize("dimension, unit", ROWS, ids=[f"{d}-{u}" for d, u in ROWS])
def test_the_table_agrees_with_pint(dimension: str, unit: str):
    by_pint = UREG.Quantity(3.7, PINT_WORDS.get(unit, unit)).to(units._TABLE[dimension][0] or "dimensionless").magnitude
    ours = units._converted(f"3.7 {unit}", dimension) - (ATMOSPHERE if dimension == "pressure" else 0.0)
    assert ours == pytest.approx(by_pint, rel=1e-9)
    assert value_in(units._converted(f"3.7 {unit}", dimension), unit, dimension) == pytest.approx(3.7, rel=1e-9)


@pytest.mark.parametrize("unit, factor", SCIPY.items())
def test_the_table_agrees_with_scipy(unit: str, factor: float):
    rows = [row[3][unit] for row in units._TABLE.values() if unit in row[3]]
    assert rows and all(found == pytest.approx(factor, rel=1e-12) for found in rows)


def test_temperatures_agree_with_scipy():
    for celsius in (-40.0, 0.0, 20.0, 93.0):
        kelvin = constants.convert_temperature(celsius, "Celsius", "Kelvin")
        fahrenheit = constants.convert_temperature(celsius, "Celsius", "Fahrenheit")
        assert to_si(f"{celsius} °C", "temperature") == pytest.approx(kelvin)
        assert to_si(f"{fahrenheit} °F", "temperature") == pytest.approx(kelvin)


def test_a_written_pressure_is_gauge_and_a_difference_is_not():
    assert to_si("0 bar", "pressure") == ATMOSPHERE
    assert to_si("100 psi", "pressure") == pytest.approx(ATMOSPHERE + 100 * constants.psi)
    assert to_si("100 psi", "difference") == pytest.approx(100 * constants.psi)
    assert gauge(to_si("8.6 bar", "pressure")) == pytest.approx(8.6e5)
    assert quantity(to_si("8.6 bar", "pressure"), "pressure").to("bar").magnitude == pytest.approx(8.6)


@pytest.mark.parametrize("text, value, unit", [
    ("3/8 in", 0.375, "in"), ("1 3/8 in", 1.375, "in"), ("12 in³", 12.0, "in3"), ("-40 °C", -40.0, "°C"),
    ("20L", 20.0, "L"), ("8.5 bar", 8.5, "bar"), ("12\u00a0cfm", 12.0, "cfm"), ("7", 7.0, ""),
])
def test_numbers_and_units_come_apart(text: str, value: float, unit: str):
    assert split(text) == (value, unit)


@pytest.mark.parametrize("text, dimension, si", [
    ("120 PSI", "pressure", ATMOSPHERE + 120 * constants.psi), ("2 IN", "length", 0.0508),
    ("500 kpa", "pressure", ATMOSPHERE + 5e5), ("1 yard", "length", 0.9144),
    ("2 gallon", "volume", 2 * constants.gallon),
    ("10 cubic_feet", "volume", None), ("50 %", "fraction", 0.5), ("3", "count", 3.0), ("1.5", "ratio", 1.5),
])
def test_spellings_of_the_trade_are_read(text: str, dimension: str, si: float | None):
    if si is None:
        with pytest.raises(UnitMistake):
            to_si(text, dimension)
    else:
        assert to_si(text, dimension) == pytest.approx(si)


@pytest.mark.parametrize("text, dimension, says", [
    ("120", "pressure", "120 needs a unit: write a pressure, as in 8.5 bar or 125 psi"),
    ("120", "length", "120 needs a unit: write a length, as in 2 m, 900 mm or 3 ft"),
    ("120 L", "pressure", "120 L measures a volume, and a pressure is due: write 8.5 bar or 125 psi"),
    ("3 kg", "length", "3 kg measures a mass, and a length is due: write 2 m, 900 mm or 3 ft"),
    ("3 acre", "length", "3 acre measures something else, and a length is due: write 2 m, 900 mm or 3 ft"),
    ("3 elephants", "length", "3 elephants has no unit that is known here: write a length, as in 2 m, 900 mm or 3 ft"),
    ("3 __import__", "length", "3 __import__ has no unit that is known here: write a length, as in 2 m, 900 mm or 3 ft"),
    ("3 bar", "count", "3 bar should be a bare number, without `bar`"),
    ("2.5", "count", "2.5 should be a whole number"),
    ("3/0 in", "length", "3/0 in divides by nothing"),
    ("long", "length", "long is not a number with a unit"),
    ("8 bara", "pressure", "8 bara is absolute, and pressures are written as a gauge shows them: write about 6.99 bar"),
    ("100 psia", "pressure", "100 psia is absolute, and pressures are written as a gauge shows them: write about 85.3 psi"),
    ("8 mBar", "length", "8 mBar measures a pressure, and a length is due: write 2 m, 900 mm or 3 ft"),
])
def test_a_refusal_says_what_to_write(text: str, dimension: str, says: str):
    with pytest.raises(UnitMistake) as refused:
        to_si(text, dimension)
    assert str(refused.value) == says


def test_milli_is_never_taken_for_mega():
    assert to_si("1 MPa", "pressure") == ATMOSPHERE + 1e6
    with pytest.raises(UnitMistake):
        to_si("1 Mm", "time")
    assert to_si("1 mPa", "pressure") == pytest.approx(ATMOSPHERE + 1e-3)
    with pytest.raises(UnitMistake, match="beyond anything"):
        to_si("1 Mm", "length")


@pytest.mark.parametrize("dimension", sorted(units.DIMENSIONS))
def test_every_dimension_has_a_most_that_can_be_written(dimension: str):
    most = units._MOST[dimension]
    assert to_si(most, dimension) > 0
    number, _, unit = most.partition(" ")
    for figure in (f"{int(number) * 2}", "9" * 400, f"{'9' * 400}/3", f"-{int(number) * 2}"):
        beyond = f"{figure} {unit}"
        with pytest.raises(UnitMistake, match="beyond anything") as refused:
            to_si(beyond.strip(), dimension)
        assert len(str(refused.value)) < 160 and most in refused.value.expected


@pytest.mark.parametrize("text, dimension, words", [
    ("125 psi", "pressure", "125.0 psi (8.62 bar)"), ("3 psi", "difference", "3.0 psi (0.21 bar)"),
    ("5568 in3", "volume", "5,568 in3 (91.24 L)"), ("3 ft", "length", "36.00 in (0.91 m)"),
    ("1800 lbf", "force", "1,800 lbf (8.01 kN)"), ("12 cfm", "flow", "12.0 cfm (340 L/min)"),
    ("45 %", "fraction", "45.0 %"), ("450 ms", "time", "0.45 s"), ("20 °C", "temperature", "20 °C"),
    ("1250 rpm", "speed", "1.25e+03 rpm"), ("4", "count", "4"),
])
def test_values_are_shown_in_both_units_of_the_trade(text: str, dimension: str, words: str):
    assert shown(to_si(text, dimension), dimension) == words


def test_every_dimension_can_be_shown():
    for dimension in units.DIMENSIONS:
        assert shown(to_si("3" if dimension in ("count", "ratio") else f"3 {list(units._TABLE[dimension][3])[0]}",
                           dimension), dimension)
