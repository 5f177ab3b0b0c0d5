"""A hand can brake the trailer without the towing vehicle.

Why
---
Some rules want the trailer's service brake worked only together with the towing vehicle's, so that it is never used to
save the vehicle's own linings, or to hold a parked combination by air. Others allow a hand valve beside the pedal.

What happens
------------
The trailer's brakes are worn and hot when the whole combination has to stop; a combination parked by it rolls off as
the air leaks away.

What is not checked
-------------------
How the valve is used.

Bad
---
    vehicle x: class truck, tows yes
    trailer-hand-valve spike

Good
----
    vehicle x: class truck, tows yes
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    valves = circuit.having(Trait.TRAILER_HAND_CONTROL)
    for valve in valves:
        yield not_met(valve.name, valve.span, f"{valve.name} brakes the trailer without the towing vehicle",
                    "take it out")
    if not valves:
        yield met(circuit.vehicle.name, circuit.vehicle.span, "no control brakes the trailer alone")


RULE = Rule("trailer-braked-alone", "the trailer is braked together with the towing vehicle", "error", check)
