"""Constants against what their documents say, and formulas at their corners, worked by hand."""

import pytest
from scipy.integrate import quad

from circuit.gas import chamber, compressor, flow
from circuit.gas.constants import GAS_CONSTANT, KAPPA
from circuit.gas.volume import Knot, fixed, held, pieces, summed, volume_at
from circuit.units import ATMOSPHERE

PSI = 6894.757
INCH = 0.0254


# --- constants -------------------------------------------------------------------------------------------------------


def test_an_ideal_nozzle_chokes_where_textbooks_say():
    assert flow.CRITICAL_RATIO == pytest.approx(0.5283, abs=5e-5)
    assert flow.CHOKED == pytest.approx(0.0404, abs=5e-5), "0.0404 A p / sqrt(T), the textbook formula for air in SI"
    assert KAPPA == pytest.approx(1.4) and GAS_CONSTANT == pytest.approx(287.05, abs=0.01)


@pytest.mark.parametrize("value, low, high", [
    (chamber.PUSHES_OUT, 2 * PSI, 5 * PSI), (chamber.TAKES_UP, 5 * PSI, 12 * PSI),
    (chamber.ADJUSTED_AT, 85 * PSI, 90 * PSI + 100), (chamber.SPRING_STARTS, 20 * PSI, 25 * PSI),
    (chamber.GIVES * 100 * PSI, 0.3 * INCH, 0.6 * INCH), (compressor.EXPANSION, 1.2, 1.3), (chamber.SPRING_REST, 0.2, 0.4),
    (flow.SHARP_HOLE, 0.6, 0.7),
], ids=["pushes out", "shoes touch", "adjusted at", "spring starts", "shoes give", "expansion", "spring at rest", "sharp hole"])
def test_an_assumed_value_lies_in_the_range_that_its_note_gives(value: float, low: float, high: float):
    assert low <= value <= high


@pytest.mark.parametrize("name, ratio, subsonic", [
    ("hole", (0.45, 0.5283), (0.5, 0.5)), ("poppet", (0.2, 0.4), (0.5, 0.5)), ("fitting", (0.35, 0.5), (0.5, 0.5)),
    ("bed", (0.0, 0.2), (0.5, 0.6))])
def test_the_shapes_of_throats_lie_in_the_ranges_of_their_notes(name: str, ratio: tuple, subsonic: tuple):
    """Ranges typical of such elements, from memory; m is 0.5 in the edition of 1989 of ISO 6358 but for long beds."""
    throat = flow.THROATS[name]
    assert ratio[0] <= throat.ratio <= ratio[1] and subsonic[0] <= throat.subsonic <= subsonic[1]
    assert len(flow.THROATS) == 4


# --- chambers --------------------------------------------------------------------------------------------------------


def test_the_shoes_of_a_brake_adjusted_tightly_still_have_a_clearance():
    """Half an inch of working stroke less 0.32 in that the shoes give would be 0.18; a fifth gives no less than 0.3 of it."""
    gives = chamber.GIVES * (chamber.ADJUSTED_AT - chamber.TAKES_UP) / INCH
    assert gives == pytest.approx(0.4 * (6.2 - 0.7) / (100 * PSI / 1e5), rel=1e-6)
    assert chamber.clearance({"working-stroke": 0.5 * INCH}) / INCH == pytest.approx(0.5 - gives)
    assert chamber.clearance({"working-stroke": 0.2 * INCH}) / INCH == pytest.approx(0.06)


@pytest.mark.parametrize("stroke", [1.2, 1.21, 1.5, 2.5, 3.0])
def test_a_chamber_comes_to_its_stop_however_little_is_left_of_its_stroke(stroke: float):
    sizes = {"area": 30 * INCH**2, "prefill": 14 * INCH**3, "working-stroke": 1.5 * INCH, "stroke": stroke * INCH}
    found = chamber.knots(sizes)
    pressures = [knot.pressure for knot in found]
    assert pressures == sorted(set(pressures))
    assert found[-1].slope == found[0].slope == 0.0
    travel = (found[-1].volume - sizes["prefill"]) / sizes["area"]
    most_over = chamber.GIVES * 0.2e5  # m; the corner is rounded over 0.1 bar to each side
    assert -1e-9 <= travel - stroke * INCH <= most_over
    rising = [volume_at(found, 1e5 + 2e3 * step) for step in range(600)]
    assert rising == sorted(rising)


def test_a_chamber_rests_until_its_rod_starts_and_bottoms_by_its_stroke():
    """Type 30, 2.5 in: 14 in3 at rest; 75 in3 swept when all of 2.5 in are used up, 89 in3 in all."""
    sizes = {"area": 30 * INCH**2, "prefill": 14 * INCH**3, "working-stroke": 1.5 * INCH, "stroke": 2.5 * INCH}
    assert chamber.volume(sizes, ATMOSPHERE + chamber.PUSHES_OUT) == pytest.approx(14 * INCH**3)
    assert chamber.volume(sizes, ATMOSPHERE + 3 * PSI + 2e4) > 14 * INCH**3, "it moves from 2 to 5 psi on"
    assert chamber.volume(sizes, 1e8) == pytest.approx(89 * INCH**3)
    touching = chamber.volume(sizes, ATMOSPHERE + chamber.TAKES_UP)
    assert (touching - 14 * INCH**3) / (30 * INCH**2) == pytest.approx(chamber.clearance(sizes))


def test_a_weak_spring_starts_at_half_of_what_holds_it_off():
    strong = chamber.spring_knots({"spring-volume": 1e-3, "holds-off-at": ATMOSPHERE + 5e5})
    weak = chamber.spring_knots({"spring-volume": 1e-3, "holds-off-at": ATMOSPHERE + 2e5})
    assert strong[0].pressure == ATMOSPHERE + chamber.SPRING_STARTS
    assert weak[0].pressure == pytest.approx(ATMOSPHERE + 1e5) and weak[-1].pressure == ATMOSPHERE + 2e5
    assert weak[-1].volume == strong[-1].volume == 1e-3


# --- compressor, tubes -----------------------------------------------------------------------------------------------


def test_a_compressor_delivers_by_its_ratio():
    """A dead space of 4 % at n = 1.3 leaves 0.842 at a ratio of 8, as the docstring's textbook formula has it."""
    found = compressor.delivery(0.0075, 8e5, 1e5, 1.2, 0.04, exponent=1.3)
    assert found == pytest.approx(1.2 * 0.0075 * 0.842, rel=1e-3)
    assert compressor.delivery(0.0075, 30e5, 1e5, 1.2, 0.05, exponent=1.0) == 0.0, "beyond (1 + c) / c = 21 it stalls"


def test_a_short_tube_chokes_no_later_than_a_fitting():
    assert flow.tube(0.0127, 0.05)[1] == 0.5
    assert 0.1 < flow.tube(0.00638, 6.0)[1] < 0.3


# --- volumes ---------------------------------------------------------------------------------------------------------

STEEP = (Knot(1.5e5, 1e-3, 0.0), Knot(3.5e5, 4e-3, 2e-8), Knot(5e5, 5e-3, 0.0))
FLAT = (Knot(2e5, 2e-3, 0.0), Knot(4.2e5, 3e-3, 0.0))
RISING = (Knot(0.0, 1e-3, 1e-8), Knot(2e5, 2e-3, 0.0))
"""It grows from no pressure on, so that it has no part before its first knot."""


@pytest.mark.parametrize("volumes", [(STEEP, FLAT), (FLAT, STEEP, fixed(1e-3)), (RISING, STEEP), (fixed(1.0), fixed(0.5)),
                                     (RISING, fixed(1e-3)), (STEEP,)])
def test_a_sum_is_the_sum_at_every_pressure(volumes: tuple):
    together = summed(volumes)
    for pressure in range(0, 700_001, 4_321):
        assert volume_at(together, pressure) == pytest.approx(sum(volume_at(one, pressure) for one in volumes), rel=1e-9)


def test_a_sum_has_no_more_knots_than_it_needs():
    """What never changes has its one knot at no pressure, which says nothing where another volume rests until later."""
    assert summed((fixed(1e-3), STEEP)) == tuple(knot._replace(volume=knot.volume + 1e-3) for knot in STEEP)
    assert [knot.pressure for knot in summed((RISING, fixed(1e-3)))] == [0.0, 2e5]
    assert [knot.pressure for knot in summed((STEEP, FLAT))] == [1.5e5, 2e5, 3.5e5, 4.2e5, 5e5]


def test_before_its_first_knot_a_volume_stays_and_beyond_its_last_it_goes_straight_on():
    assert pieces(STEEP)[0] == (0.0, (1e-3, 0.0, 0.0, 0.0)) and pieces(RISING)[0][0] == 0.0 and len(pieces(RISING)) == 2
    slanted = (Knot(1e5, 1e-3, 0.0), Knot(2e5, 2e-3, 1e-8))
    assert volume_at(slanted, 4e5) == pytest.approx(2e-3 + 1e-8 * 2e5)
    assert volume_at(STEEP, -1.0) == volume_at(STEEP, 0.0) == volume_at(STEEP, 1e5) == 1e-3
    assert pieces(slanted)[-1] == (2e5, (2e-3, 1e-8, 0.0, 0.0))


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.4])
@pytest.mark.parametrize("knots", [STEEP, RISING], ids=["steep", "rising"])
def test_the_air_held_is_the_integral_of_its_changes(knots, exponent: float):
    """dm = (V / n + p V') dp / (R T) from no pressure on, by a quadrature that knows nothing of polynomials."""
    gas = 287.05 * 293.15

    def change(pressure: float) -> float:
        slope = (volume_at(knots, pressure + 1.0) - volume_at(knots, pressure - 1.0)) / 2.0
        return (volume_at(knots, pressure) / exponent + pressure * slope) / gas

    for end in (1.2e5, 2.7e5, 3.9e5, 4.8e5, 6e5):
        places = sorted(p for p in (1.5e5, 2e5, 3.5e5, 5e5) if p < end)
        expected, _ = quad(change, 0.0, end, points=places or None, limit=200)
        start, c = next(row for row in reversed(held(knots, exponent, gas)) if row[0] <= end)
        found = sum(k * (end - start) ** power for power, k in enumerate(c))
        assert found == pytest.approx(expected, rel=3e-6)
