"""The tandem semi-trailer: its volume sum and its applications, worked by hand, and what each line's loss does."""

import pytest

from circuit.gas.drawdown import plain_share
from circuit.judging.evidence import Evidence
from circuit.judging.volumes import shares
from circuit.studies.reserve import reserve
from circuit.studies.respond import respond
from circuit.units import ATMOSPHERE, to_si, value_in
from circuit.verdict.judge import judge
from tests.examples.held import circuit_of, litres, verdict_of
from tests.faults.studied import effect_of, study_of

SEMI = "semitrailer-tandem"


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(SEMI))


def test_it_is_clean():
    assert not verdict_of(SEMI).findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 4 x 89 = 356 in3 = 5.83 L, 8 x 5.83 = 46.7 L; 60 / 5.83 = 10.3
    (share,) = shares(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(356)
    assert litres(8 * share.chamber_volume) == pytest.approx(46.7, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(60)
    assert share.ratio == pytest.approx(10.3, abs=0.05)


def test_seven_applications_leave_half():
    # by hand: (10.28 / 11.28)^7 = 0.522 and ^8 = 0.476
    (store,) = reserve(circuit_of(SEMI)).stores
    assert store.counted_halves == 7 and store.halves >= 7


def test_half_of_the_first_after_eight_is_on_the_border_and_the_report_says_how_it_counts():
    """Counted plainly, the ninth pressure against the first, a ratio of 11.05 is wanted and 10.3 would not do; counted
    with 7.5 bar asked from 8.5 bar stored, (EU) 2015/68 Annex IV A 1.3.1 and 1.3.2, the eighth still has half."""
    assert plain_share(11.05, 8) == pytest.approx(0.5, abs=0.001) and plain_share(10.28, 8) < 0.5
    (found,) = [j for j in judge(circuit_of(SEMI), ("un-r13",)).judgements if j.rule.name == "reserve-too-small"]
    figure = found.answer.figure
    assert figure.margin > 0 and figure.found - ATMOSPHERE < 0.65 * 7.5e5
    says = f"{found.answer.says}; {found.answer.remark}"
    for words in ("chambers at working stroke, lines and valves counted", "counted plainly", "at a ratio of 10.3",
                  "application 9 would get"):
        assert words in says


def test_an_empty_supply_line_lets_the_springs_on_and_keeps_the_reservoirs(evidence: Evidence):
    circuit = evidence.circuit
    gone = evidence.emptied(circuit.space["supply-head", "1"])
    assert len(evidence.springs) == 4
    assert all(circuit.spring_space(spring) in gone for spring in evidence.springs)
    assert not any(circuit.store(tank) in gone for tank in circuit.reservoirs)


@pytest.mark.parametrize("fault", (
    "tank-1: burst", "tube tank-2 -> relay.1: burst", "tube springs.21 -> tank-1: burst"))
def test_a_lost_reservoir_or_service_line_leaves_70_psi_in_the_supply_line_and_the_springs_off(fault: str):
    """571.121 S5.8.2, with the supply line fed at 100 psi as in NHTSA interpretation aiam5049."""
    lost = effect_of(SEMI, fault)
    left, line = study_of(SEMI).left(lost.fault), study_of(SEMI).circuit.space["supply-head", "1"]
    for situation in ("driving", "braking"):
        assert left.floor(line, situation) >= to_si("70 psi", "pressure") - 100
    assert all(each.springs == 0 for each in lost.axles)


def test_crossed_hoses_leave_the_springs_on_and_the_service_brake_dead():
    """British Columbia commercial driving guide, chapter 8. What was the control line now fills nothing while the pedal
    is up, and with the reservoirs empty there is nothing to brake with."""
    crossed = effect_of(SEMI, "supply-head and control-head: crossed")
    assert not any(tank.refilled for tank in crossed.tanks)
    swapped = Evidence(circuit_of(SEMI).exchanged(("supply-head", "1"), ("control-head", "1")))
    assert not any(swapped.filling.is_charged(swapped.circuit.spring_space(spring)) for spring in swapped.springs)
    assert not any(swapped.filling.is_charged(swapped.circuit.store(tank)) for tank in swapped.circuit.reservoirs)


def test_every_chamber_has_60_psi_in_time():
    """0.60 s after the rig moves for a trailer, 571.121 S5.3.3."""
    found = [timed for timed in respond(circuit_of(SEMI)).applied]
    assert len(found) == 4 and all(timed.time.slow <= 0.60 for timed in found)
