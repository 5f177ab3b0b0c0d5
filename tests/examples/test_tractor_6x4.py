"""The tractor: its volume sum, worked by hand, and what it keeps when its trailer or a hose is lost."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.model.settling import charged
from circuit.model.circuit import Circuit
from circuit.model.loss import emptied_by
from circuit.sim.script import uncouple
from circuit.studies.hands import apply
from circuit.units import ATMOSPHERE, to_si, value_in
from tests.examples.held import bar, circuit_of, litres, lost, played, stops, verdict_of, whole


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of("tractor-6x4"))


def head(circuit: Circuit, line: str) -> tuple[str, str]:
    return f"{line}-head", "1"


def test_it_is_clean():
    assert not verdict_of("tractor-6x4").findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 2 x 54 + 4 x 89 = 464 in3 = 7.60 L; 20 + 50 + 32 = 102 L, 102 / 7.60 = 13.4 of 12
    share = whole(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(464)
    assert litres(share.tank_volume) == pytest.approx(102)
    assert share.ratio == pytest.approx(13.4, abs=0.05)


def test_a_lost_supply_hose_pops_red_and_leaves_the_reservoirs(evidence: Evidence):
    hole = head(evidence.circuit, "supply")
    assert lost(evidence, hole) == set()
    assert stops(evidence, hole) == {"dash": 3.1}
    emptied = evidence.emptied(evidence.circuit.space[hole])
    assert evidence.circuit.space["protection", "1"] in emptied
    assert not any(evidence.circuit.spring_space(spring) in emptied for spring in evidence.springs)


def test_the_supply_hose_off_both_lines_shut_and_the_reservoirs_stop_above_20_psi():
    """Saskatchewan air brake manual: 20 psi at worst. Here the red knob is out at 3.1 bar; what is kept depends on that
    setting, and on the protection valve's 2.8 bar in the control line."""
    circuit = circuit_of("tractor-6x4")
    trace = played(circuit, uncouple("supply-head", 0.0), *apply(circuit, 60.0), until=70.0)
    assert any(event.device == "dash" and event.variable == "trailer-pushed" and event.value == 0
               for event in trace.events)
    assert bar(trace, "protection.1", 59.0) < 0.1
    for tank in ("pri", "sec"):
        assert bar(trace, tank, 59.0) > 20 * 0.0689476
        assert bar(trace, tank, 59.0) == pytest.approx(3.1, abs=0.2)
    assert bar(trace, "protection.21", 70.0) < 0.1, "the control line is shut as well: no air into the lost trailer"
    assert bar(trace, "front-left", 70.0) > 2.0


def test_an_application_after_a_breakaway_stays_in_the_tractor(evidence: Evidence):
    circuit = evidence.circuit
    away = evidence.braking_without(evidence.zone(circuit.space[head(circuit, "supply")]))
    assert away.is_charged(circuit.space["signal-relay", "4"])
    assert not away.is_charged(circuit.space["protection", "21"])
    gone = emptied_by(away, circuit.space[head(circuit, "control")])
    assert not any(circuit.store(tank) in gone for tank in circuit.reservoirs)


def test_a_burst_control_hose_costs_nothing_until_the_pedal_and_never_a_reservoir(evidence: Evidence):
    circuit = evidence.circuit
    store = circuit.space[head(circuit, "control")]
    assert {circuit.space_name(space) for space in evidence.emptied(store, "driving")} == {"control-head"}
    gone = evidence.emptied(store, "braking")
    assert circuit.space["protection", "21"] in gone
    assert not any(circuit.store(tank) in gone for tank in circuit.reservoirs)


def test_a_torn_control_hose_costs_air_only_under_the_pedal_and_the_tractor_still_brakes():
    """Newfoundland and Labrador air brake manual. The hose is 4 m of 3/8 in: the chambers get nearly all. With the pedal
    held the signal relay blows the supply line's air out: that line falls to what puts a trailer's springs on."""
    circuit = circuit_of("tractor-6x4")
    trace = played(circuit, uncouple("control-head", 0.0), *apply(circuit, 10.0), until=40.0)
    full = bar(trace, "pri", 0.0)
    assert bar(trace, "pri", 9.9) == pytest.approx(full, abs=0.02)
    assert bar(trace, "front-left", 12.0) > 0.85 * full and bar(trace, "d1-left.service", 12.0) > 0.85 * full
    assert bar(trace, "control-head", 12.0) < 2.0, "what blows out of the open end is no signal for a trailer"
    falls = (bar(trace, "pri", 15.0) - bar(trace, "pri", 25.0)) / 10
    assert falls == pytest.approx(0.19, abs=0.02), "frozen: our own figure"
    assert bar(trace, "supply-head", 9.9) > 8.0 and bar(trace, "supply-head", 30.0) < 3.1


def test_the_protection_valve_shuts_between_20_and_45_psi(evidence: Evidence):
    """D.C. Municipal Regulations 18-721: the trailer's emergency brake between 20 and 45 psi."""
    shuts = evidence.circuit.by_name["protection"].settings["shuts-at"]
    assert to_si("20 psi", "pressure") <= shuts <= to_si("45 psi", "pressure")
    air = evidence.braking_without(evidence.zone(evidence.circuit.space["protection", "1"]))
    assert not air.is_charged(evidence.circuit.space["protection", "21"])


def test_either_circuit_alone_gives_the_trailer_its_signal(evidence: Evidence):
    circuit = evidence.circuit
    for name in ("pri", "sec"):
        air = evidence.braking_without(evidence.emptied(circuit.space[name, "1"]))
        assert air.is_charged(circuit.space[head(circuit, "control")])


def test_the_yellow_knob_takes_the_trailer_along(evidence: Evidence):
    circuit = evidence.circuit
    assert evidence.driving.is_charged(circuit.space[head(circuit, "supply")])
    assert not evidence.parked.is_charged(circuit.space[head(circuit, "supply")])


def test_a_slow_leak_warns_then_pops_red_then_yellow(evidence: Evidence):
    dash = evidence.circuit.by_name["dash"].settings
    warning = evidence.circuit.by_name["pri-warning"].settings["on-below"]
    assert warning > dash["trailer-pops-out-at"] > dash["pops-out-at"] > ATMOSPHERE


def test_without_a_trailer_the_drive_axles_get_a_third(evidence: Evidence):
    # worked by hand: 0.33 of the signal at 41, less the 0.2 bar by which the relay opens
    circuit = evidence.circuit
    bobtail = charged(circuit, "braking", evidence.zone(circuit.space["protection", "1"]))
    signal = bobtail.level[circuit.space["rear-relay", "41"]] - ATMOSPHERE
    assert signal > 8e5
    delivered = bobtail.level[circuit.space["rear-relay", "2"]] - ATMOSPHERE
    assert delivered == pytest.approx(0.33 * signal - 0.2e5, abs=100)
    coupled = evidence.braking.level[circuit.space["rear-relay", "2"]] - ATMOSPHERE
    assert coupled == pytest.approx(signal - 0.2e5, abs=100)
