"""Brake chambers: force and air space, against facts of the trade and the geometry of the stroke."""

from math import pi

import pytest
import scipy.constants as constants

from circuit.gas.chamber import ADJUSTED_AT, PUSHES_OUT, TAKES_UP, push, volume
from circuit.units import ATMOSPHERE

PISTON = pi / 4 * (4 * constants.inch) ** 2


@pytest.mark.parametrize("psi, pounds", [(25, 314), (90, 1130)])
def test_a_four_inch_piston(psi: float, pounds: float):
    """25 psi give 314 lb and 90 psi give 1,130 lb: common practice, no source (25 and 90 times 4 pi)."""
    assert push(psi * constants.psi, PISTON) / constants.pound_force == pytest.approx(pounds, rel=0.002)


@pytest.mark.parametrize("number, psi, pounds", [(9, 60, 540), (20, 90, 1800), (30, 100, 3000), (36, 100, 3600)])
def test_a_chamber_pushes_its_number_times_the_pressure(number: int, psi: float, pounds: float):
    """A type is its area in square inches, so a type 30 at 100 psi pushes 3,000 lbf."""
    area = number * constants.inch**2
    assert push(psi * constants.psi, area) / constants.pound_force == pytest.approx(pounds)


def test_a_type_30_at_six_bar_in_kilonewtons():
    """30 x 6.4516 cm2 x 60 N/cm2 = 11.6 kN."""
    assert push(6e5, 30 * constants.inch**2) == pytest.approx(11_613, abs=1)


SETTINGS = {"area": 30 * constants.inch**2, "prefill": 0.2e-3, "working-stroke": 1.5 * constants.inch,
            "stroke": 2.5 * constants.inch}


def test_a_chamber_at_rest_holds_its_prefill():
    assert volume(SETTINGS, ATMOSPHERE) == volume(SETTINGS, ATMOSPHERE + PUSHES_OUT) == pytest.approx(0.2e-3)


def test_applied_it_has_swept_its_working_stroke():
    """A type 30 that travels 1.5 in sweeps 45 cubic inches; strokes are measured at the pressure it is adjusted at."""
    assert volume(SETTINGS, ATMOSPHERE + ADJUSTED_AT) == pytest.approx(0.2e-3 + 45 * constants.inch**3, rel=1e-3)
    assert 85 <= ADJUSTED_AT / constants.psi <= 100


def test_it_never_sweeps_more_than_its_full_stroke():
    """2.5 in of a type 30 are 75 cubic inches."""
    assert volume(SETTINGS, ATMOSPHERE + 60e5) == pytest.approx(0.2e-3 + 75 * constants.inch**3, rel=1e-3)


def test_travel_grows_with_pressure_and_without_jumps():
    steps = [volume(SETTINGS, ATMOSPHERE + bar * 1e3) for bar in range(0, 900)]
    rises = [after - before for before, after in zip(steps, steps[1:])]
    assert min(rises) >= 0
    assert max(rises) < 0.05 * (steps[-1] - steps[0])


def test_push_out_is_in_the_range_of_the_trade():
    """Push-out at 2 to 6 psi, clearance taken up by 12: common practice, no source."""
    assert 2 <= PUSHES_OUT / constants.psi <= 6
    assert 5 <= TAKES_UP / constants.psi <= 12
