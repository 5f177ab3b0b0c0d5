"""Water in air: steam, what air carries, what falls out, by libraries and handbooks.

Over water throughout: below freezing the libraries' values over ice are lower. The program takes air and steam as ideal
gases; real moist air carries a little more under pressure, which is the greater part of the differences at 9 bar.
"""

from itertools import product

import pytest

from circuit.gas.constants import GAS_CONSTANT
from circuit.gas.moisture import carried, condensed, content, saturation
from circuit.units import ATMOSPHERE
from tests.outside import library

CELSIUS = (0.01, 5.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0)
HUMIDITIES = (0.3, 0.6, 1.0)


@pytest.fixture(scope="module")
def psychro():
    found = library("psychrolib")
    found.SetUnitSystem(found.SI)
    return found


def kelvin(celsius):
    return 273.15 + celsius


def worst(pairs):
    """The pair that is farthest apart by its share: (outside, ours, where)."""
    return max(pairs, key=lambda pair: abs(pair[1] / pair[0] - 1))


def test_saturated_steam(table, psychro):
    properties = library("CoolProp.CoolProp")
    by_psychro = table.against("library", "psychrolib, GetSatVapPres")
    by_steam = table.against("library", "CoolProp, reference equation of state of water")
    for celsius in CELSIUS:
        by_psychro(
            f"saturation pressure at {celsius:g} °C",
            outside=psychro.GetSatVapPres(celsius),
            ours=saturation(kelvin(celsius)),
            unit="Pa",
            percent=0.3,
        )
    for celsius in (20.0, 60.0):
        by_steam(
            f"saturation pressure at {celsius:g} °C, equation of state",
            unit="Pa",
            percent=0.3,
            outside=properties.PropsSI("P", "T", kelvin(celsius), "Q", 1, "Water"),
            ours=saturation(kelvin(celsius)),
        )


def test_steam_in_moist_air_of_a_grid(table, psychro):
    """Temperatures, humidities and altitudes together; the page shows the worst of each grid."""
    grid = list(product(CELSIUS, HUMIDITIES))
    against = table.against("library", "psychrolib, GetHumRatioFromRelHum, the worst from 0 to 60 °C and 30 to 100 %")
    for words, pressure in (("sea level", ATMOSPHERE), ("3000 m", 70.1e3), ("120 psi gauge", 9.287e5)):
        outside, ours = worst(
            [(psychro.GetHumRatioFromRelHum(c, h, pressure), carried(kelvin(c), pressure, h)) for c, h in grid]
        )[:2]
        against(f"steam to dry air at {words}", outside=outside * 1e3, ours=ours * 1e3, unit="g/kg", percent=0.4)
    real = library("CoolProp.HumidAirProp")
    against = table.against("library", "CoolProp, HAPropsSI, real gases, the worst from 0 to 60 °C and 30 to 100 %")
    for words, pressure, most in (("sea level", ATMOSPHERE, 1.0), ("120 psi gauge", 9.287e5, 5.0)):
        outside, ours = worst(
            [
                (real.HAPropsSI("W", "T", kelvin(c), "P", pressure, "R", h), carried(kelvin(c), pressure, h))
                for c, h in grid
            ]
        )[:2]
        against(
            f"steam to dry air at {words}, real gases",
            outside=outside * 1e3,
            ours=ours * 1e3,
            unit="g/kg",
            percent=most,
        )


def test_below_freezing(table, psychro):
    """Ours is over water, as for the mist in a line; over ice less steam stays."""
    against = table.against("library", "psychrolib, GetSatVapPres, over ice where ours is over water")
    against(
        "saturation pressure at -10 °C",
        outside=psychro.GetSatVapPres(-10.0),
        ours=saturation(kelvin(-10.0)),
        unit="Pa",
        percent=12.0,
    )


def test_handbooks_of_compressed_air(table):
    """Printed to two or four digits; their own tables of steam differ from today's by 1 to 7 %."""
    against = table.against("published", "handbook page on condensate in compressed air")
    against("steam in saturated air at 20 °C", outside=17.30, ours=content(kelvin(20)) * 1e3, unit="g/m3", percent=1.0)
    against("steam in saturated air at 35 °C", outside=39.63, ours=content(kelvin(35)) * 1e3, unit="g/m3", percent=1.0)
    # a m3 at 35 °C and saturated, made an eighth as large at the same temperature: an eighth of the steam stays
    against(
        "water that falls out of a m3 of saturated air at 35 °C made to 8 bar",
        outside=34.68,
        unit="g",
        percent=1.0,
        ours=content(kelvin(35)) * (1 - 1 / 8) * 1e3,
    )
    against = table.against("published", "page on the water content of compressed air, two digits")
    dry = (ATMOSPHERE - 0.7 * saturation(kelvin(20))) / (GAS_CONSTANT * kelvin(20))
    falls = condensed(carried(kelvin(20), ATMOSPHERE, 0.7), kelvin(40), ATMOSPHERE + 8e5)
    against(
        "water out of a m3 of air of 20 °C and 70 %, cooled to 40 °C at 8 bar gauge",
        outside=0.0064,
        ours=dry * falls,
        unit="kg",
        percent=7.0,
    )
    for celsius, row in ((20, ((0, 0.018), (4, 0.0035), (8, 0.0019))), (40, ((0, 0.059), (4, 0.011), (8, 0.0062)))):
        for gauge, printed in row:
            ours = carried(kelvin(celsius), ATMOSPHERE + gauge * 1e5) * 1.204
            against(
                f"steam to a m3 of free air at {celsius} °C and {gauge} bar gauge, saturated",
                outside=printed * 1e3,
                ours=ours * 1e3,
                unit="g",
                percent=7.0,
            )


def test_a_textbook_s_day_of_condensate(table):
    """100 ft3/min of free air saturated at 80 °F, 8 hours: its table has 1.58 lb of steam to 1000 ft3."""
    pounds = content(kelvin((80 - 32) / 1.8)) * 0.3048**3 * 1000 / 0.45359237
    against = table.against("published", "data of a fluid-power textbook's example")
    against("steam in 1000 ft3 of saturated air at 80 °F", outside=1.58, ours=pounds, unit="lb", percent=2.0)
    against = table.against("closed form", "that example worked out: 100 ft3/min, 8 h, 8.34 lb to the gallon")
    against(
        "water in 100 ft3/min of it, 8 h",
        outside=9.09,
        ours=100 * 60 * 8 * pounds / 1000 / 8.34,
        unit="gal",
        percent=2.0,
    )
