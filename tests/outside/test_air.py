"""Air: density, the ratio of specific heats, the atmosphere at altitude."""

from circuit.gas.constants import GAS_CONSTANT, KAPPA, REFERENCE_DENSITY, REFERENCE_TEMPERATURE, density, pressure_at
from circuit.units import ATMOSPHERE
from tests.outside import library


def test_density_of_real_air(table):
    properties = library("CoolProp.CoolProp")
    against = table.against("library", "CoolProp, reference equation of state of dry air")
    for gauge, celsius in ((0, -30), (0, 20), (8, -30), (8, 20), (8, 60), (12.5, 20)):
        kelvin, pressure = 273.15 + celsius, ATMOSPHERE + gauge * 1e5
        real = properties.PropsSI("D", "P", pressure, "T", kelvin, "Air")
        against(
            f"density of dry air at {gauge:g} bar gauge and {celsius} °C",
            outside=real,
            ours=density(pressure, kelvin),
            unit="kg/m3",
            percent=1.6 if celsius < 0 else 0.6,
        )


def test_constants_of_air(table):
    properties = library("CoolProp.CoolProp")
    against = table.against("library", "CoolProp, dry air at 20 °C")
    thin = [properties.PropsSI(what, "P", 100.0, "T", REFERENCE_TEMPERATURE, "Air") for what in ("C", "O", "D")]
    against(
        "gas constant, from the density at 1 mbar",
        outside=100.0 / (thin[2] * REFERENCE_TEMPERATURE),
        ours=GAS_CONSTANT,
        unit="J/(kg K)",
        percent=0.02,
    )
    against("ratio of specific heats at 1 mbar", outside=thin[0] / thin[1], ours=KAPPA, percent=0.2)
    heavy = [properties.PropsSI(what, "P", 9e5, "T", REFERENCE_TEMPERATURE, "Air") for what in ("C", "O")]
    against("ratio of specific heats at 9 bar", outside=heavy[0] / heavy[1], ours=KAPPA, percent=2.0)


def test_reference_air_of_iso_6358(table):
    """100 kPa, 20 °C, 65 % relative humidity: the standard's round 1.185 kg/m3 is 0.3 % more than such air weighs."""
    moist, other = library("CoolProp.HumidAirProp"), library("psychrolib")
    other.SetUnitSystem(other.SI)
    ratio = other.GetHumRatioFromRelHum(20.0, 0.65, 100e3)
    against = table.against("library", "psychrolib, GetMoistAirDensity")
    against(
        "density of the reference air",
        outside=other.GetMoistAirDensity(20.0, ratio, 100e3),
        ours=REFERENCE_DENSITY,
        unit="kg/m3",
        percent=0.35,
    )
    volume = moist.HAPropsSI("V", "P", 100e3, "T", 293.15, "R", 0.65)
    against = table.against("library", "CoolProp, HAPropsSI")
    against(
        "density of the reference air, real gases",
        ours=REFERENCE_DENSITY,
        unit="kg/m3",
        percent=0.35,
        outside=(1 + moist.HAPropsSI("W", "P", 100e3, "T", 293.15, "R", 0.65)) / volume,
    )


def test_atmosphere_at_altitude(table):
    fluids = library("fluids")
    against = table.against("library", "fluids, ATMOSPHERE_1976, which counts heights geometrically")
    for height in (500, 1500, 3000, 5000):
        against(
            f"pressure of the standard atmosphere at {height} m",
            outside=fluids.ATMOSPHERE_1976(height).P / 1e3,
            ours=pressure_at(height) / 1e3,
            unit="kPa",
            percent=0.06,
        )
