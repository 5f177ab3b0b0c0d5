"""Volumes that grow with pressure: smooth, rising, and holding the air that their volume says."""

import pytest

from circuit.gas import chamber
from circuit.gas.constants import GAS_CONSTANT
from circuit.gas.volume import fixed, held, pieces, summed, volume_at
from circuit.units import ATMOSPHERE

INCH = 0.0254
TYPE_30 = {"area": 30 * INCH**2, "prefill": 14 * INCH**3, "working-stroke": 1.5 * INCH, "stroke": 2.5 * INCH}
LOOSE = {**TYPE_30, "working-stroke": 2.45 * INCH}
SPRING = {"spring-volume": 1e-3, "holds-off-at": ATMOSPHERE + 4.8e5}
EVERY = {"adjusted": chamber.knots(TYPE_30), "loose": chamber.knots(LOOSE), "spring": chamber.spring_knots(SPRING),
         "tank": fixed(0.02), "both": summed((chamber.knots(TYPE_30), chamber.spring_knots(SPRING), fixed(1e-4)))}


def amount(knots, pressure, exponent=1.0, gas=GAS_CONSTANT * 293.15):
    start, c = next(row for row in reversed(held(knots, exponent, gas)) if row[0] <= pressure)
    q = pressure - start
    return sum(k * q**power for power, k in enumerate(c))


@pytest.mark.parametrize("name", EVERY)
def test_the_volume_has_no_jump_and_no_kink_and_never_shrinks(name):
    knots = EVERY[name]
    for start, _ in pieces(knots)[1:]:
        below, at, above = (volume_at(knots, start + d) for d in (-1.0, 0.0, 1.0))  # m3, slopes are 1e-8 to 1e-9 m3/Pa
        assert at - below == pytest.approx(above - at, abs=1e-11)
    rising = [volume_at(knots, 1e5 * k / 10) for k in range(0, 150)]
    assert rising == sorted(rising)


@pytest.mark.parametrize("name", EVERY)
def test_at_one_temperature_the_air_held_is_pressure_times_volume(name):
    knots = EVERY[name]
    for pressure in (0.5e5, 1.01325e5, 1.4e5, 1.9e5, 3e5, 5.5e5, 7.2e5, 9e5, 13e5):
        expected = pressure * volume_at(knots, pressure) / (GAS_CONSTANT * 293.15)
        assert amount(knots, pressure) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.4])
def test_each_change_of_the_air_held_follows_the_exponent(exponent):
    knots = EVERY["both"]
    for pressure in (1.2e5, 1.5e5, 2.5e5, 4e5, 6e5, 9e5):
        d = 20.0
        rate = (amount(knots, pressure + d, exponent) - amount(knots, pressure - d, exponent)) / (2 * d)
        grows = (volume_at(knots, pressure + d) - volume_at(knots, pressure - d)) / (2 * d)
        expected = (volume_at(knots, pressure) / exponent + pressure * grows) / (GAS_CONSTANT * 293.15)
        assert rate == pytest.approx(expected, rel=1e-5)


def test_a_chamber_holds_its_prefill_then_its_travel_then_no_more():
    volume = lambda gauge: chamber.volume(TYPE_30, ATMOSPHERE + gauge)  # noqa: E731
    assert volume(0) == volume(chamber.PUSHES_OUT) == pytest.approx(14 * INCH**3)
    assert volume(chamber.ADJUSTED_AT) == pytest.approx(14 * INCH**3 + 30 * 1.5 * INCH**3, rel=1e-6)
    assert volume(60e5) == pytest.approx((14 + 75) * INCH**3)  # 89 in3, the rated volume of type 30 with 2.5 in


def test_the_loose_one_bottoms_before_full_pressure():
    slope = chamber.volume(LOOSE, ATMOSPHERE + 8.3e5) - chamber.volume(LOOSE, ATMOSPHERE + 8.0e5)
    assert slope == 0
    assert chamber.volume(TYPE_30, ATMOSPHERE + 8.3e5) > chamber.volume(TYPE_30, ATMOSPHERE + 8.0e5)
