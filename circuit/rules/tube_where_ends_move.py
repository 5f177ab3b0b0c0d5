"""A tube or a pipe joins parts that move against each other.

Why
---
Plastic tube and rigid pipe are made for parts that stand still. Between the frame and an axle, or between two vehicles,
each wave of the road bends them a little, always at the same place.

What happens
------------
It hardens, cracks at the fitting and comes off without warning, and its circuit is lost.

What is not checked
-------------------
Whether two ends move against each other: a design says so with `ends moving`. Where a stiff line ends at a brake
chamber, which rides on an axle, and nothing is written, this is left open.

Bad
---
    axle rear: position 2
    relay-valve relay: deliveries 1
    chamber left: type 30, stroke 2.5 in, axle rear, side left
    tube relay.2 -> left: size 1/2 in, length 0.9 m, ends moving

Good
----
    axle rear: position 2
    relay-valve relay: deliveries 1
    chamber left: type 30, stroke 2.5 in, axle rear, side left
    hose relay.2 -> left: bore 1/2 in, length 0.9 m, ends moving
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.circuit import Circuit
from circuit.model.devices import Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    still, unknown = 0, []
    for line in circuit.having(Trait.STIFF):
        if line.settings["ends"] == "moving":
            what = line.kind.title.lower()
            yield not_met(line.name, line.span, f"{line.title} is {what}, and its two ends move against each other",
                        f"use a hose there: hose {line.name}: bore ..., length ..., ends moving")
        elif line.given["ends"].assumed and _rides_on_axle(circuit, line):
            unknown.append(line)
        else:
            still += 1
    if unknown:
        more = f" and {len(unknown) - 4} more" if len(unknown) > 4 else ""
        names = ", ".join(line.title for line in unknown[:4]) + more
        yield undecided("stiff lines", unknown[0].span, f"{names}: a brake chamber rides on its axle",
                        "whether the other end rides with it: `ends fixed` or `ends moving` on each line")
    if still:
        yield met("stiff lines", circuit.vehicle.span, f"{still} stiff lines join parts that stand still")


def _rides_on_axle(circuit: Circuit, line: Device) -> bool:
    """Whether an end of a line is screwed into a brake chamber."""
    ends = [circuit.by_name[name] for name, _ in line.ends or ()]
    return any(end.has(Trait.SERVICE_ACTUATOR) or end.has(Trait.SPRING_ACTUATOR) for end in ends)


RULE = Rule("tube-where-ends-move", "what moves is joined by hoses", "error", check)
