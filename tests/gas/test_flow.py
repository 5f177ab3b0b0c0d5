"""Flow formulas against a printed table, closed forms, friction theory and a reference library."""

from math import log, log10, pi, sqrt

import pytest

from circuit.gas.air import GAS_CONSTANT, KAPPA, density, pressure_at
from circuit.gas.compressor import volumetric_efficiency
from circuit.gas.flow import CHOKED, CRITICAL_RATIO, from_area, hole, mass_flow, piece, share, tube
from tests.outside import library

PSI = 6894.757293168
TEMPERATURE = 530 / 1.8
"""K; the table's 70 °F."""
# Handbook table "Discharge of air through an orifice", coefficient 1, 70 °F, 14.7 psia, scfm; diameters in inches.
DIAMETERS = (1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 3 / 8, 1 / 2)
TABLE = {
    1: (0.028, 0.112, 0.450, 1.80, 7.18, 16.2, 28.7),
    5: (0.062, 0.248, 0.993, 3.97, 15.9, 35.7, 63.5),
    9: (0.083, 0.331, 1.32, 5.30, 21.1, 47.7, 84.7),
    12: (0.095, 0.379, 1.52, 6.07, 24.3, 54.6, 97.0),
    20: (0.123, 0.491, 1.96, 7.86, 31.4, 70.7, 126),
    40: (0.194, 0.774, 3.10, 12.4, 49.6, 112, 198),
    60: (0.264, 1.06, 4.23, 16.9, 67.6, 152, 271),
    80: (0.335, 1.34, 5.36, 21.4, 85.7, 193, 343),
    100: (0.406, 1.62, 6.49, 26.0, 104, 234, 415),
    120: (0.476, 1.91, 7.62, 30.5, 122, 274, 488),
    125: (0.494, 1.98, 7.90, 31.6, 126, 284, 506),
}


@pytest.mark.parametrize("gauge", TABLE)
def test_the_handbook_table_of_holes(gauge):
    for diameter, printed in zip(DIAMETERS, TABLE[gauge]):
        up, down = (gauge + 14.7) * PSI, 14.7 * PSI
        flow = mass_flow(hole(diameter * 0.0254, 1.0), CRITICAL_RATIO, up, down, TEMPERATURE, laminar=0.0)
        scfm = flow / (0.07494 * 0.45359237) * 60
        rounding = 0.5 / (printed * 10 ** (3 - len(str(int(printed))) if printed >= 1 else 3))
        assert scfm == pytest.approx(printed, rel=0.01 + rounding)


def test_choking_by_the_reference_library():
    fluids = library("fluids")
    assert fluids.P_critical_flow(1.0, KAPPA) == pytest.approx(CRITICAL_RATIO, rel=1e-12)
    # choked mass flux of the library's relief-valve formula, written with the gas constant in the textbook's way
    assert CHOKED == pytest.approx(
        sqrt(KAPPA / GAS_CONSTANT * (2 / (KAPPA + 1)) ** ((KAPPA + 1) / (KAPPA - 1))), rel=1e-12
    )


def test_atmosphere_by_the_reference_library():
    fluids = library("fluids")
    for height in (0, 500, 1500, 3000, 5000):
        assert pressure_at(height) == pytest.approx(
            fluids.ATMOSPHERE_1976(height).P, rel=6e-4
        )  # it counts heights geometrically


def test_density_of_real_air():
    properties = library("CoolProp.CoolProp")
    for gauge in (0, 1e5, 8e5, 12.5e5):
        real = properties.PropsSI("D", "P", 101325 + gauge, "T", 293.15, "Air")
        assert density(101325 + gauge) == pytest.approx(real, rel=0.006)


def _fanno(bore, length, pressure):
    """Choked mass flow through a tube with friction, kg/s: entrance loss, then adiabatic flow with the Haaland
    factor."""
    area, roughness, viscosity, stagnation = pi / 4 * bore**2, 1.5e-6, 1.81e-5, 293.15

    def needed(mach):
        k = KAPPA
        t = stagnation / (1 + (k - 1) / 2 * mach**2)
        p = pressure * (1 + (k - 1) / 2 * mach**2) ** (-k / (k - 1)) - 0.5 * 0.5 * pressure * k * mach**2 * 0.9
        flow = p / (GAS_CONSTANT * t) * mach * sqrt(k * GAS_CONSTANT * t) * area
        reynolds = 4 * flow / (pi * bore * viscosity)
        factor = (1.8 * log10(6.9 / reynolds + (roughness / (3.7 * bore)) ** 1.11)) ** -2
        reach = (1 - mach**2) / (k * mach**2) + (k + 1) / (2 * k) * log((k + 1) * mach**2 / (2 + (k - 1) * mach**2))
        return reach - factor * length / bore, flow

    low, high = 1e-3, 0.9
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if needed(middle)[0] > 0 else (low, middle)
    return needed(low)[1]


@pytest.mark.parametrize(
    "bore, length", [(4.32, 2), (4.32, 6), (6.38, 2), (6.38, 12), (9.55, 2), (9.55, 12), (14.4, 6)]
)
def test_tubes_against_choked_flow_with_friction(bore, length):
    conductance, _ = tube(bore * 1e-3, length)
    theory = _fanno(bore * 1e-3, length, 8.9e5) / (1.185 * 8.9e5)
    assert 0.88 < conductance / theory < 1.03


@pytest.mark.parametrize("pieces", [2, 4])
@pytest.mark.parametrize("bore, length", [(6.38e-3, 6.0), (9.55e-3, 9.0)])
def test_pieces_in_a_row_pass_what_the_whole_passes(bore, length, pieces):
    whole, ratio = tube(bore, length)
    own, own_ratio = piece(bore, length, pieces)
    for end in (0.15, 0.4, 0.7, 0.9, 0.98):
        target = mass_flow(whole, ratio, 1e6, end * 1e6, laminar=0.0)

        def last(flow):
            """The pressure behind the row when it passes `flow`, or 0 where it cannot."""
            p = 1e6
            for _ in range(pieces):
                if mass_flow(own, own_ratio, p, 0.0, laminar=0.0) <= flow:
                    return 0.0
                low, high = own_ratio * p, p
                for _ in range(60):
                    middle = (low + high) / 2
                    low, high = (
                        (middle, high) if mass_flow(own, own_ratio, p, middle, laminar=0.0) > flow else (low, middle)
                    )
                p = low
            return p

        low, high = 0.5 * target, 1.5 * target
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if last(middle) > end * 1e6 else (low, middle)
        assert 0.985 < low / target < 1.045


def test_the_smooth_zone_changes_little_and_ends_at_nothing():
    for r in (0.35, 0.5, 0.8):
        assert share(r, 0.3) == pytest.approx(share(r, 0.3, laminar=0.0), rel=0.006)
    assert share(1.0, 0.3) == 0.0
    assert share(1 - 1e-9, 0.3) == pytest.approx(1e-9 * 2 / 0.7 * sqrt(1.01 / 0.01), rel=1e-3)


def test_flow_is_the_same_both_ways_and_none_between_equals():
    assert mass_flow(1e-8, 0.3, 5e5, 3e5) == -mass_flow(1e-8, 0.3, 3e5, 5e5) > 0
    assert mass_flow(1e-8, 0.3, 5e5, 5e5) == 0


def test_a_square_millimetre():
    assert from_area(1e-6) * 1e8 == pytest.approx(1 / 5.02, rel=1e-3)  # ISO 6358: S in mm2 is 5.02 C in L/(s bar)


def test_the_dead_space_takes_its_toll():
    assert volumetric_efficiency(1.0, 0.05) == 1.0
    assert volumetric_efficiency(8.0, 0.05, 0.85) < volumetric_efficiency(4.0, 0.05, 0.85) < 0.85
    # isothermal filling by a machine with 5 % dead space, 85 to 100 psi gauge: 14.6352 s by its closed form
    volume, swept, step = 0.0737, 15.9 * 0.3048**3 / 60, 1e-3
    gauge, seconds = 85 * PSI, 0.0
    while gauge < 100 * PSI:
        ratio = (gauge + 101325) / 101325
        gauge += step * 101325 * swept * volumetric_efficiency(ratio, 0.05, exponent=1.0) / volume
        seconds += step
    assert seconds == pytest.approx(14.6352, abs=0.01)
