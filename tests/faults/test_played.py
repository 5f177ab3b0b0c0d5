"""Faults played as a script, engine off and on and with any pedal, and held against what the graph says at rest."""

import json

import pytest

from circuit.cli import main
from circuit.faults.agree import disagreements
from circuit.faults.play import Played, Situation, play, situations
from circuit.faults.study import study, worst_in
from circuit.units import ATMOSPHERE
from tests.designs import EXAMPLES, example_names
from tests.faults.studied import axle, bar, effect_of, studied_played, study_of

TRUCK = str(EXAMPLES / "truck-6x4" / "design.air")


def one(example: str, fault: str, situation: Situation = Situation()) -> Played:
    played, = play(study_of(example), [effect_of(example, fault)], situation)
    return played


@pytest.mark.parametrize("example", ("truck-6x4", "semitrailer-tandem", "teaching-board"))
def test_graph_and_simulation_agree_on_every_fault(example: str):
    found = studied_played(example)
    assert {each.effect.fault.name: says for each in found if (says := disagreements(study_of(example), each))} == {}
    assert all(each.trace.complete for each in found) and len(found) == len(study_of(example).effects)


@pytest.mark.slow
@pytest.mark.parametrize("example", example_names())
def test_graph_and_simulation_agree_on_every_fault_of_every_example(example: str):
    found = study_of(example)
    assert {each.effect.fault.name: says for each in play(found, found.effects) if (says := disagreements(found, each))} == {}


def test_a_graph_that_promises_too_much_is_told_of():
    found = study_of("truck-6x4")
    lost = effect_of("truck-6x4", "sec: burst")
    promised = lost._replace(tanks=tuple(t._replace(driving=t.full) if t.name == "sec" else t for t in lost.tanks),
                             axles=tuple(a._replace(service=1.0) for a in lost.axles))
    spoilt = found._replace(effects=(promised,))
    played, = play(spoilt, [promised])
    says = " and ".join(disagreements(spoilt, played))
    assert "sec driving" in says and "brakes of front" in says


def test_a_burst_runs_out_and_leaves_the_other_circuit():
    left = one("truck-6x4", "sec: burst").effect
    assert axle(left, "front").service < 0.01 and axle(left, "drive-1").service > 0.9
    assert {t.name: bar(t.driving) for t in left.tanks if t.role == "service"} == pytest.approx({"pri": 8.5, "sec": 0}, abs=0.1)


def test_a_running_compressor_holds_what_leaks_and_not_what_has_burst():
    still, runs = (one("truck-6x4", "sec: leaks", Situation(running)).effect for running in (False, True))
    kept = {name: next(t.driving for t in e.tanks if t.name == "sec") for name, e in (("still", still), ("runs", runs))}
    assert bar(kept["still"]) < 3 and bar(kept["runs"]) > 7.0, "between cut-in and cut-out"
    burst = one("truck-6x4", "sec: burst", Situation(True)).effect
    assert bar(next(t.driving for t in burst.tanks if t.name == "sec")) < 0.5


def test_a_governor_line_burst_leaves_the_compressor_pumping_until_the_safety_valve_opens():
    """With the engine off the governor lets air out down to its cut-in; with the engine on nothing ever unloads."""
    fault = "tube gov.2 -> pump.4: burst"
    rests = effect_of("teaching-board", fault)
    assert rests.rising == "relief" and all(tank.refilled for tank in rests.tanks)
    assert effect_of("teaching-board", "wet: burst").rising == "", "a compressor that fills nothing never comes to cut-out"
    runs = one("teaching-board", fault, Situation(True)).effect
    assert bar(next(t.driving for t in runs.tanks if t.name == "wet")) > 9.0, "past the cut-out of 8.6 bar"


def test_a_protected_circuit_is_pumped_up_to_where_the_burst_one_opens_again():
    """The trade's rule for multi-circuit protection valves: 7.0 bar opens the outlet of the circuit that has burst."""
    left = one("truck-europe", "front-tank: burst", Situation(True)).effect
    assert bar(next(t.driving for t in left.tanks if t.name == "rear-tank")) == pytest.approx(7.0, abs=0.15)


def test_what_is_blocked_keeps_its_air_so_that_the_spring_does_not_come_on():
    fault = "hose spring-release.2 -> d1-left.spring: blocked"
    for left in (effect_of("truck-6x4", fault), one("truck-6x4", fault).effect):
        assert axle(left, "drive-1").springs == pytest.approx(0.0, abs=0.02)
        assert axle(left, "drive-1").parks == pytest.approx(0.5, abs=0.02)


def test_a_part_pedal_asks_for_less_and_shares_are_of_that():
    asked = ATMOSPHERE + 3e5
    part = study(study_of("truck-6x4").circuit, [effect_of("truck-6x4", "pri: burst").fault], asked)
    level = part.whole.normal.at("braking").level
    assert all(bar(level[part.circuit.service_space(w)]) == pytest.approx(3.0, abs=0.25) for w in part.whole.wheels)
    lost, = part.effects
    assert axle(lost, "front").service == pytest.approx(1.0) and axle(lost, "drive-1").service == 0.0
    assert axle(effect_of("truck-6x4", "pri: burst"), "front").push > axle(lost, "front").push > 0


def test_a_trailer_is_asked_by_its_control_line():
    part = study(study_of("semitrailer-tandem").circuit, [], ATMOSPHERE + 3e5)
    level = part.whole.normal.at("braking").level
    assert all(bar(level[part.circuit.service_space(w)]) == pytest.approx(3.0, abs=0.25) for w in part.whole.wheels)


def test_each_fault_says_where_it_does_its_worst():
    assert worst_in(effect_of("truck-6x4", "sec: burst")) == "braking"
    assert worst_in(effect_of("truck-6x4", "d1-left.can: spring broken")) == "parked"
    assert worst_in(effect_of("truck-6x4", "foot: does not release")) == "after braking"
    assert worst_in(effect_of("truck-6x4", "pri-gauge: stuck")) == ""


def test_the_command_tells_one_fault_in_all_four_situations(capsys: pytest.CaptureFixture[str]):
    assert len(set(situations())) == 4
    assert main(["faults", TRUCK, "--fault", "pri: burst", "--situations", "--pedal", "4 bar"]) == 0
    told = capsys.readouterr().out
    for engine in ("OFF", "ON"):
        for pedal in ("FULL PEDAL", "PEDAL AT 4.0 BAR"):
            assert f"ENGINE {engine}, {pedal}" in told
    assert "pri-warning warns after" in told and "drive-1 and drive-2 0 %" in told
    assert main(["faults", TRUCK, "--fault", "pri: burst", "--situations", "--format", "json"]) == 0
    blocks = json.loads(capsys.readouterr().out)["found"]["situations"]
    asked = [(b["running"], b["demand"] and bar(b["demand"])) for b in blocks]
    assert asked == [(False, None), (False, 3.0), (True, None), (True, 3.0)]
    assert all(axle["service"] < 0.05 for b in blocks for axle in b["faults"][0]["condition"]["axles"] if axle["name"] != "front")


def test_the_command_plays_all_and_counts_disagreements(capsys: pytest.CaptureFixture[str]):
    assert main(["faults", str(EXAMPLES / "semitrailer-tandem" / "design.air"), "--simulate"]) == 0
    assert "0 where graph and simulation disagree" in capsys.readouterr().out
    assert main(["faults", TRUCK, "--pedal", "4"]) == 2 and "needs a unit" in capsys.readouterr().err
    assert main(["faults", TRUCK, "--pedal", "0 bar"]) == 2 and "more than nothing" in capsys.readouterr().err
