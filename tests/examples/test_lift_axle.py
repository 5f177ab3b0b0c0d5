"""The lift axle: enough reservoir with the added one, too little without, and bags that cost the brakes nothing."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.verdict.judge import judge
from tests.designs import design_of, loaded
from tests.examples.held import circuit_of, litres, lost, stops, verdict_of, whole

TRUCK = "lift-axle"
WITHOUT_THE_ADDED_RESERVOIR = """on: lift-axle
- reservoir exp
- check-valve exp-check
- drain exp-drain
- low-pressure-switch exp-warning
- gauge exp-gauge
- tube wet -> exp-check.1
- tube exp-check.2 -> exp
- tube exp -> lift-relay.1
+ tube pri -> lift-relay.1: size 1/2 in, length 1 m
- circuit primary
+ circuit primary: reservoirs pri, axles drive-1 and drive-2 and lift
- circuit added
"""


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(TRUCK))


def test_it_is_clean():
    assert not verdict_of(TRUCK).findings


def test_its_volumes_worked_by_hand(evidence: Evidence):
    """Four chambers type 20 of 54 in3 and four type 30 of 89 in3 are 572 in3; 20 + 50 + 32 + 20 L are there."""
    share = whole(evidence)
    assert litres(share.chamber_volume) == pytest.approx((4 * 54 + 4 * 89) * 0.016387064, abs=1e-6)
    assert litres(share.chamber_volume) == pytest.approx(9.37, abs=0.005)
    assert litres(12 * share.chamber_volume) == pytest.approx(112.5, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(122)
    assert share.ratio == pytest.approx(13.0, abs=0.05)
    assert "aux" not in {tank.name for tank in share.tanks}


def test_its_spoilt_predecessor_fails_the_volume_sum():
    """The truck's old 102 L for 9.37 L are 10.9, and 12 is asked."""
    verdict = judge(loaded(design_of(WITHOUT_THE_ADDED_RESERVOIR)))
    (found,) = [j for j in verdict.judgements if j.is_open]
    assert found.rule.name == "reservoirs-too-small" and "10.9" in found.answer.says
    assert whole(verdict.evidence).ratio == pytest.approx(10.9, abs=0.05)


@pytest.mark.parametrize("hole", [("aux", "1"), ("ride-left", "1"), ("lift-bag-right", "1"), ("lift-control", "22")])
def test_no_bag_takes_the_brakes_air(evidence: Evidence, hole: tuple[str, str]):
    assert not lost(evidence, hole) & {"wet", "pri", "sec", "exp"}


def test_the_auxiliary_reservoir_bursts_and_the_wet_one_stops_at_the_closing_pressure(evidence: Evidence):
    assert stops(evidence, ("aux", "1")) == {"aux-guard": 5.2}


def test_lift_bags_and_ride_bags_are_never_both_filled(evidence: Evidence):
    circuit = evidence.circuit
    ride, lift = circuit.space["ride-left", "1"], circuit.space["lift-bag-left", "1"]
    down, up = evidence.driving, evidence.energised.driving
    assert down.is_charged(ride) and not down.is_charged(lift) and down.vents(lift, 101325 + 6e5)
    assert up.is_charged(lift) and not up.is_charged(ride) and up.vents(ride, 101325 + 4e5)


def test_the_added_brakes_are_applied_from_their_own_reservoir(evidence: Evidence):
    served = {name: {c.name for c in chambers} for name, chambers in evidence.served.items() if chambers}
    assert served["exp"] == {"lift-left", "lift-right"}
