"""A spring brake keeps its hold-off air when the park control is applied or a trailer's supply line is lost.

Why
---
A spring brake parks the vehicle only when its air gets out. Springs fed from a reservoir stay off when they should come on.

What happens
------------
The vehicle does not park on this wheel, or a trailer that breaks away is not braked by it.

What is not checked
-------------------
How fast the spring comes on, and whether it holds the vehicle on a slope.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    spring-chamber left: type 30/30, stroke 2.5 in, axle front, side left
    trailer-spring-brake-valve springs
    reservoir tank: volume 40 L, rated 10 bar, role service
    tube red -> springs.1: size 1/2 in, length 9 m
    tube springs.21 -> tank: size 1/2 in, length 1 m
    hose tank -> left.12: bore 3/8 in, length 1 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    spring-chamber left: type 30/30, stroke 2.5 in, axle front, side left
    trailer-spring-brake-valve springs
    reservoir tank: volume 40 L, rated 10 bar, role service
    tube red -> springs.1: size 1/2 in, length 9 m
    tube springs.21 -> tank: size 1/2 in, length 1 m
    hose springs.22 -> left.12: bore 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.rules.evidence import Evidence
from circuit.rules.rule import Rule, Statement, fault, met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    how = "the supply line is lost" if circuit.is_towed else "the park control is applied"
    for chamber in evidence.springs:
        space = circuit.spring_space(chamber)
        if not evidence.driving.is_charged(space):
            continue
        if evidence.parked.is_charged(space) or evidence.park_applied.is_charged(space):
            yield fault(chamber.name, chamber.span.outermost, f"the spring of {chamber.name} stays off when {how}",
                        "feed its spring side only through the valve that lets it on, and keep that valve's exhaust free")
        else:
            yield met(chamber.name, chamber.span.outermost, f"the spring of {chamber.name} is let on when {how}")


RULE = Rule("spring-not-applied", "every spring brake is let on by parking", "error", ("us-federal/S5.8.1", "good-practice/springs-apply",), check)
