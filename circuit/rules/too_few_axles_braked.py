"""A trailer has brakes on too few of its axles.

Why
---
Some rules let a trailer roll with axles that have no brake, as long as one axle of two, or two of more, have them.

What happens
------------
The trailer pushes the drawing vehicle at every stop.

What is not checked
-------------------
How hard the braked axles brake.

Bad
---
    vehicle semi: class full-trailer
    axle front: position 1
    axle middle: position 2
    axle rear: position 3
    chamber left: type 30, stroke 2.5 in, axle front, side left
    chamber right: type 30, stroke 2.5 in, axle front, side right

Good
----
    vehicle semi: class full-trailer
    axle front: position 1
    axle rear: position 2
    chamber left: type 30, stroke 2.5 in, axle front, side left
    chamber right: type 30, stroke 2.5 in, axle front, side right
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided

FEW = 2
"""Axles up to which the smaller number is asked."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not circuit.axles:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no axle is written", "the axles and their brakes")
        return
    at = {(c.settings["axle"], side) for c in evidence.chambers
          for side in (("left", "right") if c.settings["side"] == "both" else (c.settings["side"],))}
    braked = [axle for axle in circuit.axles if {(axle.name, "left"), (axle.name, "right")} <= at]
    asked = limits["axles_of_two"] if len(circuit.axles) <= FEW else limits["axles_of_more"]
    figure = Figure("axles braked at both ends", float(len(braked)), asked, "count")
    says = f"{len(braked)} of {len(circuit.axles)} axles have brakes at both ends"
    if figure.margin < 0:
        bare = [axle for axle in circuit.axles if axle not in braked]
        yield not_met(circuit.vehicle.name, bare[0].span, f"{says}, and {asked:g} are asked",
                      f"put brakes on {listed(axle.name for axle in bare)}", figure=figure)
    else:
        yield met(circuit.vehicle.name, braked[0].span, says, figure)


RULE = Rule("too-few-axles-braked", "enough axles of a trailer are braked", "error", check, missing=True)
