"""A spring-brake modulating valve senses the wrong reservoir.

Why
---
The valve lets the pedal work the springs when the service circuit of their own axles is lost. So 42 must see that
circuit, and 41 the pedal's signal from the other one, which is still there.

What happens
------------
When the axles' own service circuit is lost, the valve does not know it: the springs stay held off and these axles are
not braked by the pedal.

What is not checked
-------------------
The pressure at which it changes over, and how finely it can be graduated.
Bad
---
    compressor pump: displacement 12 cfm
    reservoir pri and sec: volume 30 L, rated 10 bar, role service
    check-valve pri-guard and sec-guard
    tee tee
    hose pump.2 -> tee: bore 5/8 in, length 3 m
    tube tee -> pri-guard.1: size 1/2 in, length 1 m
    tube tee -> sec-guard.1: size 1/2 in, length 1 m
    tube pri-guard.2 -> pri: size 1/2 in, length 1 m
    tube sec-guard.2 -> sec: size 1/2 in, length 1 m
    axle rear: position 2
    dual-foot-valve foot: deliveries 2
    tube pri -> foot.11: size 1/2 in, length 5 m
    tube sec -> foot.12: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    tube foot.21 -> rear-left.11: size 3/8 in, length 6 m
    tube foot.22 -> left: size 3/8 in, length 2 m
    spring-brake-modulating-valve modulator
    double-check-valve either
    tube pri -> either.11: size 3/8 in, length 2 m
    tube sec -> either.12: size 3/8 in, length 2 m
    park-valve park
    tube either.2 -> park.1: size 3/8 in, length 1 m
    tube park.2 -> modulator.1: size 3/8 in, length 6 m
    tube foot.22 -> modulator.41: size 1/4 in, length 6 m
    tube sec -> modulator.42: size 1/4 in, length 1 m
    tube modulator.2 -> rear-left.12: size 3/8 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir pri and sec: volume 30 L, rated 10 bar, role service
    check-valve pri-guard and sec-guard
    tee tee
    hose pump.2 -> tee: bore 5/8 in, length 3 m
    tube tee -> pri-guard.1: size 1/2 in, length 1 m
    tube tee -> sec-guard.1: size 1/2 in, length 1 m
    tube pri-guard.2 -> pri: size 1/2 in, length 1 m
    tube sec-guard.2 -> sec: size 1/2 in, length 1 m
    axle rear: position 2
    dual-foot-valve foot: deliveries 2
    tube pri -> foot.11: size 1/2 in, length 5 m
    tube sec -> foot.12: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    tube foot.21 -> rear-left.11: size 3/8 in, length 6 m
    tube foot.22 -> left: size 3/8 in, length 2 m
    spring-brake-modulating-valve modulator
    double-check-valve either
    tube pri -> either.11: size 3/8 in, length 2 m
    tube sec -> either.12: size 3/8 in, length 2 m
    park-valve park
    tube either.2 -> park.1: size 3/8 in, length 1 m
    tube park.2 -> modulator.1: size 3/8 in, length 6 m
    tube foot.22 -> modulator.41: size 1/4 in, length 6 m
    tube pri -> modulator.42: size 1/4 in, length 1 m
    tube modulator.2 -> rear-left.12: size 3/8 in, length 1 m
"""

from collections.abc import Generator, Iterator, Mapping

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import listed, move
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.devices import Device, PortKey


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if len(evidence.stores) < 2:
        return
    for valve in circuit.having(Trait.MODULATES_SPRINGS):
        braked = [spring for spring in evidence.springs
                  if circuit.space_of(valve, "2") in evidence.driving.commanding([circuit.spring_space(spring)])]
        wrong = False
        for group, lost in evidence.losses:
            if not any(spring in evidence.served[tank.name] for tank in group for spring in braked):
                continue
            wrong = wrong or (yield from _at(evidence, valve, group, lost))
        if braked and not wrong:
            yield met(valve.name, valve.span, f"{valve.name} senses the circuit that brakes its own axles")


def _at(
    evidence: Evidence, valve: Device, group: tuple[Device, ...], lost: frozenset[int]
) -> Generator[Answer, None, bool]:
    """What is wrong with the signals of a valve when the circuit of its own axles is lost; whether anything was."""
    circuit = evidence.circuit
    names = listed(tank.name for tank in group)
    sense, pedal = circuit.space_of(valve, "42"), circuit.space_of(valve, "41")
    if evidence.driving_without(lost).is_charged(sense):
        line = next((d for d in circuit.devices if d.ends and (valve.name, "42") in d.ends), valve)
        yield not_met(valve.name, line.span, f"{valve.name} senses {evidence.zone_name(sense)} at 42, but its axles are "
                    f"braked from {names}: it does not act when that is lost", f"join {valve.name}.42 to {names}",
                    also=((group[0].span, "the reservoir it should sense"), (valve.span, valve.kind.title.lower())),
                    mend=move((valve.name, "42"), (group[0].name, "1")))
        return True
    if not evidence.braking_without(lost).is_charged(pedal):
        line = next((d for d in circuit.devices if d.ends and (valve.name, "41") in d.ends), valve)
        yield not_met(valve.name, line.span, f"{valve.name} has its pedal signal at 41 from {names}, which is lost "
                    "when it should act", f"join {valve.name}.41 to the delivery of the other service circuit",
                    also=((group[0].span, "the reservoir"), (valve.span, valve.kind.title.lower())),
                    mends=tuple(move((valve.name, "41"), port) for port in _deliveries(evidence, lost)))
        return True
    return False


def _deliveries(evidence: Evidence, lost: frozenset[int]) -> list[PortKey]:
    """The service control's deliveries that have air when a circuit is lost."""
    circuit, air = evidence.circuit, evidence.braking_without(lost)
    return [(control.name, port.number) for control in circuit.having(Trait.SERVICE_CONTROL)
            for port in control.kind.ports_as(Role.DELIVERY) if air.is_charged(circuit.space_of(control, port.number))]


RULE = Rule("modulating-valve-senses-wrong", "a modulating valve senses the circuit of its own axles", "error", check)
