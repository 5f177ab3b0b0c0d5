"""The truck on air suspension: its volume sum, worked by hand, and what a burst bag leaves."""

import pytest

from circuit.rules.evidence import Evidence
from circuit.units import ATMOSPHERE
from tests.examples.held import circuit_of, litres, lost, still_fed, stops, verdict_of, whole

TRUCK = "air-suspension"


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


def test_the_check_in_the_inlet_keeps_a_parked_truck_up(evidence: Evidence):
    circuit = evidence.circuit
    bag = circuit.space["bag-left", "1"]
    assert bag not in evidence.emptied(circuit.space["susp", "1"], "parked")
