"""The trailer gets its signal from one service circuit only.

Why
---
A pedal with two circuits is of little use to the trailer when only one of them reaches its control line. A double
check valve, or a trailer control valve with two signals, lets either brake it.

What happens
------------
When that circuit is lost the pedal no longer brakes the trailer, and the towing vehicle's other half must stop both.

What is not checked
-------------------
A loss that takes the trailer's supply line too: then the trailer brakes itself. How well the surviving circuit can be
graduated at the trailer.
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
    chamber rear-left: type 20, stroke 2.25 in, axle rear, side left
    tube foot.21 -> rear-left: size 3/8 in, length 6 m
    tube foot.22 -> left: size 3/8 in, length 2 m
    coupling-head control-head: line control, end rear
    tube foot.21 -> control-head: size 3/8 in, length 9 m

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
    chamber rear-left: type 20, stroke 2.25 in, axle rear, side left
    tube foot.21 -> rear-left: size 3/8 in, length 6 m
    tube foot.22 -> left: size 3/8 in, length 2 m
    double-check-valve either
    tube foot.21 -> either.11: size 3/8 in, length 1 m
    tube foot.22 -> either.12: size 3/8 in, length 1 m
    coupling-head control-head: line control, end rear
    tube either.2 -> control-head: size 3/8 in, length 9 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import listed, move
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Mend, Rule, met, not_met
from circuit.model.devices import Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for head in evidence.rear_heads:
        space = circuit.store(head)
        if head.settings["line"] != "control" or len(evidence.stores) < 2:
            continue
        if not evidence.braking.is_charged(space):
            yield not_met(head.name, head.span, f"no signal comes to {head.name} when the pedal is pressed",
                        "lead both service circuits to it through a double check valve")
            continue
        has_supply = any(other.settings["line"] == "supply" for other in evidence.rear_heads)
        alone = []
        for group, lost in evidence.losses:
            air = evidence.braking_without(lost)
            supplied = any(air.is_charged(circuit.store(other)) for other in evidence.rear_heads
                           if other.settings["line"] == "supply")
            if not air.is_charged(space) and (supplied or not has_supply):
                alone.append((group, air))
        for group, air in alone:
            names = listed(tank.name for tank in group)
            hands = [hand for hand in circuit.having(Trait.TRAILER_HAND_CONTROL)
                     if air.is_charged(circuit.space_of(hand, "1"))]
            rest = f"; the hand valve {hands[0].name} still works it" if hands else ""
            yield not_met(head.name, head.span, f"the pedal's signal comes to {head.name} from {names} alone: with "
                        f"{names} lost the trailer is not braked{rest}",
                        "lead the other service circuit to it too, by a double check valve or a second signal port",
                        also=((group[0].span, "the reservoir of that circuit"),), severity="warning" if hands else "",
                        mends=_second_signals(evidence, head))
        if not alone:
            yield met(head.name, head.span, f"either service circuit alone gives {head.name} its signal")


def _second_signals(evidence: Evidence, head: Device) -> tuple[Mend, ...]:
    """A valve before the head with two signals that are one: one of them taken from another half of the brake valve."""
    circuit = evidence.circuit
    leading = evidence.braking.commanding([circuit.store(head)])
    given = [(valve.name, port.number) for valve in circuit.having(Trait.SERVICE_CONTROL)
             for port in valve.kind.ports_as(Role.DELIVERY)
             if evidence.braking.is_charged(circuit.space_of(valve, port.number))]
    found = []
    for valve in circuit.devices:
        ports = valve.kind.ports_as(Role.SUPPLY, Role.CONTROL) if not valve.has(Trait.SERVICE_CONTROL) else ()
        keys = [(valve.name, port.number) for port in ports]
        for key in keys:
            zone = evidence.zone(circuit.space[key]) if circuit.space[key] in leading else frozenset()
            if any(circuit.space[other] in zone for other in keys if other != key):
                found += [move(key, source) for source in given if circuit.space[source] not in zone]
    return tuple(found)


RULE = Rule("trailer-signal-from-one-circuit", "either service circuit brakes the trailer", "error", check)
