"""A part that passes air one way is fitted the other way round.

Why
---
The arrow on a check valve or the port numbers on a quick release valve are easily missed, and a part fitted backwards
looks right.

What happens
------------
Nothing passes it in the direction that is wanted, so everything behind it stays without air.

What is not checked
-------------------
Parts whose two sides are both fed, where the drawing cannot tell which way was meant.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    check-valve guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> guard.2: size 1/2 in, length 1 m
    tube guard.1 -> dry: size 1/2 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    check-valve guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> guard.1: size 1/2 in, length 1 m
    tube guard.2 -> dry: size 1/2 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.kinds.kind import Role
from circuit.rules.evidence import Evidence
from circuit.rules.rule import Rule, Statement, fault, met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    airs = (evidence.driving, evidence.braking)
    for device in circuit.devices:
        found = False
        for one, other in device.kind.turns:
            entry, leaving = device.kind.port(one), device.kind.port(other)
            assert entry is not None and leaving is not None
            if entry.role is not Role.SUPPLY or leaving.role is not Role.DELIVERY:
                continue
            keys = (device.name, entry.number), (device.name, leaving.number)
            start, end = circuit.space[keys[0]], circuit.space[keys[1]]
            if start == end or any(air.is_charged(start) for air in airs) or not any(air.is_charged(end) for air in airs):
                continue
            mended = Evidence(circuit.exchanged(*keys))
            if charged_count(mended) <= charged_count(evidence):
                continue
            found = True
            lines = [(d.span, f"this line is on port {key[1]}") for key in (keys[1], keys[0]) for d in circuit.devices
                     if d.ends and key in d.ends]
            place = lines[0][0] if lines else device.span
            yield fault(device.name, place,
                        f"{device.name} is fitted backwards: air comes to its port {leaving.number} and can only leave "
                        f"by it",
                        f"exchange the lines on {device.name}.{entry.number} and {device.name}.{leaving.number}",
                        also=(*lines[1:], (device.span, device.kind.title.lower())),
                        mend=lambda c, keys=keys: c.exchanged(*keys))
        if device.kind.turns and not found and any(p.role is Role.SUPPLY for p in device.kind.ports):
            yield met(device.name, device.span, f"{device.name} passes air from its supply to its delivery")


def charged_count(evidence: Evidence) -> int:
    """How many spaces hold air while driving or braking."""
    return len({space for air in (evidence.driving, evidence.braking) for space in air.level if air.is_charged(space)})


RULE = Rule("part-backwards", "one-way parts stand the right way round", "error",
            ("good-practice/right-way-round",), check)
