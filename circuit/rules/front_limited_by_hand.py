"""A knob takes away part of the front brakes.

Why
---
The knob for slippery roads is left on slippery when the road is dry. Some rules allow only a valve that limits the
front brakes by itself.

What happens
------------
The vehicle needs a longer way to stop than anybody expects of it.

What is not checked
-------------------
Where the knob stands.

Bad
---
    manual-front-limiting-valve knob

Good
----
    front-limiting-valve ratio
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    knobs = circuit.having(Trait.LIMITS_BY_HAND)
    for valve in knobs:
        yield not_met(valve.name, valve.span, f"{valve.name} limits brakes by hand",
                    "fit a valve that limits the front brakes by itself, or none")
    if not knobs:
        yield met(circuit.vehicle.name, circuit.vehicle.span, "no knob limits the front brakes")


RULE = Rule("front-limited-by-hand", "no hand limits the front brakes", "error", check)
