"""An axle has no service brake on one side or on either.

Why
---
Service brakes belong on all wheels, lift, tag and pusher axles included.

What happens
------------
This wheel does not brake, and one-sided braking pulls the vehicle aside.

What is not checked
-------------------
Axles the design does not mention.

Bad
---
    chamber left: type 20, stroke 2.25 in, axle front, side left

Good
----
    chamber left: type 20, stroke 2.25 in, axle front, side left
    chamber right: type 20, stroke 2.25 in, axle front, side right
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import loose_ends
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.source import Span


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    vehicle = evidence.circuit.vehicle
    if not evidence.circuit.axles:
        yield undecided(vehicle.name, vehicle.span, "no axle is written", "the axles: axle front: position 1")
    for axle in evidence.circuit.axles:
        ends = [c for c in evidence.chambers if c.settings["axle"] == axle.name]
        if axle.hydraulic and not ends:
            yield met(axle.name, axle.span, f"axle {axle.name} has hydraulic service brakes, as declared; none of them is drawn")
            continue
        if axle.hydraulic:
            yield not_met(axle.name, ends[0].span, f"axle {axle.name} is declared to have hydraulic service brakes, and "
                          f"{ends[0].name} brakes it with air", "take `brakes hydraulic` off the axle, or the chamber off it",
                          also=((axle.span, "the axle"),))
            continue
        sides = {c.settings["side"] for c in ends}
        if "both" in sides:
            sides = {"left", "right"}
        bare = [side for side in ("left", "right") if side not in sides]
        if bare:
            where = "on either side" if len(bare) == 2 else f"on the {bare[0]}"
            yield not_met(axle.name, axle.span, f"axle {axle.name} has no service brake {where}",
                        f"add a chamber: axle {axle.name}, side {bare[0]}",
                          also=_twin(evidence.circuit, ends) or loose_ends(evidence.circuit))
        else:
            yield met(axle.name, axle.span, f"axle {axle.name} is braked on both sides")


def _twin(circuit: Circuit, ends: list[Device]) -> tuple[tuple[Span, str], ...]:
    """How the other side of the axle is fed."""
    spaces = {circuit.service_space(one) for one in ends}
    lines = [line for space in sorted(spaces) for line in circuit.on_space(space) if line.is_line]
    return tuple((line.span.outermost, "what feeds the other side") for line in lines[:2])


RULE = Rule("wheel-without-brake", "service brakes act on all wheels", "error", check, missing=True)
