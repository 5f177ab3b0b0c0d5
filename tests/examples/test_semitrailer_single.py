"""The semi-trailer with one axle: its volume sum, worked by hand, and its brakes when a line is lost."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.judging.volumes import shares
from circuit.units import value_in
from tests.examples.held import circuit_of, litres, verdict_of


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of("semitrailer-single"))


def test_it_is_clean():
    assert not verdict_of("semitrailer-single").findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 2 x 89 = 178 in3 = 2.92 L; 30 / 2.92 = 10.3 of 8
    (share,) = shares(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(178)
    assert litres(share.chamber_volume) == pytest.approx(2.92, abs=0.005)
    assert share.ratio == pytest.approx(10.3, abs=0.05)


def test_the_springs_come_on_with_the_supply_line_and_stay_off_without_the_reservoir(evidence: Evidence):
    circuit = evidence.circuit
    springs = [circuit.spring_space(spring) for spring in evidence.springs]
    assert set(springs) <= evidence.emptied(circuit.space["supply-head", "1"])
    assert all(evidence.is_let_on(spring) for spring in evidence.springs)
    burst = evidence.driving_without(evidence.emptied(circuit.space["tank", "1"]))
    assert all(burst.is_charged(space) for space in springs)


def test_a_modulator_without_current_lets_air_pass_both_ways(evidence: Evidence):
    circuit = evidence.circuit
    for chamber in evidence.chambers:
        assert evidence.braking.is_charged(circuit.service_space(chamber))
        assert not evidence.released.is_charged(circuit.service_space(chamber))
