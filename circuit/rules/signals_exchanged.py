"""Two signal lines of a valve are each on the port meant for the other.

Why
---
A valve with two control ports does something else with each. Both are thin tubes side by side, and easily exchanged.

What happens
------------
The valve takes one signal for the other: a modulating valve believes a circuit lost that is whole, and lets the springs
on while driving.

What is not checked
-------------------
Lines whose exchange changes nothing that air at rest can show.

Bad
---
    axle rear: position 2
    compressor pump: displacement 12 cfm
    reservoir pri and sec: volume 30 L, rated 10 bar, role service
    check-valve pri-guard and sec-guard
    manifold block: holes 3
    hose pump.2 -> block: bore 5/8 in, length 3 m
    tube block -> pri-guard.1: size 1/2 in, length 1 m
    tube pri-guard.2 -> pri: size 1/2 in, length 1 m
    tube block -> sec-guard.1: size 1/2 in, length 1 m
    tube sec-guard.2 -> sec: size 1/2 in, length 1 m
    foot-valve foot: deliveries 1
    tube sec -> foot.1: size 1/2 in, length 5 m
    park-valve park
    tube pri -> park.1: size 3/8 in, length 2 m
    spring-brake-modulating-valve modulator
    tube park.2 -> modulator.1: size 3/8 in, length 6 m
    tube pri -> modulator.41: size 1/4 in, length 1 m
    tube foot.2 -> modulator.42: size 1/4 in, length 6 m
    spring-chamber left: type 30/30, stroke 2.5 in, axle rear, side left
    hose modulator.2 -> left.12: bore 3/8 in, length 1 m

Good
----
    axle rear: position 2
    compressor pump: displacement 12 cfm
    reservoir pri and sec: volume 30 L, rated 10 bar, role service
    check-valve pri-guard and sec-guard
    manifold block: holes 3
    hose pump.2 -> block: bore 5/8 in, length 3 m
    tube block -> pri-guard.1: size 1/2 in, length 1 m
    tube pri-guard.2 -> pri: size 1/2 in, length 1 m
    tube block -> sec-guard.1: size 1/2 in, length 1 m
    tube sec-guard.2 -> sec: size 1/2 in, length 1 m
    foot-valve foot: deliveries 1
    tube sec -> foot.1: size 1/2 in, length 5 m
    park-valve park
    tube pri -> park.1: size 3/8 in, length 2 m
    spring-brake-modulating-valve modulator
    tube park.2 -> modulator.1: size 3/8 in, length 6 m
    tube pri -> modulator.42: size 1/4 in, length 1 m
    tube foot.2 -> modulator.41: size 1/4 in, length 6 m
    spring-chamber left: type 30/30, stroke 2.5 in, axle rear, side left
    hose modulator.2 -> left.12: bore 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Role
from circuit.judging.causes import exchange
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for device in circuit.devices:
        for one, other in device.kind.turns:
            ports = device.kind.port(one), device.kind.port(other)
            if any(port is None or port.role is not Role.CONTROL for port in ports):
                continue
            keys = (device.name, one), (device.name, other)
            if circuit.space[keys[0]] == circuit.space[keys[1]]:
                continue
            if Evidence(circuit.exchanged(*keys)).works > evidence.works:
                lines = [(d.span, f"this line is on port {key[1]}") for key in keys for d in circuit.devices
                         if d.ends and key in d.ends]
                yield not_met(device.name, lines[0][0] if lines else device.span,
                            f"the signals on {device.name}.{one} and {device.name}.{other} are exchanged",
                            f"exchange the lines on {device.name}.{one} and {device.name}.{other}",
                            also=(*lines[1:], (device.span, device.kind.title.lower())),
                            mend=exchange(*keys))
            else:
                yield met(device.name, device.span, f"{device.name} has its signals on the ports meant for them")


RULE = Rule("signals-exchanged", "signals are on the control ports meant for them", "error", check)
