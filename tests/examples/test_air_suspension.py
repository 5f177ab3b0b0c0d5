"""The truck on air suspension: its volume sum, worked by hand, and what a burst bag leaves."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.sim.script import leak, move
from circuit.studies.hands import apply
from circuit.units import ATMOSPHERE
from tests.designs import design_of, loaded
from tests.examples.held import bar, circuit_of, litres, lost, played, still_fed, stops, verdict_of, whole

TRUCK = "air-suspension"
HOLE = 0.008
"""m, across: as wide as a line torn off."""


def levelled(left: float, right: float, inlet_check: str = "yes") -> Circuit:
    """The truck with its two levelling valves set each for itself, bar."""
    return loaded(design_of(f"""on: {TRUCK}
- levelling-valve level-left and level-right
+ levelling-valve level-left: ride-pressure {left} bar, inlet-check {inlet_check}
+ levelling-valve level-right: ride-pressure {right} bar, inlet-check {inlet_check}
"""))


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(TRUCK))


def test_it_is_clean():
    assert not verdict_of(TRUCK).findings


def test_its_volumes_worked_by_hand(evidence: Evidence):
    """Two chambers type 20 of 54 in3 and two type 30 of 89 in3 are 286 in3 = 4.69 L; 15 + 30 + 25 L are there."""
    share = whole(evidence)
    assert litres(share.chamber_volume) == pytest.approx((2 * 54 + 2 * 89) * 0.016387064, abs=1e-6)
    assert litres(12 * share.chamber_volume) == pytest.approx(56.2, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(70)


def test_a_burst_bag_empties_the_suspension_and_stops_at_the_secondary(evidence: Evidence):
    assert lost(evidence, ("bag-left", "1")) == {"susp"}
    assert stops(evidence, ("bag-left", "1")) == {"susp-guard": 5.2}
    assert still_fed(evidence, "susp-guard", 5.25) and not still_fed(evidence, "susp-guard", 5.15)


def test_the_other_bag_goes_down_with_it_through_the_small_hole(evidence: Evidence):
    emptied = evidence.emptied(evidence.circuit.space["bag-left", "1"])
    assert evidence.circuit.space["bag-right", "1"] in emptied


def test_with_the_bags_lost_the_rear_axle_gets_the_stated_half(evidence: Evidence):
    circuit = evidence.circuit
    rear, signal = circuit.space["rear-left.can", "11"], circuit.space["rear-valve", "4"]
    lost_bags = frozenset({circuit.space["rear-valve", "41"], circuit.space["rear-valve", "42"]})
    air = evidence.braking_without(lost_bags)
    gauge = air.level[signal] - ATMOSPHERE
    assert air.level[rear] - ATMOSPHERE == pytest.approx(0.5 * gauge - 0.25e5, rel=0.02)


def test_the_truck_leans_while_the_other_bag_still_carries():
    trace = played(circuit_of(TRUCK), leak("bag-left", HOLE, 1.0), until=10.0)
    assert bar(trace, "bag-left", 10.0) < 0.6 and bar(trace, "bag-right", 10.0) > 4.0


def test_the_brakes_follow_the_bags_down_to_the_stated_half():
    """Whether less brake on the lame axle is the safe side no plan can tell; it is the share that the design states."""
    circuit = circuit_of(TRUCK)
    sound = played(circuit, *apply(circuit, 1.0), until=4.0)
    lame = played(circuit, leak("bag-left", HOLE, 1.0), *apply(circuit, 40.0), until=43.0)
    whole_share = bar(sound, "rear-left.service", 4.0) / bar(sound, "rear-valve.4", 4.0)
    share = bar(lame, "rear-left.service", 43.0) / bar(lame, "rear-valve.4", 43.0)
    assert whole_share > 0.85 and share == pytest.approx(0.5, abs=0.05)
    assert bar(lame, "front-left", 43.0) == pytest.approx(bar(sound, "front-left", 4.0), rel=0.4)


@pytest.mark.parametrize(("inlet_check", "kept"), (("yes", 4.4), ("no", 0.0)))
def test_loaded_while_parked_without_supply_it_sinks_unless_the_inlet_has_a_check(inlet_check: str, kept: float):
    trace = played(levelled(4.5, 4.5, inlet_check), leak("susp", HOLE, 0.0), move("level-left", "arm", 1.0, 60.0),
                   until=180.0, situation="parked")
    assert bar(trace, "bag-left", 59.0) == pytest.approx(4.4, abs=0.05), "the arm level, the valve is shut"
    assert bar(trace, "bag-left", 180.0) == pytest.approx(kept, abs=0.1)


@pytest.mark.parametrize(("left", "right", "kept"), ((4.5, 4.5, 8.5), (5.0, 4.0, 4.1)))
def test_two_levelling_valves_set_apart_on_one_axle_waste_the_air(left: float, right: float, kept: float):
    """One fills what the other lets go, through the hole between the sides; the brakes stop at the protection valve."""
    trace = played(levelled(left, right), until=600.0)
    assert bar(trace, "susp", 600.0) == pytest.approx(kept, abs=0.1)
    assert bar(trace, "sec", 600.0) >= 5.15
