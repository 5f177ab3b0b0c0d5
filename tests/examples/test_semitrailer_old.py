"""The old semi-trailer: its volume sum, worked by hand, and its emergency brake."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.judging.volumes import shares
from circuit.sim.script import leak, uncouple
from circuit.studies.leak_down import hole_for
from circuit.units import ATMOSPHERE, to_si, value_in
from tests.examples.held import bar, circuit_of, litres, played, verdict_of


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of("semitrailer-old"))


def test_it_is_clean():
    assert not verdict_of("semitrailer-old").findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 4 x 89 = 356 in3 = 5.83 L, 8 x 5.83 = 46.7 L; 50 / 5.83 = 8.57
    (share,) = shares(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(356)
    assert 8 * litres(share.chamber_volume) == pytest.approx(46.7, abs=0.05)
    assert share.ratio == pytest.approx(8.57, abs=0.01)


def test_a_lost_supply_line_puts_the_reservoir_on_the_chambers(evidence: Evidence):
    circuit = evidence.circuit
    tank = evidence.parked.level[circuit.space["tank", "1"]]
    assert tank == pytest.approx(evidence.driving.level[circuit.space["tank", "1"]])
    for chamber in evidence.chambers:
        assert not evidence.driving.is_charged(circuit.service_space(chamber))
        assert evidence.parked.level[circuit.service_space(chamber)] == pytest.approx(tank, abs=100)


def test_the_old_type_bleeds_back_and_brakes_nothing(evidence: Evidence):
    circuit = evidence.circuit
    bleeding = Evidence(circuit.with_setting(circuit.by_name["emergency"], "bleeds-back", "yes"))
    assert circuit.space["tank", "1"] in bleeding.emptied(circuit.space["supply-head", "1"])
    assert not bleeding.parked.is_charged(circuit.space["tank", "1"])
    assert not any(bleeding.parked.is_charged(circuit.service_space(chamber)) for chamber in bleeding.chambers)


def test_uncoupled_it_brakes_for_fifteen_minutes_and_is_let_go_as_its_air_leaks_away(evidence: Evidence):
    """15 minutes: D.C. Municipal Regulations 18-721. A tight plan loses nothing in them, and with the 3 psi a minute
    that driver's manuals allow it still has more than half; but nothing else holds it, so it is always chocked."""
    circuit = evidence.circuit
    (chamber, *_) = evidence.chambers
    tight = played(circuit, uncouple("supply-head", 0.0), until=900.0)
    assert bar(tight, chamber.name, 900.0) == pytest.approx(bar(tight, chamber.name, 60.0), abs=0.02)
    full = ATMOSPHERE + bar(tight, "tank", 60.0) * 1e5
    hole = hole_for(0.05, full, to_si("3 psi", "difference") / 60)
    leaking = played(circuit, uncouple("supply-head", 0.0), leak("tank", hole, 0.0), until=7200.0)
    assert bar(leaking, chamber.name, 900.0) > 0.5 * bar(tight, chamber.name, 900.0)
    assert bar(leaking, chamber.name, 7200.0) < 1.0
    assert not evidence.springs
