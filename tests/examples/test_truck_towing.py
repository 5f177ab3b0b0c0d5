"""The towing truck: what its cocks do, and what it keeps when its trailer is lost."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.units import value_in
from tests.examples.held import circuit_of, lost, stops, verdict_of, whole


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of("truck-towing"))


def shut(circuit: Circuit, *cocks: str) -> Circuit:
    for cock in cocks:
        circuit = circuit.with_setting(circuit.by_name[cock], "state", "shut")
    return circuit


def test_it_is_clean():
    assert not verdict_of("truck-towing").findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: the same chambers and reservoirs as the straight truck, 464 in3 and 102 L
    assert value_in(whole(evidence).chamber_volume, "in3", "volume") == pytest.approx(464)
    assert whole(evidence).ratio == pytest.approx(13.4, abs=0.05)


def test_a_lost_hose_leaves_the_reservoirs(evidence: Evidence):
    assert lost(evidence, ("supply-head", "1")) == set()
    assert stops(evidence, ("supply-head", "1")) == {"dash": 3.1}
    gone = evidence.emptied(evidence.circuit.space["control-head", "1"], "braking")
    assert not any(evidence.circuit.store(tank) in gone for tank in evidence.circuit.reservoirs)


def test_a_shut_cock_keeps_the_line_and_empties_its_head(evidence: Evidence):
    alone = Evidence(shut(evidence.circuit, "supply-cock", "control-cock"))
    for line, air in (("supply", alone.driving), ("control", alone.braking)):
        assert air.is_charged(alone.circuit.space[f"{line}-cock", "1"])
        assert not air.is_charged(alone.circuit.space[f"{line}-head", "1"])
        assert air.vents(alone.circuit.space[f"{line}-head", "1"], 8e5)
