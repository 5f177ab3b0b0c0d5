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

from circuit.judging.causes import listed, together, valve_before
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    always, trapped = [], []
    for chamber in evidence.chambers:
        space = circuit.service_space(chamber)
        if not evidence.braking.is_charged(space):
            continue
        if evidence.driving.is_charged(space):
            always.append(chamber)
        elif evidence.released.is_charged(space):
            trapped.append(chamber)
        else:
            yield met(chamber.name, chamber.span.outermost, f"{chamber.name} is released")
    for group, says, remedy in (
        (always, "applied at all times: charged while driving", "feed it from a valve that the service control works"),
        (trapped, "not released: the air finds no way out when the pedal is let up",
         "free the exhaust of the valve that feeds it, or take the check valve out of its line"),
    ):
        for cause, chambers in together(group, lambda c: valve_before(circuit, circuit.service_space(c))):
            one = chambers[0] if len(chambers) == 1 else cause
            verb = "is" if len(chambers) == 1 else "are"
            behind = f", behind {cause.title}" if cause not in chambers else ""
            names = listed(c.name for c in chambers)
            yield not_met(one.name, one.span.outermost, f"{names}{behind}, {verb} {says}", remedy,
                        also=tuple((c.span.outermost, "a brake that stays on") for c in chambers if c is not one))


RULE = Rule("brake-not-released", "every service brake is released", "error", check)
