"""The dolly: its volume sum, worked by hand, its brakes when unhooked, and its cocks."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.judging.volumes import shares
from circuit.units import value_in
from tests.examples.held import circuit_of, litres, verdict_of


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of("converter-dolly"))


def test_it_is_clean():
    assert not verdict_of("converter-dolly").findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 2 x 89 = 178 in3 = 2.92 L, 8 x 2.92 = 23.3 L; 30 / 2.92 = 10.3
    (share,) = shares(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(178)
    assert 8 * litres(share.chamber_volume) == pytest.approx(23.3, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(30)
    assert share.ratio == pytest.approx(10.3, abs=0.05)


def test_unhooked_it_is_braked_and_keeps_its_air(evidence: Evidence):
    circuit = evidence.circuit
    assert evidence.springs and all(evidence.is_let_on(spring) for spring in evidence.springs)
    assert circuit.store(circuit.by_name["tank"]) not in evidence.emptied(circuit.space["supply-head", "1"])
    assert evidence.parked.is_charged(circuit.space["tank", "1"])


def test_it_passes_both_lines_on_while_its_cocks_are_open(evidence: Evidence):
    circuit = evidence.circuit
    assert evidence.driving.is_charged(circuit.space["rear-supply-head", "1"])
    assert evidence.braking.is_charged(circuit.space["rear-control-head", "1"])
    for line in ("supply", "control"):
        circuit = circuit.with_setting(circuit.by_name[f"{line}-cock"], "state", "shut")
    alone = Evidence(circuit)
    assert not alone.driving.is_charged(circuit.space["rear-supply-head", "1"])
    assert not alone.braking.is_charged(circuit.space["rear-control-head", "1"])
    assert all(alone.braking.is_charged(circuit.service_space(chamber)) for chamber in alone.chambers)
