"""A circuit does not serve what the design says it is meant to serve.

Why
---
The designer writes which reservoirs and axles a circuit means to serve. What the plumbing does is worked out from the
plumbing, and the two should agree.

What happens
------------
The papers say one thing and the vehicle does another: after a fault the driver has other brakes than he was told.

What is not checked
-------------------
Whether the intended division of axles is a good one.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    reservoir spare: volume 46 L, rated 10 bar, role service
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
    circuit service: reservoirs spare, axles front

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
    circuit service: reservoirs dry, axles front
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.devices import Device, Intent


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not circuit.intents:
        yield undecided("circuits", circuit.vehicle.span,
                        "the design does not say what its circuits are meant to serve",
                        "`circuit` statements: circuit primary: reservoirs pri, axles rear")
    for intent in circuit.intents:
        if intent.role == "service":
            yield from _service(evidence, intent)
        elif intent.role == "parking":
            yield from _parking(evidence, intent)


def _service(evidence: Evidence, intent: Intent) -> Iterator[Answer]:
    meant = set(intent.reservoirs)
    bare: list[str] = []
    other: dict[tuple[str, ...], list[Device]] = {}
    for axle in intent.axles:
        chambers = [c for c in evidence.chambers if c.settings["axle"] == axle]
        actual = {tank.name for tank in evidence.service_reservoirs
                  for c in chambers if c in evidence.served[tank.name]}
        if not chambers:
            bare.append(axle)
        elif meant and actual and actual != meant:
            other.setdefault(tuple(sorted(actual)), []).append(chambers[0])
    if bare:
        yield not_met(intent.name, intent.span, f"circuit {intent.name} is meant to brake {_axles(bare)} without service "
                    "brakes", "add chambers, or take the axle out of the circuit")
    for tanks, chambers in other.items():
        axles = [c.settings["axle"] for c in chambers]
        yield not_met(intent.name, intent.span,
                    f"{_axles(axles)} {'is' if len(axles) == 1 else 'are'} braked from {listed(tanks)}, not from "
                    f"{listed(intent.reservoirs)} as circuit {intent.name} says",
                    "change the plumbing, or what the circuit says",
                    also=tuple((c.span.outermost, "its brake") for c in chambers))
    if not bare and not other:
        yield met(intent.name, intent.span, f"circuit {intent.name} serves what it is meant to serve")


def _axles(names: list[str]) -> str:
    return f"axle {names[0]}" if len(names) == 1 else f"axles {listed(names)}"


def _parking(evidence: Evidence, intent: Intent) -> Iterator[Answer]:
    circuit = evidence.circuit
    springs = [c for c in evidence.springs if not intent.axles or c.settings["axle"] in intent.axles]
    right = True
    for axle in intent.axles:
        if not any(c.settings["axle"] == axle for c in springs):
            right = False
            yield not_met(intent.name, intent.span,
                        f"circuit {intent.name} is meant to park axle {axle}, which has no spring brakes",
                        "add spring chambers, or take the axle out of the circuit")
    tanks = [circuit.by_name[name] for name in intent.reservoirs]
    for tank in tanks:
        lost = frozenset().union(*(evidence.emptied(circuit.store(other)) for other in tanks if other is not tank)) \
            if len(tanks) > 1 else frozenset()
        if circuit.store(tank) in lost:
            continue
        air = evidence.driving_without(lost)
        held = [c for c in springs if air.is_charged(circuit.spring_space(c))]
        if springs and not held and any(evidence.driving.is_charged(circuit.spring_space(c)) for c in springs):
            right = False
            yield not_met(intent.name, intent.span,
                        f"{tank.name} alone does not hold the springs off, though circuit {intent.name} names it",
                        f"feed the park control from {tank.name} too, through a double check valve",
                        also=((tank.span, "the reservoir"),))
    if right:
        how = f"any of {listed(intent.reservoirs)} alone holds its springs off" if len(tanks) > 1 else \
            "it parks the axles it is meant to park"
        yield met(intent.name, intent.span, f"circuit {intent.name}: {how}")


RULE = Rule("circuit-not-as-declared", "circuits serve what they are declared to serve", "error", check)
