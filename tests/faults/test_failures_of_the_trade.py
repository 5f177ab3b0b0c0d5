"""What mechanics meet most: settings that have drifted, rods that jam, seals within a part; read at rest, and played."""

import pytest

from circuit.faults.outcome import outcomes
from circuit.faults.pairs import hidden, pair_of
from circuit.faults.study import Rank
from circuit.report.faults.losses import lost
from circuit.report.faults.mending import proving
from circuit.sim import Engine, Script, Session, Variant, simulate_many
from circuit.studies.hands import apply
from circuit.units import ATMOSPHERE
from tests.faults.studied import axle, bar, effect_of, study_of

TRUCK = "truck-6x4"


def stop(fault: str, name: str = TRUCK):
    (found,) = outcomes(study_of(name), [effect_of(name, fault)])
    return found


@pytest.mark.parametrize(("failure", "factor"), [("set high", 1.12), ("set low", 0.8)])
def test_a_drifted_governor_fills_to_another_pressure(failure: str, factor: float):
    """At rest by its setting; played from empty it swings between the drifted cut-in and cut-out."""
    circuit = study_of(TRUCK).circuit
    governor = circuit.by_name["gov"]
    cut_in, cut_out = (ATMOSPHERE + factor * (governor.settings[name] - ATMOSPHERE) for name in ("cut-in", "cut-out"))
    found = effect_of(TRUCK, f"gov: {failure}")
    assert found.fills == pytest.approx(cut_out)
    variant = Variant("", (("gov", failure.replace(" ", "-")),))
    (trace,) = simulate_many(circuit, Script(), [variant], 900.0, start="empty", engine=Engine(True))
    assert cut_out - 0.1e5 < max(trace.at_steps("wet")) < cut_out + 0.3e5
    assert trace.last("wet") > cut_in - 0.3e5


def test_what_drifts_does_so_on_a_vehicle_that_was_full():
    """A drifted part changes no pressure at the start, and a setting that somebody changes does."""
    circuit = study_of(TRUCK).circuit
    sound, drifted, changed = simulate_many(circuit, Script(), [
        Variant(), Variant("", (("gov", "set-low"),)), Variant("", settings={("gov", "cut-out"): ATMOSPHERE + 8.5e5})], 1.0)
    assert sound.pressure("pri", 0.0) == drifted.pressure("pri", 0.0) != changed.pressure("pri", 0.0)


def test_a_reservoir_half_full_of_water_gives_twice_the_fall():
    circuit = study_of(TRUCK).circuit
    script = Script(apply(circuit, 1.0))
    parts = tuple((tank, "full-of-water") for tank in ("sec", "wet", "pri"))
    sound, wet = simulate_many(circuit, script, [Variant(), Variant("", parts)], 10.0, engine=Engine(False))
    falls = [trace.pressure("sec", 0.0) - trace.last("sec") for trace in (sound, wet)]
    assert 1.7 < falls[1] / falls[0] < 2.1


def test_a_session_plays_what_has_drifted_as_a_run_does():
    circuit = study_of(TRUCK).circuit
    script = Script(apply(circuit, 0.5))
    (run,) = simulate_many(circuit, script, [Variant("", (("sec", "full-of-water"),))], 4.0, engine=Engine(False))
    board = Session(circuit, script)
    board.fail("sec", "full-of-water")
    board.run(4.0)
    assert board.pressure("sec") == pytest.approx(run.last("sec"), abs=100)
    board.mend("sec", "full-of-water")
    board.run(0.1)


def test_a_centre_seal_takes_the_air_that_holds_the_spring_off():
    """Out by the relay's exhaust: the springs come on by themselves and the service brake is no worse for it at first."""
    found = effect_of(TRUCK, "d1-left.can: centre seal leaks")
    assert axle(found, "drive-1").springs > 0.9 and found.tanks
    assert stop("d1-left.can: centre seal leaks").rank in (Rank.LESS_BRAKE, Rank.STUCK)


@pytest.mark.parametrize(("failure", "service", "parks", "stays", "lifts"), [
    ("rod seized", 0.5, 0.5, 0.0, 1.0), ("left caged", 1.0, 0.5, 0.0, 1.0), ("return spring broken", 1.0, 1.0, 0.5, 1.0),
    ("piston jammed", 1.0, 1.0, 0.0, 0.5),
])
def test_one_wheel_of_two_whose_mechanics_fail(failure: str, service: float, parks: float, stays: float, lifts: float):
    """At rest and played: what no pressure shows is told of half an axle."""
    found = stop(f"d1-left.can: {failure}")
    for effect in (found.effect, found.seen):
        one = axle(effect, "drive-1")
        assert (one.service, one.parks, one.stays, one.lifts) == pytest.approx((service, parks, stays, lifts), abs=0.02)
        other = axle(effect, "drive-2")
        assert (other.service, other.parks, other.stays, other.lifts) == pytest.approx((1.0, 1.0, 0.0, 1.0), abs=0.02)


def test_a_hand_brake_inversion_that_hangs_does_not_tell_the_trailer_to_park():
    found = stop("trailer-valve: inversion stuck", "truck-europe")
    (head,) = [head for head in found.seen.heads if head.line == "control"]
    assert bar(head.full_parked) > 6 and bar(head.parked) < 1 and bar(head.braking) > 6
    assert "when parked instead of" in lost(found.seen, "bar")


def test_a_low_pressure_switch_that_has_drifted_warns_later():
    whole = study_of(TRUCK).whole
    assert effect_of(TRUCK, "pri-warning: set low").dead == "" and whole.normal is not None
    assert effect_of(TRUCK, "pri-gauge: reads high").dead == "pri-gauge"
    assert "shows more than there is" in lost(effect_of(TRUCK, "pri-gauge: reads high"), "bar")


@pytest.mark.parametrize(("name", "valve", "left"), [
    ("teaching-board", "relief", "nothing"), ("truck-6x4", "relief", "purge-relief")])
def test_a_seized_safety_valve_is_hidden_until_the_compressor_does_not_rest(name: str, valve: str, left: str):
    study = study_of(name)
    first = effect_of(name, f"{valve}: seized")
    assert first.rising == "" and first in list(hidden(study))
    pair = pair_of(study, first)
    assert pair is not None and pair.second.rising != pair.together.rising == left
    assert "eyes away" in proving(study, pair, "bar") and "drained to nothing" in proving(study, pair, "bar")
    told = lost(pair.together, "bar")
    assert ("no safety valve opens" in told) is (left == "nothing") and "pumps on past cut-out" in told
