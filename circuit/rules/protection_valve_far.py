"""A protection valve stands far from the reservoir it protects.

Why
---
It protects against what bursts behind it. The line ahead of it is as unguarded as if there were no valve.

What happens
------------
A burst of that line takes the brakes' air, valve or not.

What is not checked
-------------------
How the line is laid and guarded against damage.

Bad
---
    reservoir dry: volume 46 L, rated 10 bar, role service
    pressure-protection-valve guard: opens-at 85 psi, shuts-at 75 psi
    tube dry -> guard.1: size 1/4 in, length 4 m

Good
----
    reservoir dry: volume 46 L, rated 10 bar, role service
    pressure-protection-valve guard: opens-at 85 psi, shuts-at 75 psi
    tube dry -> guard.1: size 1/4 in, length 0.3 m
"""

from collections.abc import Iterator, Mapping
from math import inf

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import length
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for valve in circuit.having(Trait.KEEPS_BACK):
        if valve.has(Trait.TAKES_SUPPLY_LINE):
            continue
        entry = circuit.store(valve)
        tanks = [tank for tank in circuit.reservoirs_for("service", "parking")
                 if circuit.store(tank) in evidence.zone(entry)]
        if not tanks:
            continue
        metres, tank = min(((_metres(evidence, entry, circuit.store(tank)), tank) for tank in tanks),
                           key=lambda each: each[0])
        figure = Figure(f"line between {tank.name} and {valve.name}", metres, length(limits, "line"), "length",
                        at_least=False)
        if figure.margin < 0:
            yield not_met(valve.name, valve.span,
                        f"{valve.name} is {shown(metres, 'length')} of line away from {tank.name}",
                        f"put it on {tank.name}", figure=figure, also=((tank.span, "the reservoir it protects"),))
        else:
            yield met(valve.name, valve.span, f"{valve.name} sits close to {tank.name}", figure)


def _metres(evidence: Evidence, start: int, goal: int) -> float:
    """The least length of line between two spaces that are always open to each other, m."""
    circuit = evidence.circuit
    best = {start: 0.0}
    todo = [start]
    while todo:
        here = min(todo, key=lambda space: best[space])
        todo.remove(here)
        for way in circuit.ways_at[here]:
            there = way.end if way.start == here else way.start
            if way.passage.opening is not None or there == SPACE_OUTSIDE:
                continue
            length = best[here] + _length(way.device)
            if length < best.get(there, inf):
                best[there] = length
                todo.append(there)
    return best.get(goal, inf)


def _length(device: Device) -> float:
    return float(device.settings.get("length") or 0.0) if device.is_line else 0.0


RULE = Rule("protection-valve-far", "protection valves sit at the reservoirs they protect", "warning", check)
