"""A spring brake is not held off while driving.

Why
---
Its spring is only off while air holds it off at full pressure.

What happens
------------
The brake drags, heats and burns, or the vehicle cannot be moved at all.

What is not checked
-------------------
The spring's true hold-off pressure.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    spring-chamber left: type 30/30, stroke 2.5 in, axle front, side left
    trailer-spring-brake-valve springs
    tube red -> springs.1: size 1/2 in, length 9 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    spring-chamber left: type 30/30, stroke 2.5 in, axle front, side left
    trailer-spring-brake-valve springs
    tube red -> springs.1: size 1/2 in, length 9 m
    hose springs.22 -> left.12: bore 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.rules.evidence import Evidence
from circuit.rules.rule import Figure, Rule, Statement, fault, met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    for chamber in evidence.springs:
        space = circuit.spring_space(chamber)
        pressure = evidence.driving.level.get(space, 101325.0)
        needed = chamber.settings["holds-off-at"]
        if not evidence.driving.is_charged(space):
            yield fault(chamber.name, chamber.span.outermost, f"no air holds the spring of {chamber.name} off while driving",
                        "feed its spring side from the park control or the trailer's spring valve")
        elif pressure < needed:
            yield fault(chamber.name, chamber.span.outermost,
                        f"the spring of {chamber.name} is held by {shown(pressure, 'pressure')}, less than its hold-off "
                        f"pressure of {shown(needed, 'pressure')}", "give it more pressure",
                        figure=Figure("hold-off pressure", pressure, needed, "pressure"))
        else:
            yield met(chamber.name, chamber.span.outermost, f"the spring of {chamber.name} is held off",
                      Figure("hold-off pressure", pressure, needed, "pressure"))


RULE = Rule("spring-not-held-off", "every spring brake is held off while driving", "error", ("good-practice/springs-hold-off",), check)
