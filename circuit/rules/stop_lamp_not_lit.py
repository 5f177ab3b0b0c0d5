"""The stop lamps do not light for every service circuit, or light too late.

Why
---
Traffic behind must see the brakes being applied, also with the circuit that is left when the other one is lost.

What happens
------------
The brakes work and nobody behind sees it.

What is not checked
-------------------
The lamps and their wiring.

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
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot: deliveries 2
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
    stop-lamp-switch lamp: on foot.2, on-above 5 psi
"""

from collections.abc import Iterator, Mapping
from math import inf

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import listed, take
from circuit.judging.evidence import Evidence
from circuit.judging.limits import as_written, has, pressure
from circuit.judging.rule import Answer, Figure, Mend, Rule, met, not_met
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.source import Span
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    switches = circuit.having(Trait.LIGHTS_STOP_LAMP)
    if not evidence.service_reservoirs:
        return
    latest = pressure(limits, "lamp") if has(limits, "lamp") else inf
    late = [s for s in switches if s.settings["on-above"] > latest + 1.0]
    for switch in late:
        yield not_met(switch.name, switch.span,
                    f"{switch.name} lights above {shown(switch.settings['on-above'], 'pressure')}, later than "
                    f"{shown(latest, 'pressure')}", f"set it to {as_written(limits, 'lamp')} or less",
                    figure=Figure("stop-lamp pressure", switch.settings["on-above"], latest, "pressure",
                                  at_least=False))
    steady = [s for s in switches if evidence.driving.is_charged(circuit.store(s))]
    for switch in steady:
        yield not_met(switch.name, switch.span, f"{switch.name} is lit at all times: its space is charged while driving",
                    "put it on a delivery of the foot valve")
    unseen: list[Device] = []
    for group in evidence.stores:
        others = [tank for other in evidence.stores if other is not group for tank in other]
        lost = frozenset().union(*(evidence.emptied(circuit.store(tank)) for tank in others)) if others else frozenset()
        if any(circuit.store(tank) in lost for tank in group):
            continue
        air = evidence.braking_without(lost)
        lit = [s for s in switches if s not in steady and air.is_charged(circuit.store(s))]
        names = listed(tank.name for tank in group)
        if lit:
            yield met(names, lit[0].span, f"{lit[0].name} is lit by the brakes of {names} alone")
        elif any(air.is_charged(circuit.service_space(c)) for c in evidence.chambers):
            unseen += group
    if unseen:
        apply = "applies" if len(unseen) == 1 else "apply"
        yield not_met(unseen[0].name, unseen[0].span,
                    f"no stop-lamp switch sees the brakes that {listed(t.name for t in unseen)} {apply}",
                    "put a switch on that circuit's delivery, or one behind a double check valve of both",
                    also=(*((t.span, "its brakes light no lamp") for t in unseen[1:]),
                          *((s.span, "this one does not see it") for s in switches[:1]),
                          *_shuttles(evidence)),
                    mends=_free_holes(evidence))


def _shuttles(evidence: Evidence) -> Iterator[tuple[Span, str]]:
    """What gives on the pedal's pressure from either of two inlets, with the line behind it: a switch there sees both."""
    circuit = evidence.circuit
    for valve in circuit.having(Trait.SELECTS_HIGHER):
        outlet = next((circuit.space_of(valve, port.number) for port in valve.kind.ports_as(Role.DELIVERY)), SPACE_OUTSIDE)
        if evidence.braking.is_charged(outlet) and not evidence.driving.is_charged(outlet):
            yield valve.span.outermost, "a switch behind this one sees what comes to either inlet"
            for line in circuit.on_space(outlet):
                if line.is_line:
                    yield line.span.outermost, "what it gives on"


def _free_holes(evidence: Evidence) -> tuple[Mend, ...]:
    """A switch screwed into each hole that is left open on what the service control charges."""
    space = evidence.circuit.space
    return tuple(take(key) for key in evidence.free_holes()
                 if evidence.braking.is_charged(space[key]) and not evidence.driving.is_charged(space[key]))


RULE = Rule("stop-lamp-not-lit", "the stop lamps light with either circuit", "error", check, missing=True)
