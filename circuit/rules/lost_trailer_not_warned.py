"""The supply hose to a trailer comes off, and no warning tells the driver.

Why
---
What protects the towing vehicle keeps its own air, and may do so before the reservoirs fall far enough for their warning.
The driver then goes on with a trailer that is braking, or that has no air left to brake with.

What happens
------------
The driver learns of the lost trailer by its locked wheels, or not at all.

What is not checked
-------------------
That the warning can be seen or heard from the seat. A warning on a reservoir is counted only where the drawing shows that
the air there falls to it first: how far a protected circuit falls while the hose blows off takes a simulation.

Bad
---
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    trailer-supply-valve red: pops-out-at 40 psi
    tube dry -> red.1: size 1/2 in, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 3/8 in, length 4 m

Good
----
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    low-pressure-switch dry-warning: on dry, on-below 65 psi
    trailer-supply-valve red: pops-out-at 40 psi
    tube dry -> red.1: size 1/2 in, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 3/8 in, length 4 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.devices import Device
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    switches = [s for s in circuit.having(Trait.WARNS_LOW) if evidence.filling.is_charged(circuit.store(s))]
    for head in evidence.rear_heads:
        if head.settings["line"] == "supply" and evidence.driving.is_charged(circuit.store(head)):
            yield _judge(evidence, head, switches)


def _judge(evidence: Evidence, head: Device, switches: list[Device]) -> Answer:
    circuit = evidence.circuit
    lost = evidence.emptied(circuit.store(head))
    if not switches:
        return not_met(head.name, head.span, f"no low-pressure warning tells that the supply hose is off at {head.name}",
                       "add a low-pressure-switch on the line to the trailer, or on each service reservoir")
    sees = next((s for s in switches if circuit.store(s) in lost), None)
    if sees is not None:
        return met(head.name, sees.span, f"{sees.name} loses its air with the hose at {head.name}, and warns")
    for switch, valve, keeps in _ahead(evidence, head, switches):
        if switch.settings["on-below"] >= keeps:
            return met(head.name, switch.span, f"{switch.name} warns at {shown(switch.settings['on-below'], 'pressure')}, "
                       f"before {valve.name} shuts at {shown(keeps, 'pressure')}")
    return undecided(head.name, head.span, f"no warning sits where the air is lost with the hose at {head.name}",
                     "a low-pressure-switch on the line to the trailer, or a simulation of the hose blowing off")


def _ahead(evidence: Evidence, head: Device, switches: list[Device]) -> Iterator[tuple[Device, Device, float]]:
    """The warnings on what feeds a valve that leads to a head, with the pressure there that the valve keeps."""
    circuit, air = evidence.circuit, evidence.driving
    leading = air.leading_to((circuit.store(head),), frozenset(air.level))
    for way in circuit.ways:
        if way.passage.keeps and way.end in leading and way.start in leading:
            before = air.leading_to((way.start,), frozenset(air.level))
            for switch in switches:
                if circuit.store(switch) in before:
                    yield switch, way.device, float(way.device.settings[way.passage.keeps])


RULE = Rule("lost-trailer-not-warned", "a lost supply hose is warned of", "error", check, missing=True)
