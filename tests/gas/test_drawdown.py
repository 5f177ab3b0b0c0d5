"""Applications without feed and the time to fill, against published tables and an independent integration."""

from math import inf, log

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from circuit.gas.compressor import volumetric_efficiency
from circuit.gas.drawdown import applications, filling_time, plain_share
from circuit.units import ATMOSPHERE

PSI = 6894.757293168361
IN3 = 0.0254**3


def rigid(volume: float):
    """A volume that is there from the start: Boyle's law in gauge pressures."""
    return lambda pressure: volume


def gauge_series(ratio: float, start: float, times: int, demand: float = inf) -> list[float]:
    """What each application gets, gauge, in the unit of `start` (kPa)."""
    series = applications(ratio, ATMOSPHERE + 1e3 * start, rigid(1.0), times,
                          ATMOSPHERE + 1e3 * demand if demand < inf else inf)
    return [(one.given - ATMOSPHERE) / 1e3 for one in series]


@pytest.mark.parametrize("ratio, shares", [
    (2.33, {1: 70, 5: 17, 8: 6}), (6.73, {1: 87, 5: 50, 8: 33}), (8, {1: 88.9, 5: 55.5, 8: 39}),
    (11.05, {1: 91.7, 5: 64.8, 8: 50}), (12, {1: 92.3, 5: 67, 8: 52.7}), (16, {1: 94.1, 5: 73.9, 8: 61.6}),
])
def test_ratio_turns_into_applications(ratio: float, shares: dict[int, float]):
    """Boyle's law (k / (k + 1)) ** n in per cent, worked by hand to the digits shown."""
    for times, percent in shares.items():
        assert 100 * plain_share(ratio, times) == pytest.approx(percent, abs=0.6)
        left = applications(ratio, ATMOSPHERE + 1e5, rigid(1.0), times)[-1].left
        assert (left - ATMOSPHERE) / 1e5 == pytest.approx(plain_share(ratio, times), rel=1e-12)


@pytest.mark.parametrize("ratio, most", [(2.33, 1), (6.73, 5), (8, 5), (11.05, 8), (12, 8), (16, 11)])
def test_how_many_applications_leave_half(ratio: float, most: int):
    assert plain_share(ratio, most) >= 0.4999 and plain_share(ratio, most + 1) < 0.4999


@pytest.mark.parametrize("ratio, expected", [(8, (0.889, 0.624, 0.390, 0.346)), (10, (0.909, 0.683, 0.467, 0.424)),
                                             (12, (0.923, 0.726, 0.527, 0.487)), (15, (0.938, 0.772, 0.597, 0.559))])
def test_what_is_left_after_1_4_8_and_9(ratio: float, expected: tuple[float, ...]):
    assert [round(plain_share(ratio, n), 3) for n in (1, 4, 8, 9)] == list(expected)


@pytest.mark.parametrize("share, ratio", [(0.40, 9.3), (0.45, 10.8), (0.50, 12.5), (0.55, 14.6), (0.60, 17.1)])
def test_the_ratio_that_a_ninth_application_needs(share: float, ratio: float):
    assert brentq(lambda r: plain_share(r, 9) - share, 1, 50) == pytest.approx(ratio, abs=0.06)


@pytest.mark.parametrize("ratio, expected", [(12, (92, 85, 79, 73, 67, 62, 57)), (8, (89, 79, 70, 62, 55, 49, 44))])
def test_seven_applications_from_100(ratio: float, expected: tuple[int, ...]):
    assert [round(100 * plain_share(ratio, n)) for n in range(1, 8)] == list(expected)


def test_a_trailer_limited_by_the_demand():
    """850 kPa at the start, 750 in the control line, ten times the volume: hand-worked series."""
    assert [round(p) for p in gauge_series(10, 850, 9, 750)] == [750, 705, 640, 582, 529, 481, 437, 398, 362]


@pytest.mark.parametrize("number, ratio", [(8, 9.3), (9, 10.5)])
def test_the_ratio_for_half_of_the_first(number: int, ratio: float):
    def beyond(r: float) -> float:
        series = gauge_series(r, 850, number, 750)
        return series[number - 1] - series[0] / 2

    assert brentq(beyond, 5, 20) == pytest.approx(ratio, abs=0.06)


@pytest.mark.parametrize("ratio, left", [(6, 378), (8, 437), (10, 478), (12, 508)])
def test_four_strokes_of_700(ratio: float, left: int):
    assert round(gauge_series(ratio, 700, 4)[-1]) == left


def test_no_air_is_made_or_lost():
    """Mass by Boyle's law over an application with a growing volume: what left the reservoir is in the brakes."""
    def taken(pressure: float) -> float:
        return 1e-3 + 2e-9 * (pressure - ATMOSPHERE)

    before = 9e5
    for demand in (inf, 6e5):
        (one,) = applications(0.02, before, taken, 1, demand)
        air = one.left * 0.02 + one.given * taken(one.given)
        assert air == pytest.approx(before * 0.02 + ATMOSPHERE * taken(ATMOSPHERE), rel=1e-9)
        assert one.given <= one.left + 1e-6 and one.given <= demand


def test_a_stroke_costs_an_atmosphere_more_than_a_rigid_volume():
    """Air that only fills the swept part once the rod has moved comes from the reservoir altogether."""
    swept = applications(0.012, 9e5, lambda p: 1e-3 if p > ATMOSPHERE else 0.0, 1)[0].left
    filled = applications(0.012, 9e5, rigid(1e-3), 1)[0].left
    assert filled - swept == pytest.approx(ATMOSPHERE / 13, rel=1e-6)


# --- filling ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("clearance", [0.01, 0.05, 0.12])
@pytest.mark.parametrize("start, end", [(1.0, 1.5), (1.0, 10.0), (6.8, 7.8)])
def test_filling_follows_the_compressor(start: float, end: float, clearance: float):
    """The closed form against a quadrature of dt = V dp / (pa S e(p / pa))."""
    expected, _ = quad(lambda r: 1 / volumetric_efficiency(r, clearance, 0.85), start, end)
    found = filling_time(0.1, start * ATMOSPHERE, end * ATMOSPHERE, 0.007, clearance, 0.85)
    assert found == pytest.approx(0.1 / 0.007 * expected, rel=1e-9)


def test_an_exponent_of_one_is_a_logarithm():
    """With a dead space that expands at n = 1 the integral is a logarithm; n = 1.25 lies on the quick side of it."""
    clearance, top = 0.05, 8.0
    slow = log((1 + clearance - clearance) / (1 + clearance - clearance * top)) / clearance
    assert 7.0 < filling_time(1.0, ATMOSPHERE, top * ATMOSPHERE, 1.0, clearance, 1.0) < slow


def test_a_compressor_that_stalls_never_gets_there():
    assert filling_time(0.1, ATMOSPHERE, 9 * ATMOSPHERE, 0.007, 0.25, 0.85) == inf
    assert filling_time(0.1, ATMOSPHERE, 9 * ATMOSPHERE, 0.0, 0.05, 0.85) == inf
    assert filling_time(0.1, 9 * ATMOSPHERE, ATMOSPHERE, 0.007, 0.05, 0.85) == 0.0


def test_the_free_air_that_25_seconds_ask_for():
    """5,568 in3 from 85 to 100 psi in 25 s: a mean of 223.5 L of free air a minute, at 14.7 psi absolute."""
    rate = 223.5e-3 / 60
    pump = filling_time(5568 * IN3, ATMOSPHERE + 85 * PSI, ATMOSPHERE + 100 * PSI, rate, 0.0, 1.0)
    assert pump == pytest.approx(25.0, rel=2e-3)


@pytest.mark.parametrize("actual, seconds", [(5568, 25.0), (7000, 31.4), (8400, 37.7)])
def test_larger_reservoirs_may_take_longer(actual: float, seconds: float):
    """49 CFR 571.121 S5.1.1: 25 s times actual over required; the same flow fills each of them just in time."""
    assert 25 * actual / 5568 == pytest.approx(seconds, abs=0.05)
    rate = 223.5e-3 / 60
    pump = filling_time(actual * IN3, ATMOSPHERE + 85 * PSI, ATMOSPHERE + 100 * PSI, rate, 0.0, 1.0)
    assert pump == pytest.approx(seconds, rel=2e-3)


@pytest.mark.parametrize("top, minutes, litres", [
    (0.65 * 850, 3, 182), (850, 6, 140), (0.65 * 850, 6, 91), (850, 9, 93), (850, 8, 105), (850, 11, 76)])
def test_the_free_air_that_europe_asks_of_100_litres(top: float, minutes: float, litres: float):
    """(EU) 2015/68 Annex IV A 2.4 and 2.5 at 850 kPa: litres a minute for each 100 L of storage."""
    rate = litres * 1e-3 / 60
    taken = filling_time(0.1, ATMOSPHERE, ATMOSPHERE + top * 1e3, rate, 0.0, 1.0)
    assert taken / 60 == pytest.approx(minutes, rel=1e-2)
