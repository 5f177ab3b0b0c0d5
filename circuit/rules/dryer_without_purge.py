"""A dryer has no air to dry its desiccant with.

Why
---
A dryer takes the water out until its desiccant is full of it. At each cut-out some dry air must flow back through it,
from a small reservoir of its own or from the other tower.

What happens
------------
After some weeks it dries nothing, and the water goes to the valves.

What is not checked
-------------------
Whether the reservoir is large enough.

Bad
---
    compressor pump: displacement 12 cfm
    air-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> dryer.1: bore 5/8 in, length 3 m
    tube dryer.21 -> wet: size 5/8 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    air-dryer dryer
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir purge-tank: volume 5 L, rated 10 bar, role regeneration
    hose pump.2 -> dryer.1: bore 5/8 in, length 3 m
    tube dryer.21 -> wet: size 5/8 in, length 1 m
    tube dryer.22 -> purge-tank: size 3/8 in, length 0.4 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import join
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.circuit import Circuit
from circuit.source import Span


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for dryer in circuit.having(Trait.DRIES):
        port = dryer.kind.port("regeneration")
        if port is None:
            yield met(dryer.name, dryer.span, f"{dryer.name} has its purge air inside")
            continue
        zone = evidence.zone(circuit.space_of(dryer, port.number))
        tank = next((tank for tank in circuit.reservoirs if circuit.store(tank) in zone), None)
        if tank is None:
            yield not_met(dryer.name, dryer.span, f"{dryer.name}.{port.number} has no reservoir to purge from",
                        f"join a small reservoir to {dryer.name}.{port.number}: role regeneration",
                        also=_lines(circuit, circuit.space_of(dryer, port.number)),
                        mends=tuple(join((dryer.name, port.number), (idle.name, idle.kind.ports[0].number))
                                    for idle in circuit.reservoirs_for("regeneration")))
        else:
            yield met(dryer.name, dryer.span, f"{dryer.name} is purged from {tank.name}")


def _lines(circuit: Circuit, port: int) -> tuple[tuple[Span, str], ...]:
    """The lines on the space of a purge port, and on reservoirs that are meant for one."""
    spaces = {port, *(circuit.store(tank) for tank in circuit.reservoirs_for("regeneration"))}
    return tuple((line.span.outermost, "a line on the purge port, or on the reservoir meant for it")
                 for space in sorted(spaces) for line in circuit.on_space(space) if line.is_line)[:4]


RULE = Rule("dryer-without-purge", "the dryer has air to purge with", "warning", check, missing=True)
