"""Leaking down, force and water."""

import math

import pytest

from circuit.gas.moisture import carried, condensed, content, saturation
from circuit.studies.force import disc_gain, drum_gain, forces
from circuit.studies.leak_down import hole_for, leak_down
from circuit.studies.water import water
from tests.designs import example_text, loaded, patched
from tests.studies.examples import ATMOSPHERE, PSI, example


def test_a_tank_falls_at_first_as_its_hole_was_made_for():
    found = leak_down(example("teaching-board"), 3 * PSI / 60)
    first, later = (found.trace.pressure("dry", t) for t in (0.0, 60.0))
    assert (first - later) / PSI == pytest.approx(3.0, rel=0.06)  # a little less: it falls with the pressure


def test_the_fall_is_exponential_while_the_hole_is_choked():
    # isothermal: p = p0 exp(-t / tau) of absolute pressures, tau = p0 over the first rate
    found = leak_down(example("teaching-board"), 3 * PSI / 60)
    tau = found.start / found.rate
    for time in (300.0, 900.0):
        assert found.trace.pressure("dry", time) == pytest.approx(found.start * math.exp(-time / tau), rel=0.02)


def test_a_leak_twice_as_fast_brings_the_warning_in_half_the_time():
    slow, quick = (leak_down(example("truck-6x4"), rate * PSI / 60) for rate in (3, 6))
    warns = [next(m.time for m in found.moments if m.what.endswith("warns")) for found in (slow, quick)]
    assert warns[0] == pytest.approx(2 * warns[1], rel=0.02)


def test_in_a_tractor_the_warning_comes_first_then_the_red_knob_then_the_yellow():
    found = leak_down(example("tractor-6x4"))
    order = [m.what for m in found.moments]
    warns = next(i for i, what in enumerate(order) if what.endswith("warns"))
    red, yellow = order.index("dash pops out, its trailer knob"), order.index("dash pops out")
    assert warns < red < yellow and found.warned_first


def test_one_place_can_leak_alone():
    found = leak_down(example("truck-6x4"), places=("sec",))
    assert [name for name, _ in found.holes] == ["sec"]
    assert any(m.what == "sec-warning warns" for m in found.moments)


def test_hole_for_a_rate():
    assert hole_for(0.075, ATMOSPHERE + 120 * PSI, 2 * PSI / 60) == pytest.approx(0.43e-3, rel=0.01)


def test_force_is_pressure_times_area_less_the_return_spring():
    found = {each.name: each for each in forces(example("truck-6x4")).chambers}
    front, rear = found["front-left"], found["d1-left.can"]
    gain = front.forces[5] - front.forces[3]  # 100 less 60 psi: the spring drops out
    assert gain == pytest.approx(40 * PSI * 20 * 0.0254**2)
    assert front.cam_torques[5] == pytest.approx(front.forces[5] * 5.5 * 0.0254)
    assert rear.spring_torque == pytest.approx(rear.spring * rear.gain)
    assert list(rear.forces) == sorted(rear.forces)


def test_an_s_cam_brake_by_hand():
    # 2,000 N on a 140 mm slack adjuster: 280 N m at the shaft, 3/4 of it on a 14 mm cam is 15 kN, half on each shoe;
    # the drum drags with 1.6 times 7.5 kN at 0.2 m
    assert 2000 * drum_gain(0.140, 0.014, 0.75, 1.6, 0.2) == pytest.approx(1.6 * 7500 * 0.2)
    assert 1000 * disc_gain(15, 0.4, 0.17) == pytest.approx(15_000 * 2 * 0.4 * 0.17)


def test_what_is_written_is_taken_and_what_is_not_is_listed():
    text = example_text("truck-6x4").replace("slack-length 5.5 in",
                                             "slack-length 6 in, drum-radius 7.5 in, tyre-radius 0.5 m")
    found = forces(loaded(text))
    front, rear = found.chambers[0], found.chambers[-1]
    assert front.gain == pytest.approx(drum_gain(6 * 0.0254, 0.0127, 0.75, 1.6, 7.5 * 0.0254))
    assert rear.gain == pytest.approx(drum_gain(5.5 * 0.0254, 0.0127, 0.75, 1.6, 8.25 * 0.0254))
    assert front.tyre_forces[3] == pytest.approx(front.torques[3] / 0.5)
    taken = {each.setting: each.part for each in found.assumed}
    assert "front-left" not in taken["drum-radius"] and "front-left" in taken["brake-factor"]


def test_a_disc_brake_has_no_slack_adjuster():
    front = forces(example("truck-europe")).chambers[0]
    assert front.slack is None and front.cam_torques == () and front.gain == pytest.approx(disc_gain(15, 0.38, 0.173))


def test_published_contents_of_saturated_air():
    # a handbook prints 17.30 g/m3 at 20 °C and 39.63 at 35; compressed to 8 bar at 35 °C, 34.68 of 39.63 g fall out
    assert content(293.15) == pytest.approx(17.30e-3, rel=0.01)
    assert content(308.15) == pytest.approx(39.63e-3, rel=0.01)
    kept = carried(308.15, 8e5) / carried(308.15, 1e5)
    assert 39.63 * (1 - kept) == pytest.approx(34.68, rel=0.02)


def test_eight_hours_of_saturated_air_in_a_textbook():
    # 100 scfm saturated at 80 °F (1.58 lb of water in 1000 ft3) for 8 h bring 9.09 US gallons
    water_in = content((80 - 32) / 1.8 + 273.15) * 100 * 0.3048**3 * 60 * 8
    assert water_in / 1000 / 3.785411784e-3 == pytest.approx(9.09, rel=0.02)


def test_water_is_neither_made_nor_lost():
    for name in ("truck-6x4", "teaching-board"):
        found = water(example(name))
        assert found.enters == pytest.approx(found.before + found.dried + found.settles + found.stays, rel=1e-9)
        assert found.unserved >= found.settles


def test_more_humid_or_warmer_air_brings_more_water_and_twice_the_duty_twice():
    board = example("teaching-board")
    damp, usual, dry = (found.before + found.settles for found in (water(board, humidity=h) for h in (0.9, 0.6, 0.2)))
    assert damp > usual > dry
    assert water(board, 308.15).enters > water(board, 293.15).enters
    assert water(board, duty=0.5).enters == pytest.approx(2 * water(board, duty=0.25).enters)


def test_dry_air_loses_nothing():
    assert condensed(0.0, 293.15, 9e5) == 0.0
    assert saturation(373.15) == pytest.approx(101325, rel=0.03)


def test_without_a_dryer_the_water_lies_in_the_reservoirs():
    dried, wet = water(example("truck-6x4")), water(example("teaching-board"))
    assert dried.has_dryer and not wet.has_dryer
    assert wet.settles > 10 * dried.settles


def test_a_leak_of_a_place_that_is_not_there_is_refused():
    from circuit.sim import NoSuchPlace

    with pytest.raises(NoSuchPlace):
        leak_down(example("truck-6x4"), places=("nowhere",))


def test_a_late_warning_is_told():
    design = patched(example_text("truck-6x4"), [
        "- low-pressure-switch pri-warning", "- low-pressure-switch sec-warning",
        "+ low-pressure-switch pri-warning: on pri, on-below 1 bar",
        "+ low-pressure-switch sec-warning: on sec, on-below 1 bar"])
    design = design[: design.index("trial ")]
    assert leak_down(loaded(design)).warned_first is False
