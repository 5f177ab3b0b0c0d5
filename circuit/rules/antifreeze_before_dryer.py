"""Antifreeze goes into the air before the dryer.

Why
---
Desiccant takes alcohol up as it takes up water, and keeps it. Antifreeze belongs behind the dryer, or on a vehicle that
has none.

What happens
------------
The cartridge is spoilt within weeks: from then on the air is wet, and the alcohol never reaches the valves it should
guard. The brakes work on, so this is a warning.

What is not checked
-------------------
Antifreeze poured in by hand.

Bad
---
    compressor pump: displacement 12 cfm
    alcohol-evaporator spirit
    air-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> spirit.1: bore 5/8 in, length 3 m
    tube spirit.2 -> dryer.1: size 5/8 in, length 1 m
    tube dryer.21 -> wet: size 5/8 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    alcohol-evaporator spirit
    air-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> dryer.1: bore 5/8 in, length 3 m
    tube dryer.21 -> spirit.1: size 5/8 in, length 1 m
    tube spirit.2 -> wet: size 5/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for part in circuit.having(Trait.ADDS_ANTIFREEZE):
        reached = evidence.filling.fed_by(circuit.space_of(part, "2"), frozenset({circuit.space_of(part, "1")}))
        spoilt = [dryer for dryer in circuit.having(Trait.DRIES) if circuit.space_of(dryer, "1") in reached]
        if spoilt:
            yield not_met(part.name, part.span, f"the antifreeze of {part.name} goes into {spoilt[0].name}",
                        f"put {part.name} behind {spoilt[0].name}", also=((spoilt[0].span, "the dryer"),))
        else:
            yield met(part.name, part.span, f"no dryer stands behind {part.name}")


RULE = Rule("antifreeze-before-dryer", "antifreeze goes in behind the dryer", "warning", check)
