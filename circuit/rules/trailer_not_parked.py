"""Parking the towing vehicle leaves the trailer free.

Why
---
One parking control holds the whole combination: it empties the trailer's supply line, so that its springs come on, or
puts full pressure into its control line.

What happens
------------
On a grade the parked towing vehicle alone has to hold a trailer that is heavier than itself.

What is not checked
-------------------
How hard the trailer then holds, and for how long where air holds it.

Bad
---
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    coupling-head supply-head: line supply, end rear, seals yes
    tube dry -> supply-head: size 12x1.5, length 5 m

Good
----
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    trailer-supply-valve red
    tube dry -> red.1: size 12x1.5, length 5 m
    coupling-head supply-head: line supply, end rear
    tube red.2 -> supply-head: size 12x1.5, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    supply = [head for head in evidence.rear_heads if head.settings["line"] == "supply"]
    control = [head for head in evidence.rear_heads if head.settings["line"] == "control"]
    if not supply:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no supply head at the rear is written",
                        "the heads to the trailer and what feeds them")
        return
    empty = [head for head in supply if not evidence.park_applied.is_charged(circuit.store(head))]
    pressed = [head for head in control if evidence.park_applied.is_charged(circuit.store(head))]
    if len(empty) == len(supply):
        yield met("trailer", empty[0].span, f"parking empties {listed(h.name for h in empty)}")
    elif pressed:
        yield met("trailer", pressed[0].span, f"parking puts air into {listed(h.name for h in pressed)}")
    else:
        yield not_met("trailer", supply[0].span,
                    f"parking leaves air in {supply[0].name} and none in the control line: the trailer is not braked",
                    "empty the supply line by the park control, or let it work a trailer control valve",
                    also=tuple((head.span, "no air comes here") for head in control[:1]))


RULE = Rule("trailer-not-parked", "parking brakes the trailer too", "error", check, missing=True)
