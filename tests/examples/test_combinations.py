"""Tractor with semi-trailer, and truck with dolly and semi-trailer: what one vehicle's loss does to the others."""

from functools import cache

import pytest

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.model.devices import Device
from circuit.sim.script import shut
from circuit.studies.hands import apply
from tests.designs import example_text, findings_of, loaded
from tests.examples.held import bar, circuit_of, played, verdict_of

NAMES = ("combination-semi", "combination-train")


@cache
def evidence_of(name: str) -> Evidence:
    return Evidence(circuit_of(name))


def of(evidence: Evidence, vehicle: str, *traits: Trait) -> list[Device]:
    return [device for device in evidence.circuit.having(*traits) if device.name.startswith(f"{vehicle}.")]


@pytest.mark.parametrize("name", NAMES)
def test_it_is_clean(name: str):
    assert not verdict_of(name).findings


@pytest.mark.parametrize("name", NAMES)
def test_every_wheel_is_braked_and_every_spring_held_off_and_let_on(name: str):
    evidence = evidence_of(name)
    circuit = evidence.circuit
    assert len(evidence.chambers) == 10
    for chamber in evidence.chambers:
        assert evidence.braking.is_charged(circuit.service_space(chamber))
        assert not evidence.released.is_charged(circuit.service_space(chamber))
    for spring in evidence.springs:
        assert evidence.driving.is_charged(circuit.spring_space(spring))
        assert evidence.is_let_on(spring)


@pytest.mark.parametrize(("name", "towing", "towed"), [
    ("combination-semi", "tractor", ("semi",)), ("combination-train", "truck", ("dolly", "semi"))])
def test_a_lost_supply_hose_brakes_what_is_towed_and_empties_no_reservoir(
    name: str, towing: str, towed: tuple[str, ...]
):
    evidence = evidence_of(name)
    circuit = evidence.circuit
    gone = evidence.emptied(circuit.space[f"{towing}.supply-head", "1"])
    assert not any(circuit.store(tank) in gone for tank in circuit.reservoirs)
    for vehicle in towed:
        springs = of(evidence, vehicle, Trait.SPRING_ACTUATOR)
        assert springs and all(circuit.spring_space(spring) in gone for spring in springs)
    assert not any(circuit.spring_space(spring) in gone for spring in of(evidence, towing, Trait.SPRING_ACTUATOR))


def test_behind_shut_cocks_the_last_trailer_has_no_brake():
    text = example_text("combination-train").replace('"../', '"')
    shut = f"{text}\nset dolly.supply-cock and dolly.control-cock: state shut\n"
    assert not findings_of(text)
    evidence = Evidence(loaded(shut))
    circuit = evidence.circuit
    for chamber in of(evidence, "semi", Trait.SERVICE_ACTUATOR):
        assert not evidence.braking.is_charged(circuit.service_space(chamber))
    for chamber in of(evidence, "dolly", Trait.SERVICE_ACTUATOR):
        assert evidence.braking.is_charged(circuit.service_space(chamber))
    assert findings_of(shut)


def test_a_train_without_its_last_trailer_cannot_build_with_the_cocks_open():
    text = example_text("combination-train").replace('"../', '"')
    rows = [row for row in text.split("\n") if "semi" not in row or row.startswith(("#", "combination"))]
    assert "tail-open" in {rule for _, rule in findings_of("\n".join(rows))}
    rows.append("set dolly.supply-cock and dolly.control-cock: state shut")
    assert "tail-open" not in {rule for _, rule in findings_of("\n".join(rows))}


def test_open_at_the_tail_the_supply_line_cannot_build_and_the_dolly_stays_braked():
    """California commercial handbook: the cocks at the rear of the last trailer are shut. The truck's red knob pops out
    or is held in; the truck keeps its own air and its own springs off."""
    text = example_text("combination-train").replace('"../', '"')
    rows = [row for row in text.split("\n") if "semi" not in row or row.startswith(("#", "combination"))]
    evidence = Evidence(loaded("\n".join(rows)))
    circuit = evidence.circuit
    gone = evidence.emptied(circuit.space["dolly.rear-supply-head", "1"])
    assert circuit.space["truck.supply-head", "1"] in gone
    springs = of(evidence, "dolly", Trait.SPRING_ACTUATOR)
    assert springs and all(circuit.spring_space(spring) in gone for spring in springs)
    assert not any(circuit.spring_space(spring) in gone for spring in of(evidence, "truck", Trait.SPRING_ACTUATOR))
    assert not any(circuit.store(tank) in gone for tank in circuit.reservoirs)


@pytest.mark.parametrize(("vented", "springs_held_off"), (("yes", 0.1), ("no", 8.4)))
def test_cocks_shut_between_trailers_take_the_service_brake_and_nothing_in_the_cab_tells(
    vented: str, springs_held_off: float
):
    """With cocks that vent, as here, the springs of the last trailer come on and it drags: the driver notices. With
    plain cocks the trapped air holds them off, and it has no brake at all until its hose parts: the worst case."""
    text = example_text("combination-train").replace('"../', '"')
    circuit = loaded(f"{text}\nset dolly.supply-cock and dolly.control-cock: vented {vented}\n")
    trace = played(circuit, shut("dolly.supply-cock", 1.0), shut("dolly.control-cock", 1.0), *apply(circuit, 10.0),
                   until=13.0)
    assert bar(trace, "dolly.left.service", 13.0) > 7 and bar(trace, "semi.left.service", 13.0) < 0.1
    assert bar(trace, "semi.left.spring", 9.9) == pytest.approx(springs_held_off, abs=0.1)
    switches = circuit.having(Trait.WARNS_LOW)
    assert switches and all(trace.first_time(circuit.store(s), s.settings["on-below"], rising=False) is None
                            for s in switches)
