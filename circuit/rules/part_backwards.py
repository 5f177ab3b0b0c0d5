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

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import exchange
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.air import NEARLY_EMPTY
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey
from circuit.units import ATMOSPHERE


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for device in circuit.devices:
        pairs = [((device.name, entry.number), (device.name, leaving.number)) for one, other in device.kind.turns
                 if (entry := device.kind.port(one)) is not None and entry.role is Role.SUPPLY
                 and (leaving := device.kind.port(other)) is not None and leaving.role is Role.DELIVERY]
        wrong = next((keys for keys in pairs if _is_backwards(evidence, device, *keys)), None)
        if wrong is not None:
            entry_key, leaving_key = wrong
            lines = [(d.span, f"this line is on port {key[1]}") for key in (leaving_key, entry_key)
                     for d in circuit.devices if d.ends and key in d.ends]
            yield not_met(device.name, lines[0][0] if lines else device.span,
                        f"{device.name} is fitted backwards: air comes to its port {leaving_key[1]} and can only leave "
                        f"by it",
                        f"exchange the lines on {device.name}.{entry_key[1]} and {device.name}.{leaving_key[1]}",
                        also=(*lines[1:], (device.span, device.kind.title.lower())),
                        mend=exchange(*wrong))
        elif pairs:
            yield met(device.name, device.span, f"{device.name} passes air from its supply to its delivery")


def _is_backwards(evidence: Evidence, device: Device, entry: PortKey, leaving: PortKey) -> bool:
    """Whether air comes from elsewhere to the delivery and not to the supply, and turning the part harms nothing."""
    circuit = evidence.circuit
    start, end = circuit.space[entry], circuit.space[leaving]
    if start == end or not circuit.used.get(entry) or not (
        evidence.driving.is_charged(end) or evidence.braking.is_charged(end)
    ):
        return False
    order = evidence.reach_order
    if order.get(start, len(order)) < order.get(end, len(order)) and (
        evidence.driving.is_charged(start) or evidence.braking.is_charged(start)
    ):
        return False  # most parts: air comes to their supply first
    alone = Evidence(circuit.apart(entry, leaving))
    reached = alone.could_reach(frozenset())
    if end not in reached:
        return False  # quickly said of most parts: nothing but themselves leads to their delivery
    airs = (alone.driving, alone.braking)
    if any(air.is_charged(start) for air in airs) or not any(air.is_charged(end) for air in airs):
        return False
    if device.has(Trait.SELECTS_HIGHER) and start not in reached:
        return True  # it passes one of its signals back and loses the other: air at rest shows only one
    gained = Evidence(circuit.exchanged(entry, leaving)).works - evidence.works
    lost = alone.driving.is_charged(end) and _lets_out(evidence, device, end)
    return gained > 0 or (gained == 0 and (start not in reached or lost))


def _lets_out(evidence: Evidence, device: Device, space: int) -> bool:
    """Whether air that is kept in a space goes off through a part's exhaust."""
    air = evidence.driving
    level = max(air.level.get(space, ATMOSPHERE), NEARLY_EMPTY)
    return any(way.device is device and way.start == space and way.end == SPACE_OUTSIDE
               and air.opening(way, level, ATMOSPHERE) > 0 for way in evidence.circuit.ways_at[space])


RULE = Rule("part-backwards", "one-way parts stand the right way round", "error", check)
