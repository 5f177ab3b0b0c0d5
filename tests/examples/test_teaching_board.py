"""The teaching board: its volume sum and its applications, worked by hand, and what a lost reservoir leaves of it."""

import pytest

from circuit.gas.drawdown import plain_share
from circuit.judging.evidence import Evidence
from circuit.studies.reserve import reserve
from circuit.units import value_in
from circuit.verdict.judge import judge
from tests.examples.held import circuit_of, litres, lost, verdict_of, whole

BOARD = "teaching-board"


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(BOARD))


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 2 x 54 + 2 x 89 = 286 in3 = 4.69 L, 12 x 4.69 = 56.2 L; 23 + 46 = 69 L, 69 / 4.69 = 14.7
    share = whole(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(286)
    assert litres(12 * share.chamber_volume) == pytest.approx(56.2, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(69)
    assert share.ratio == pytest.approx(14.7, abs=0.05)


def test_seven_applications_leave_half_in_the_dry_reservoir_and_an_eighth_does_not():
    # by hand: 46 / 4.69 = 9.81; 9.81 / 10.81 = 0.907 after one, its eighth power 0.46, its seventh 0.507
    (store,) = reserve(circuit_of(BOARD)).stores
    assert plain_share(store.ratio, 1) == pytest.approx(0.907, abs=0.001)
    assert plain_share(store.ratio, 8) == pytest.approx(0.46, abs=0.001)
    assert store.counted_halves == 7
    assert store.halves >= 7, "real strokes are shorter than the rated ones that are counted"


def test_a_burst_discharge_hose_leaves_the_dry_reservoir_its_air(evidence: Evidence):
    """A check valve stands between the reservoirs; common practice, no source."""
    assert lost(evidence, ("pump", "2")) == {"wet"}
    air = evidence.braking_without(evidence.emptied(evidence.circuit.space["pump", "2"]))
    assert all(air.is_charged(evidence.circuit.service_space(chamber)) for chamber in evidence.chambers)


def test_a_burst_dry_reservoir_leaves_no_brake_at_all(evidence: Evidence):
    emptied = evidence.emptied(evidence.circuit.space["dry", "1"])
    air = evidence.braking_without(emptied)
    assert len(evidence.chambers) == 4
    assert not any(air.is_charged(evidence.circuit.service_space(chamber)) for chamber in evidence.chambers)


@pytest.mark.parametrize(("rules", "clause"), (("us-federal", "S5.7.1"), ("un-r13", "5.2.1.2.7.2")))
def test_it_fails_whatever_asks_for_separate_circuits(rules: str, clause: str):
    found = {judgement.clause.key for judgement in judge(circuit_of(BOARD), (rules,)).judgements
             if judgement.is_open and judgement.rule.name == "circuits-not-separate"}
    assert found == {f"{rules}/{clause}"}


def test_it_has_no_other_fault():
    assert {j.rule.name for j in verdict_of(BOARD).judgements if j.is_open} == {"circuits-not-separate"}
