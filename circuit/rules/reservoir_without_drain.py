"""A reservoir has no drain that a hand can work.

Why
---
Air that has been compressed gives up water as it cools, and the water gathers in the reservoirs. What is not let out
takes up room that was meant for air, rusts the shell, and freezes in the valves behind it.

What happens
------------
Water stays in the reservoir: less air is stored than the papers say, and in frost the valves it feeds may stick.

What is not checked
-------------------
Whether the drain really sits at the lowest point: a design only says so with `placed lowest`.

Bad
---
    reservoir tank: volume 40 L, rated 10 bar, role service

Good
----
    reservoir tank: volume 40 L, rated 10 bar, role service
    drain tap: on tank, placed lowest
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for tank in circuit.reservoirs:
        drains = circuit.on_space(circuit.store(tank), Trait.DRAINS_WATER)
        by_hand = [drain for drain in drains
                   if Trait.DRAINS_BY_ITSELF not in drain.kind.traits or drain.settings["by-hand"] == "yes"]
        if by_hand:
            yield met(tank.name, tank.span, f"{tank.name} is drained by {by_hand[0].name}")
        elif drains:
            yield not_met(tank.name, tank.span, f"{tank.name} has only {drains[0].name}, which no hand can work",
                        f"add a drain cock: drain {tank.name}-drain: on {tank.name}, placed lowest",
                        also=((drains[0].span, "the automatic drain"),))
        else:
            yield not_met(tank.name, tank.span, f"{tank.name} has no drain",
                        f"add one: drain {tank.name}-drain: on {tank.name}, placed lowest")


RULE = Rule("reservoir-without-drain", "every reservoir can be drained by hand", "error", check, missing=True)
