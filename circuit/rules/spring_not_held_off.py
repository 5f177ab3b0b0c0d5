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

from circuit.judging.causes import fed, listed, stopping, stops_at, together, valve_before
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.model.devices import Device
from circuit.units import ATMOSPHERE, shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    empty, weak = [], []
    for chamber in evidence.springs:
        if not evidence.driving.is_charged(circuit.spring_space(chamber)):
            empty.append(chamber)
        elif _figure(evidence, chamber).margin < 0:
            weak.append(chamber)
        else:
            yield met(chamber.name, chamber.span.outermost, f"the spring of {chamber.name} is held off",
                      _figure(evidence, chamber))
    for cause, chambers in together(empty, lambda c: stops_at(evidence.driving, circuit.spring_space(c))):
        stops = f": it stops at {stopping(cause)}" if cause not in chambers else ""
        one = chambers[0] if len(chambers) == 1 else cause
        yield not_met(one.name, one.span.outermost, f"no air holds {_springs(chambers)} off while driving{stops}",
                    "feed the spring side from the park control or the trailer's spring valve",
                    also=tuple((c.span.outermost, "a spring that stays on") for c in chambers if c is not one),
                    guesses=fed(evidence, [(c.name, c.kind.ports[1].number) for c in chambers], cause, signals=False))
    for cause, chambers in together(weak, lambda c: valve_before(circuit, circuit.spring_space(c))):
        figure = min((_figure(evidence, c) for c in chambers), key=lambda f: f.margin)
        one = chambers[0] if len(chambers) == 1 else cause
        verb = "is" if len(chambers) == 1 else "are"
        yield not_met(one.name, one.span.outermost,
                    f"{_springs(chambers)} {verb} held by {shown(figure.found, 'pressure')}, less than the hold-off "
                    f"pressure of {shown(figure.limit, 'pressure')}", "give it more pressure", figure=figure,
                    also=tuple((c.span.outermost, "a spring that drags") for c in chambers if c is not one))


def _springs(chambers: list[Device]) -> str:
    return f"the spring{'s' if len(chambers) > 1 else ''} of {listed(c.name for c in chambers)}"


def _figure(evidence: Evidence, chamber: Device) -> Figure:
    pressure = evidence.driving.level.get(evidence.circuit.spring_space(chamber), ATMOSPHERE)
    return Figure("hold-off pressure", pressure, chamber.settings["holds-off-at"], "pressure")


RULE = Rule("spring-not-held-off", "every spring brake is held off while driving", "error", check)
