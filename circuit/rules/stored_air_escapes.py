"""Stored air finds an open way to the atmosphere in ordinary use.

Why
---
While parked, driving or braking every way out should be shut, or shut as soon as the valve behind it laps. A tee where a
double check valve belongs, or a line to the wrong port, can leave one open: nothing is torn, and the air goes all the same.

What happens
------------
Air runs out at this exhaust for as long as the situation lasts; the reservoirs sink, and what should be applied or held off
may not be.

What is not checked
-------------------
Leaks at fittings and worn seats, which no drawing shows, and short spits such as a dryer's purge.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    open-end tail
    tube dry -> tail: size 1/4 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from circuit.declaring.kind import OUTSIDE
from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.air import Air, path
from circuit.model.devices import SPACE_OUTSIDE, Device, Way

_OTHERS = (Trait.RELIEVES, Trait.COUPLES_VEHICLES)
"""Parts whose way out has a rule of its own: a safety valve set too low, an open tail."""


class _Leak(NamedTuple):
    """One open exhaust: the way out, when it is open, whose air goes, and the fittings on the shortest way there."""

    way: Way
    when: list[str]
    tanks: list[Device]
    fittings: set[str]

    @property
    def end(self) -> str:
        part = self.way.device
        return part.name if self.way.passage.end == OUTSIDE else f"{part.name}.{self.way.passage.end}"


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    found = _leaks(evidence)
    common = [d for d in circuit.having(Trait.JOINS) if len(found) > 1 and all(d.name in k.fittings for k in found)]
    if common:
        tanks = list(dict.fromkeys(tank.name for leak in found for tank in leak.tanks))
        yield not_met(common[-1].name, common[-1].span.outermost,
                    f"{common[-1].name} joins lines that should not meet: air of {listed(tanks)} escapes at "
                    + listed(leak.end for leak in found),
                    f"put a double check valve instead of {common[-1].name}",
                    also=tuple((leak.way.device.span.outermost, f"open while {listed(leak.when)}") for leak in found))
    for leak in found if not common else ():
        part = leak.way.device
        yield not_met(part.name, part.span.outermost,
                    f"air of {listed(tank.name for tank in leak.tanks)} escapes at {leak.end} while {listed(leak.when)}",
                    f"keep the air away from {leak.end}: a double check valve where two lines meet, or another port",
                    also=tuple((tank.span.outermost, "what runs empty") for tank in leak.tanks))
    if circuit.reservoirs and not found:
        yield met("stored air", circuit.vehicle.span, "no stored air finds a way out while parked, driving or braking")


def _leaks(evidence: Evidence) -> list[_Leak]:
    """Every exhaust that stored air goes out by, with and without current in the coils."""
    circuit = evidence.circuit
    found: dict[str, _Leak] = {}
    for state in dict.fromkeys((evidence, evidence.energised)):
        for situation in ("braking", "driving", "parked"):
            air: Air = getattr(state, situation)
            full = [tank for tank in circuit.reservoirs if air.is_charged(circuit.store(tank))]
            for tank in full if air.bleeds(*map(circuit.store, full)) else ():
                store = circuit.store(tank)
                for way in air.escapes(store):
                    if any(way.device.has(trait) for trait in _OTHERS):
                        continue
                    leak = found.setdefault(way.device.name, _Leak(way, [], [], set()))
                    leak.when.extend([situation] if situation not in leak.when else [])
                    leak.tanks.extend([tank] if tank not in leak.tanks else [])
                    for step in path(air, store, way.start) or ():
                        leak.fittings.update(d.name for space in (step.start, step.end) if space != SPACE_OUTSIDE
                                             for d in circuit.on_space(space, Trait.JOINS))
    return list(found.values())


RULE = Rule("stored-air-escapes", "stored air stays in while parked, driving and braking", "error", check)
