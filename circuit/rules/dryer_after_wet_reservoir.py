"""The dryer stands behind the wet reservoir.

Why
---
A dryer is meant to keep water and oil out of every reservoir, the first included. Behind the wet reservoir it lets that
one fill with water, and its cartridge gets air only in gusts, when something behind it draws.

What happens
------------
The wet reservoir gathers water as if there were no dryer, and freezes in winter. Some vehicles are built so on purpose,
with the wet reservoir as a cooler; so this is a warning, to be accepted with a waiver.

What is not checked
-------------------
A second dryer for one user, such as tyre inflation, behind a reservoir that gets dried air already: it is no fault.

Bad
---
    compressor pump: displacement 12 cfm
    air-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> dryer.1: size 5/8 in, length 1 m
    tube dryer.21 -> dry: size 5/8 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    air-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dryer.1: bore 5/8 in, length 3 m
    tube dryer.21 -> wet: size 5/8 in, length 1 m
    tube wet -> dry: size 5/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    everywhere = evidence.could_reach(frozenset())
    dryers = circuit.having(Trait.DRIES)
    behind = frozenset(circuit.space_of(dryer, port.number) for dryer in dryers for port in dryer.kind.ports
                       if port.number != "1") - {circuit.space_of(dryer, "1") for dryer in dryers}
    undried = evidence.could_reach(behind)
    for dryer in dryers:
        inlet = circuit.space_of(dryer, "1")
        first = next((tank for tank in circuit.reservoirs_for("supply") if inlet in everywhere
                      and circuit.store(tank) in undried
                      and inlet not in evidence.could_reach(evidence.zone(circuit.store(tank)) - {inlet}
                                                            | {circuit.store(tank)})), None)
        if first is not None:
            yield not_met(dryer.name, dryer.span,
                        f"{dryer.name} gets its air from {first.name}, which fills with wet air",
                        f"lead the discharge line to {dryer.name}.1, and {dryer.name}'s outlet to {first.name}",
                        also=((first.span, "the wet reservoir"),))
        else:
            yield met(dryer.name, dryer.span, f"{dryer.name} dries the air before the first reservoir")


RULE = Rule("dryer-after-wet-reservoir", "the dryer stands before the first reservoir", "warning", check)
