"""The trailer's emergency brakes can not be set in two ways, by themselves and by hand.

Why
---
A trailer brakes itself when its supply line is emptied. That must come by itself when the towing vehicle's air falls to a
fixed pressure, and by hand from the seat, and the hand may not be able to hold the first off.

What happens
------------
A towing vehicle that runs out of air drags a trailer without brakes, or its driver cannot put them on.

What is not checked
-------------------
Where the control sits, and whether it is marked. A cock that a hand shuts in the same line is another rule's matter.

Bad
---
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    coupling-head supply-head: line supply, end rear, seals yes
    tube dry -> supply-head: size 1/2 in, length 5 m

Good
----
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    trailer-supply-valve red: pops-out-at 40 psi
    tube dry -> red.1: size 1/2 in, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 3/8 in, length 4 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.devices import SPACE_OUTSIDE, Device, Way
from circuit.units import ATMOSPHERE

_BELOW = 1e3
"""Pa below its point at which a valve is asked whether it empties the line."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    heads = [head for head in evidence.rear_heads if head.settings["line"] == "supply"]
    if not heads:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no supply head at the rear is written",
                        "the heads to the trailer and what feeds them")
    for head in heads:
        valves = list(dict.fromkeys(_emptying(evidence, head)))
        lacking = [] if valves else ["nothing by itself when the air of " + circuit.vehicle.name + " falls"]
        lacking += ["no control by hand"] if evidence.park_applied.is_charged(circuit.store(head)) else []
        if lacking:
            yield not_met(head.name, head.span, f"the line of {head.name} is emptied by {' and by '.join(lacking)}",
                          "feed it through a trailer supply valve, which pops out by itself and is pulled by hand")
        else:
            yield met(head.name, head.span, f"{listed(valves)} empties the line of {head.name} by itself, and the driver's "
                      "controls, pulled, do")


def _emptying(evidence: Evidence, head: Device) -> Iterator[str]:
    """The valves that let a line out as the air ahead of them falls below their point, with every knob pushed in."""
    circuit, air = evidence.circuit, evidence.driving
    leading = air.leading_to((circuit.store(head),), frozenset(air.level))
    for way in circuit.ways:
        if not (way.passage.keeps and way.device.has(Trait.PROTECTS_TOWING) and way.end in leading):
            continue
        if _vents(circuit.space, way) and circuit.store(head) in evidence.emptied(way.end):
            yield way.device.name


def _vents(space: Mapping[tuple[str, str], int], way: Way) -> bool:
    device, kind = way.device, way.device.kind
    point = float(device.settings[way.passage.keeps])
    fallen = {port.number: ATMOSPHERE if space.get((device.name, port.number)) == SPACE_OUTSIDE else point - _BELOW
              for port in kind.ports}
    return any(passage.start == way.passage.end and passage.opening is not None
               and space.get((device.name, passage.end)) == SPACE_OUTSIDE
               and passage.opening(fallen, device.settings, kind.rest) > 0 for passage in kind.passages)


RULE = Rule("trailer-emergency-not-set", "the trailer's emergency brakes are set by themselves and by hand", "error", check,
            missing=True)
