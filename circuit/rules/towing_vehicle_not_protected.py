"""The loss of a trailer or of its hoses empties the towing vehicle.

Why
---
Hoses between vehicles are torn off, chafed and left uncoupled. What feeds them must shut by itself while the towing
vehicle still has air for its own brakes: a trailer supply valve that pops out and a tractor protection valve, or a
protected circuit and a trailer control valve that throttles.

What happens
------------
A supply hose that comes off, or a control hose that bursts while the pedal is down, empties the towing vehicle's own
brakes.

What is not checked
-------------------
How fast the valves act, and how much air is lost until they do: that takes a simulation.
Bad
---
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
    cut-out-cock red: state open
    tube dry -> red.1: size 1/2 in, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 3/8 in, length 4 m

Good
----
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
    trailer-supply-valve red: pops-out-at 40 psi
    tube dry -> red.1: size 1/2 in, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 3/8 in, length 4 m
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.devices import Device
from circuit.model.loss import emptied_by

_REMEDY = {
    "supply": "feed it through a trailer supply valve that pops out, or from a protected circuit",
    "control": "lead it through a tractor protection valve, or a trailer control valve that throttles",
}


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    heads = evidence.rear_heads
    if circuit.vehicle.tows and not any(head.settings["line"] == "supply" for head in heads):
        yield not_met(circuit.vehicle.name, circuit.vehicle.span,
                    f"{circuit.vehicle.name} is meant to tow and has no supply head at its rear",
                    "add coupling-head supply-head: line supply, end rear, or write tows no")
    safe = []
    for head in heads:
        lost = _lost_by(evidence, head)
        tanks = [tank for tank in evidence.service_reservoirs if circuit.store(tank) in lost]
        springs = [spring for spring in evidence.springs if circuit.spring_space(spring) in lost]
        what = "the supply hose comes off" if head.settings["line"] == "supply" else \
            "the control hose bursts and the pedal is pressed"
        if tanks:
            yield not_met(head.name, head.span, f"when {what} at {head.name}, {listed(t.name for t in tanks)} "
                        f"{'empties' if len(tanks) == 1 else 'empty'}", _REMEDY[head.settings["line"]],
                        also=tuple((tank.span, "loses its air") for tank in tanks))
        elif springs:
            yield not_met(head.name, head.span, f"when {what} at {head.name}, the springs of "
                        f"{listed(s.name for s in springs)} come on",
                        "feed the park control through a check valve ahead of where the trailer is fed",
                        also=((springs[0].span.outermost, "one of the springs"),))
        else:
            safe.append(head)
    if safe:
        yield met("towing vehicle", safe[0].span,
                  f"a hose lost at {listed(h.name for h in safe)} leaves the service reservoirs their air")


def _lost_by(evidence: Evidence, head: Device) -> frozenset[int]:
    """What empties by a torn hose: a supply hose also with the pedal down and the control hose torn with it."""
    store = evidence.circuit.store(head)
    if head.settings["line"] == "control":
        return evidence.emptied(store, "braking")
    lost = evidence.emptied(store)
    away = evidence.braking_without(evidence.zone(store))
    for other in evidence.rear_heads:
        if other.settings["line"] == "control":
            lost |= emptied_by(away, evidence.circuit.store(other))
    return lost


RULE = Rule("towing-vehicle-not-protected", "a lost trailer leaves the towing vehicle its air", "error", check, missing=True)
