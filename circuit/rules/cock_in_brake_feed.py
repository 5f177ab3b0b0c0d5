"""A hand-worked cock stands in a line that feeds the service brakes.

Why
---
A cock that somebody shut, for work or by mistake, takes a brake away and looks like any other fitting.

What happens
------------
Shut, it leaves the brakes behind it without air, and nothing warns while the reservoir ahead of it is full.

What is not checked
-------------------
Whether it is sealed, wired open or under lock; coupling lines, which have a rule of their own.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    cut-out-cock cock: state open
    tube dry -> cock.1: size 1/2 in, length 1 m
    foot-valve foot
    tube cock.2 -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

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

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    found = [] if circuit.is_towed else [
        cock for cock in circuit.having(Trait.SHUTS_BY_HAND)
        if any({way.start, way.end} <= evidence.service_system for way in circuit.ways_of.get(cock.name, ()))]
    for cock in found:
        yield not_met(cock.name, cock.span, f"{cock.name} can be shut by hand in a line that feeds the service brakes",
                      "take it out, or have it sealed open and say so by a waiver")
    if evidence.chambers and not found:
        yield met(circuit.vehicle.name, circuit.vehicle.span, "no cock stands in what feeds the service brakes")


RULE = Rule("cock-in-brake-feed", "no hand shuts what feeds the service brakes", "note", check)
