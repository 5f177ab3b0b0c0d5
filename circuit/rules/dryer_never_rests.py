"""A dryer with one tower stands behind a compressor that its users keep at work.

Why
---
One tower dries its desiccant with a stroke of dry air each time the compressor rests. What holds more air than all
brake reservoirs together, as tyres that are filled from the cab do, keeps the compressor at work for minutes on end.

What happens
------------
The desiccant is full long before the compressor rests, and the air goes on wet: to the valves, and in frost to ice.

What is not checked
-------------------
How often the users are filled, and how much water the air brings. That they hold more than the reservoirs is where our
line is drawn; makers draw theirs by the compressor's share of working time.

Bad
---
    compressor pump: displacement 32 cfm
    air-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir purge-tank: volume 5 L, rated 10 bar, role regeneration
    hose pump.2 -> dryer.1: bore 5/8 in, length 3 m
    tube dryer.21 -> wet: size 5/8 in, length 1 m
    tube dryer.22 -> purge-tank: size 3/8 in, length 0.4 m
    tyre left: volume 200 L, axle front, side left
    tube wet -> left: size 1/4 in, length 5 m

Good
----
    compressor pump: displacement 32 cfm
    twin-tower-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> dryer.1: bore 5/8 in, length 3 m
    tube dryer.21 -> wet: size 5/8 in, length 1 m
    tyre left: volume 200 L, axle front, side left
    tube wet -> left: size 1/4 in, length 5 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    users = [user for user in circuit.having(Trait.USES_AIR) if user.settings.get("volume")]
    used = sum(float(user.settings["volume"]) for user in users)
    stored = sum(float(tank.settings["volume"]) for tank in circuit.reservoirs_for("supply", "service", "parking"))
    for dryer in circuit.having(Trait.DRIES):
        if dryer.kind.port("regeneration") is None:
            yield met(dryer.name, dryer.span, f"{dryer.name} dries its desiccant while the compressor works")
        elif used <= stored:
            yield met(dryer.name, dryer.span, f"{dryer.name} rests: users hold {shown(used, 'volume')}, the brake "
                      f"reservoirs {shown(stored, 'volume')}")
        else:
            yield not_met(dryer.name, dryer.span,
                        f"{dryer.name} has one tower, and users of {shown(used, 'volume')} keep the compressor at work "
                        f"where the brake reservoirs hold {shown(stored, 'volume')}",
                        f"put a dryer with two towers in place of {dryer.name}",
                        also=tuple((user.span.outermost, "filled by it") for user in users[:3]))


RULE = Rule("dryer-never-rests", "the dryer has pauses to dry its desiccant in", "warning", check)
