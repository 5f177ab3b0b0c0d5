"""Air comes to a service reservoir without passing a wet reservoir, and the service reservoir has no automatic drain.

Why
---
The first reservoir after the compressor cools the air and catches most of its water and oil. Without it the water goes
into the reservoirs that feed the brake valves. A dryer alone does not replace it.

What happens
------------
Water gathers in the service reservoirs themselves and goes on into the brake valves.

What is not checked
-------------------
How well the wet reservoir cools, and whether it is drained in use.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> dry: size 1/2 in, length 1 m
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
    wet = [tank for tank in circuit.reservoirs if tank.settings["role"] == "supply"]
    around = frozenset().union(*(evidence.zone(circuit.store(tank)) for tank in wet))
    for tank in evidence.service_reservoirs:
        store = circuit.store(tank)
        if store not in evidence.could_reach(frozenset()):
            continue
        passed = [w for w in wet if w is not tank and store not in evidence.could_reach(frozenset({circuit.store(w)}))]
        if store not in around and store not in evidence.could_reach(around):
            first = passed[0].name if passed else wet[0].name
            yield met(tank.name, tank.span, f"air comes to {tank.name} through {first}")
        elif passed:
            yield met(tank.name, tank.span, f"air comes to {tank.name} through {passed[0].name}")
        elif circuit.on_space(store, Trait.DRAINS_BY_ITSELF):
            yield met(tank.name, tank.span, f"{tank.name} drains by itself")
        else:
            yield not_met(tank.name, tank.span,
                        f"air comes to {tank.name} without passing a supply (wet) reservoir, and {tank.name} has no "
                        "automatic drain",
                        "put a reservoir with role supply between the compressor and the service reservoirs, or an "
                        "automatic drain on each of them")


RULE = Rule("no-wet-reservoir", "a wet reservoir stands before the service reservoirs", "error", check, missing=True)
