"""The European truck: each circuit burst in turn, each line to the trailer torn, the hand brake and the load."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.sim.script import uncouple
from circuit.studies.hands import apply
from circuit.studies.respond import respond
from circuit.units import ATMOSPHERE
from tests.examples.held import circuit_of, lost, played, stops, verdict_of

TANKS = {"front-tank", "rear-tank", "park-tank", "aux-tank"}


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of("truck-europe"))


def test_it_is_clean():
    assert not verdict_of("truck-europe").findings


@pytest.mark.parametrize("tank", sorted(TANKS))
def test_a_burst_circuit_leaves_the_others_the_closing_pressure(evidence: Evidence, tank: str):
    """4.8 bar is the usual closing pressure (common practice, no source); this design sets 5.4, above its warnings."""
    assert lost(evidence, (tank, "1")) & TANKS == {tank}
    assert stops(evidence, (tank, "1"))["protection"] == 5.4


def test_the_closing_pressure_lies_above_every_warning(evidence: Evidence):
    circuit = evidence.circuit
    for name in ("front-warning", "rear-warning", "park-warning"):
        assert circuit.by_name[name].settings["on-below"] < circuit.by_name["protection"].settings["shuts-at"]


def test_a_broken_control_line_bleeds_the_supply_line_once_the_pedal_is_pressed(evidence: Evidence):
    circuit = evidence.circuit
    broken = circuit.space["control-head", "1"]
    assert circuit.space["supply-head", "1"] not in evidence.emptied(broken, "driving")
    gone = evidence.emptied(broken, "braking")
    assert circuit.space["supply-head", "1"] in gone
    assert not any(circuit.store(tank) in gone for tank in circuit.reservoirs)


def test_the_supply_line_is_down_to_one_and_a_half_bar_within_two_seconds_of_the_pedal():
    """(EU) 2015/68 asks for 1.5 bar within 2 s, the pedal pressed in 0.2 s. Its test opens the supply head onto 2.5 m
    of 13 mm; here the control head is open to the air at once."""
    circuit = circuit_of("truck-europe")
    trace = played(circuit, uncouple("control-head", 0.0), *apply(circuit, 1.0, over=0.2), until=4.0)
    reached = trace.first_time("supply-head", ATMOSPHERE + 1.5e5, rising=False)
    assert reached is not None and 0 < reached - 1.0 < 2.0


def test_eight_strokes_onto_half_a_litre_leave_the_control_line_half_of_the_first():
    """71/320/EEC Annex IV, as (EU) 2015/68 Annex IV A 1.2.2.3 words it: supply blocked, 0.5 L on the control line."""
    (found,) = [j for j in verdict_of("truck-europe").judgements
                if j.clause.key == "un-r13/Annex 7 A 1.2.2.3"]
    assert found.answer.figure.margin > 0 and "8 full applications" in found.answer.says


def test_cylinders_and_control_head_have_three_quarters_in_time():
    # 0.6 s at the slowest cylinder, 0.2 s for 10 % and 0.4 s for 75 % at the end of the control line's pipe
    found = {timed.name: timed for timed in respond(circuit_of("truck-europe")).applied}
    assert {timed.limit for timed in found.values()} == {0.2, 0.4, 0.6}
    assert all(timed.time.slow <= timed.limit for timed in found.values())


def test_a_lost_supply_line_costs_circuit_3_and_neither_brakes_nor_springs(evidence: Evidence):
    circuit = evidence.circuit
    hole = ("supply-head", "1")
    assert lost(evidence, hole) & TANKS == {"park-tank"}
    emptied = evidence.emptied(circuit.space[hole])
    assert not any(circuit.spring_space(spring) in emptied for spring in evidence.springs)


def test_the_hand_brake_lets_the_springs_on_and_brakes_the_trailer(evidence: Evidence):
    circuit = evidence.circuit
    assert not any(evidence.parked.is_charged(circuit.spring_space(spring)) for spring in evidence.springs)
    # worked by hand: nothing at 43 asks for the whole 7.5 bar at 22
    assert evidence.parked.level[circuit.space["trailer-valve", "22"]] == pytest.approx(ATMOSPHERE + 7.5e5, abs=100)
    assert not evidence.driving.is_charged(circuit.space["trailer-valve", "22"])


def test_either_service_circuit_brakes_the_trailer(evidence: Evidence):
    circuit = evidence.circuit
    for tank in ("front-tank", "rear-tank"):
        air = evidence.braking_without(evidence.emptied(circuit.space[tank, "1"]))
        assert air.is_charged(circuit.space["control-head", "1"])


def test_a_lost_bag_gives_the_stated_share(evidence: Evidence):
    # worked by hand: half of the signal at 4, less the 0.25 bar by which the valve opens
    circuit = evidence.circuit
    assert stops(evidence, ("left-bag", "1"))["protection"] == 5.4
    air = evidence.braking_without(frozenset({circuit.space["left-bag", "1"], circuit.space["load-valve", "41"]}))
    signal = air.level[circuit.space["load-valve", "4"]] - ATMOSPHERE
    assert air.level[circuit.space["load-valve", "2"]] - ATMOSPHERE == pytest.approx(0.5 * signal - 0.25e5, abs=100)
    trailer = circuit.space["trailer-valve", "22"]
    assert air.level[trailer] == evidence.braking.level[trailer]
