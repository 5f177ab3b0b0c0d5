"""A service brake keeps its air when the service control is released.

Why
---
Air that has gone in must find a way out: a plugged exhaust or a check valve in a delivery line keeps it in.

What happens
------------
The brake stays on after the pedal is let up: it drags, heats, and may burn.

What is not checked
-------------------
How fast it releases: that takes a simulation, and a test.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    check-valve trap
    tube foot.2 -> trap.1: size 3/8 in, length 2 m
    tube trap.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.rules.evidence import Evidence
from circuit.rules.rule import Rule, Statement, fault, met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    for chamber in evidence.chambers:
        space = circuit.service_space(chamber)
        if not evidence.braking.is_charged(space):
            continue
        if evidence.driving.is_charged(space):
            yield fault(chamber.name, chamber.span.outermost,
                        f"{chamber.name} is applied at all times: its service side is charged while driving",
                        "feed it from a valve that the service control works")
        elif evidence.released.is_charged(space):
            yield fault(chamber.name, chamber.span.outermost,
                        f"the air of {chamber.name} finds no way out when the brakes are released",
                        "free the exhaust of the valve that feeds it, or take the check valve out of its line")
        else:
            yield met(chamber.name, chamber.span.outermost, f"{chamber.name} is released")


RULE = Rule("brake-not-released", "every service brake is released", "error", ("good-practice/brakes-release",), check)
