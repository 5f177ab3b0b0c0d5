"""A parking or release reservoir loses its air when what fills it is lost.

Why
---
It is there for the moment when all other air is gone: to hold the springs off a little longer, or to lift them and
clear the road. A check valve at its inlet, or a protection valve that shuts, keeps it.

What happens
------------
It is empty when it is needed: the springs come on with the rest of the air, or cannot be lifted. The vehicle stands
safely then, so this is a warning.

What is not checked
-------------------
For how many releases its air is enough.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir spare: volume 15 L, rated 10 bar, role parking
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> spare: size 3/8 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir spare: volume 15 L, rated 10 bar, role parking
    check-valve guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> guard.1: size 3/8 in, length 1 m
    tube guard.2 -> spare: size 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for tank in circuit.reservoirs_for("parking"):
        store = circuit.store(tank)
        feeds = [circuit.store(other) for other in circuit.reservoirs
                 if other is not tank and store in evidence.filling.fed_by(circuit.store(other), frozenset())]
        feeds += [space for space in evidence.sources if store in evidence.filling.fed_by(space, frozenset())]
        lost = [space for space in feeds if store in evidence.emptied(space)]
        if lost:
            name = evidence.zone_name(lost[0])
            yield not_met(tank.name, tank.span, f"{tank.name} empties when {name} is lost: nothing keeps its air",
                        f"put a check valve in the line to {tank.name}, its port 2 towards {tank.name}")
        elif feeds:
            yield met(tank.name, tank.span, f"{tank.name} keeps its air when {evidence.zone_name(feeds[0])} is lost")


RULE = Rule("parking-reservoir-not-held", "a parking reservoir keeps its own air", "warning", check, missing=True)
