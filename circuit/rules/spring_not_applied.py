"""A spring brake keeps its hold-off air when the park control is applied or a trailer's supply line is lost.

Why
---
A spring brake parks the vehicle only when its air gets out. Springs fed from a reservoir stay off when they should
come on.

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

from circuit.judging.causes import listed, together, valve_before
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.air import path
from circuit.model.devices import Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    how = "the supply line is lost" if circuit.is_towed else "the park control is applied"
    off = []
    for chamber in evidence.springs:
        space = circuit.spring_space(chamber)
        if not evidence.driving.is_charged(space):
            continue
        if not evidence.is_let_on(chamber):
            off.append(chamber)
        else:
            when = ", as the air on its service side goes" if evidence.parked.is_charged(space) else ""
            yield met(chamber.name, chamber.span.outermost, f"the spring of {chamber.name} is let on when {how}{when}")
    for cause, chambers in together(off, lambda c: valve_before(circuit, circuit.spring_space(c))):
        springs = f"the spring{'s' if len(chambers) > 1 else ''} of {listed(c.name for c in chambers)}"
        stay = "stay" if len(chambers) > 1 else "stays"
        one = chambers[0] if len(chambers) == 1 else cause
        also = tuple((c.span.outermost, "a spring that stays off") for c in chambers if c is not one)
        tank, line = _held_from(evidence, chambers[0])
        if tank is not None:
            yield not_met(one.name, line.span if line else one.span.outermost,
                        f"{springs} {stay} off when {how}: {tank.name} goes on feeding them",
                        "feed the spring side only through the valve that lets it on",
                        also=((tank.span, "the reservoir"), *also))
        else:
            yield not_met(one.name, one.span.outermost, f"{springs} {stay} off when {how}: the air finds no way out",
                        "feed the spring side only through the valve that lets it on, and keep that valve's exhaust "
                        "free", also=also)


def _held_from(evidence: Evidence, chamber: Device) -> tuple[Device | None, Device | None]:
    """The reservoir that still feeds a spring side when it should not, and the line by which its air leaves."""
    circuit = evidence.circuit
    space = circuit.spring_space(chamber)
    if not evidence.parked.is_charged(space):
        return None, None
    chains = {tank.name: path(evidence.parked, circuit.store(tank), space) for tank in circuit.reservoirs
              if evidence.parked.is_charged(circuit.store(tank))}
    found = [(len(chain), name, chain) for name, chain in chains.items() if chain is not None]
    if not found:
        return None, None
    _, name, chain = min(found, key=lambda each: each[:2])
    return circuit.by_name[name], next((way.device for way in chain if way.device.is_line), None)


RULE = Rule("spring-not-applied", "every spring brake is let on by parking", "error", check)
