"""A service brake gets no air when the service control is applied.

Why
---
A brake that is drawn, mounted and piped to the wrong port looks complete and does nothing.

What happens
------------
This wheel is not braked when the pedal is pressed.

What is not checked
-------------------
How fast it is applied and how hard: that takes a simulation, and a test.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left

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

from circuit.judging.causes import fed, listed, stopping, stops_at, together
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not evidence.chambers:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no brake is written",
                        "the brake chambers and what feeds them")
    unfed = []
    for chamber in evidence.chambers:
        if not evidence.braking.is_charged(circuit.service_space(chamber)):
            unfed.append(chamber)
            continue
        tanks = [tank.name for tank in evidence.serving[chamber.name]]
        if tanks or circuit.is_towed:
            yield met(chamber.name, chamber.span.outermost,
                      f"{chamber.name} is applied from {listed(tanks or ['the control line'])}")
        else:
            yield not_met(chamber.name, chamber.span.outermost, f"{chamber.name} is not applied from a reservoir",
                        "feed its brake valve from a service reservoir")
    for cause, chambers in together(unfed, lambda c: stops_at(evidence.braking, circuit.service_space(c))):
        what = "side" if len(chambers) == 1 else "sides"
        stops = f": it stops at {stopping(cause)}" if cause not in chambers else ""
        one = chambers[0] if len(chambers) == 1 else cause
        yield not_met(one.name, one.span.outermost,
                    f"no air reaches the service {what} of {listed(c.name for c in chambers)} when the brakes are "
                    f"applied{stops}", "follow the line back to the valve that should feed it",
                    also=tuple((c.span.outermost, "a brake without air") for c in chambers if c is not one),
                    guesses=fed(evidence, [(c.name, c.kind.ports[0].number) for c in chambers], cause, signals=True))


RULE = Rule("brake-not-applied", "every service brake is applied", "error", check)
