"""Spring-braked axles have no brake by degrees when their service circuit is lost.

Why
---
With the rear service circuit lost, the front axle alone must stop the vehicle. A modulating valve, or a hand brake
valve that can be graduated, lets the springs work as an emergency brake.

What happens
------------
After the loss of that circuit these axles are not braked at all, until somebody pulls the park control.

What is not checked
-------------------
Springs that come on at once with that circuit: another rule finds them. Whether the remaining brakes stop the vehicle
in the distance that is asked: that takes a road test.
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
    double-check-valve either
    tube pri -> either.11: size 3/8 in, length 2 m
    tube sec -> either.12: size 3/8 in, length 2 m
    park-valve park
    tube either.2 -> park.1: size 3/8 in, length 1 m
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

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.devices import Device
from circuit.units import ATMOSPHERE

FELT = 0.5e5
"""Pa by which the pedal must lower the springs' air to count as a brake."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if len(evidence.stores) < 2:
        return
    for group, lost in evidence.losses:
        braking, driving = evidence.braking_without(lost), evidence.driving_without(lost)
        bare = [c for c in evidence.springs if not braking.is_charged(circuit.service_space(c))
                and evidence.braking.is_charged(circuit.service_space(c))]
        without = []
        for spring in bare:
            space = circuit.spring_space(spring)
            released, pressed = driving.level.get(space, ATMOSPHERE), braking.level.get(space, ATMOSPHERE)
            if driving.is_charged(space) and released - pressed < FELT and not _graduated(evidence, spring):
                without.append(spring)
        names = listed(tank.name for tank in group)
        axles = list(dict.fromkeys(spring.settings["axle"] for spring in without or bare))
        axle = f"axle{'s' if len(axles) > 1 else ''} {listed(axles)}" if axles else ""
        if without:
            yield not_met(names, without[0].span.outermost, f"with {names} lost {axle} cannot be braked by degrees",
                        "put a spring-brake modulating valve in the spring line, or a graduated hand brake valve",
                        also=((group[0].span, "the reservoir"),))
        elif bare:
            yield met(names, bare[0].span.outermost, f"with {names} lost the springs of {axle} brake by degrees")


def _graduated(evidence: Evidence, spring: Device) -> bool:
    """Whether a hand can let a spring on by degrees."""
    circuit = evidence.circuit
    commanding = evidence.driving.commanding([circuit.spring_space(spring)])
    return any(circuit.space_of(valve, port.number) in commanding for valve in circuit.having(Trait.GRADUATES_SPRINGS)
               for port in valve.kind.ports_as(Role.DELIVERY))


RULE = Rule("no-rear-emergency-brake", "axles with springs keep a brake by degrees when their circuit is lost", "warning", check,
            missing=True)
