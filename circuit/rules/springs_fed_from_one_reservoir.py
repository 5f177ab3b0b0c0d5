"""All spring brakes hang on one service reservoir.

Why
---
Springs come on when their air is lost. Fed from one service reservoir, the loss of that circuit takes its brakes and
locks the spring-braked axles at the same time. A second source through a double check valve, or a reservoir of their
own, keeps them off.

What happens
------------
When that reservoir is lost the springs come on at once and at full force, whatever the driver does.

What is not checked
-------------------
A double check valve that rests half way at a slow leak, which loses both sources.
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
    dual-foot-valve foot
    tube pri -> foot.11: size 1/2 in, length 5 m
    tube sec -> foot.12: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    tube foot.21 -> rear-left.11: size 3/8 in, length 6 m
    tube foot.22 -> left: size 3/8 in, length 2 m
    park-valve park
    tube pri -> park.1: size 3/8 in, length 3 m
    tube park.2 -> rear-left.12: size 3/8 in, length 6 m

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
    dual-foot-valve foot
    tube pri -> foot.11: size 1/2 in, length 5 m
    tube sec -> foot.12: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    tube foot.21 -> rear-left.11: size 3/8 in, length 6 m
    tube foot.22 -> left: size 3/8 in, length 2 m
    double-check-valve either
    tube pri -> either.11: size 3/8 in, length 2 m
    tube sec -> either.12: size 3/8 in, length 2 m
    park-valve park
    tube either.2 -> park.1: size 3/8 in, length 1 m
    tube park.2 -> rear-left.12: size 3/8 in, length 6 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import listed, move, rows
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Mend, Rule, met, not_met
from circuit.model.air import path
from circuit.model.devices import Device, Way


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    held = [spring for spring in evidence.springs if evidence.driving.is_charged(circuit.spring_space(spring))]
    if not held or len(evidence.stores) < 2:
        return
    found = False
    for group, lost in evidence.losses:
        air = evidence.driving_without(lost)
        on = [spring for spring in held if not air.is_charged(circuit.spring_space(spring))]
        if on:
            found = True
            names = listed(tank.name for tank in group)
            others = listed(t.name for other, _ in evidence.losses if other is not group for t in other)
            yield not_met(names, group[0].span, f"the springs of {listed(s.name for s in on)} hang on {names}: when it "
                        "is lost they come on at once",
                        f"feed the park control from {others} too, through a double check valve",
                        also=((on[0].span.outermost, "one of the springs"), *rows(
                            _way(evidence, group, on[0]), "what holds it off comes this way")),
                        mends=_second_feeds(evidence, group))
    if not found:
        yield met("springs", held[0].span.outermost, "no loss of one service reservoir lets the springs on")


def _way(evidence: Evidence, group: tuple[Device, ...], spring: Device) -> list[Way]:
    """The valves between a store and a spring."""
    circuit = evidence.circuit
    found = path(evidence.driving, circuit.store(group[0]), circuit.spring_space(spring)) or ()
    return [way for way in found if not way.device.is_line]


def _second_feeds(evidence: Evidence, group: tuple[Device, ...]) -> tuple[Mend, ...]:
    """A valve with two supplies that are both fed from one store: one of them taken to another store."""
    circuit, zone = evidence.circuit, evidence.zone(evidence.circuit.store(group[0]))
    others = [tank for tank in evidence.service_reservoirs if circuit.store(tank) not in zone]
    found = []
    for valve in circuit.devices:
        ports = [(valve.name, port.number) for port in valve.kind.ports_as(Role.SUPPLY)]
        both = [key for key in ports if circuit.space[key] in zone]
        if len(both) > 1 and not valve.has(Trait.SERVICE_CONTROL):
            found += [move(key, (other.name, "1")) for key in both for other in others]
    return tuple(found)


RULE = Rule("springs-fed-from-one-reservoir", "the loss of one service reservoir does not let the springs on", "error", check)
