"""A service reservoir system has no low-pressure warning, or one that comes too late.

Why
---
A driver cannot feel how much air is left. The warning must see each service reservoir itself: behind a check valve it
sees what the check valve kept.

What happens
------------
This circuit can run empty without anybody being told.

What is not checked
-------------------
The lamp or buzzer, and whether the driver can see or hear it.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    low-pressure-switch warning: on dry, on-below 30 psi
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    low-pressure-switch warning: on dry, on-below 62 psi
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.kinds.kind import Trait
from circuit.rules.causes import listed
from circuit.rules.evidence import Evidence
from circuit.rules.rule import Figure, Rule, Statement, fault, met
from circuit.units import shown, to_si


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    least = to_si(f"{limits['warning_psi']} psi", "pressure")
    switches = circuit.having(Trait.WARNS_LOW)
    for group in evidence.stores:
        tank, names = group[0], listed(each.name for each in group)
        zone = evidence.zone(circuit.store(tank))
        seeing = [switch for switch in switches if circuit.store(switch) in zone]
        if not seeing:
            watched = frozenset().union(*(evidence.zone(circuit.store(t)) for t in evidence.service_reservoirs))
            hidden = [s for s in switches
                      if evidence.filling.is_charged(circuit.store(s)) and circuit.store(s) not in watched]
            yield fault(tank.name, tank.span, f"no low-pressure warning watches {names}",
                        f"add one: low-pressure-switch {tank.name}-warning: on {tank.name}, on-below "
                        f"{limits['warning_psi'] + 2:g} psi",
                        also=tuple((s.span, "this one sits behind a valve that hides the loss") for s in hidden[:1]))
            continue
        best = max(seeing, key=lambda switch: switch.settings["on-below"])
        figure = Figure("warning pressure", best.settings["on-below"], least, "pressure")
        if figure.margin < -1.0:
            yield fault(tank.name, best.span,
                        f"{best.name} warns below {shown(best.settings['on-below'], 'pressure')}, later than "
                        f"{shown(least, 'pressure')}", f"set it to {limits['warning_psi']:g} psi or more",
                        figure=figure, also=((tank.span, "the reservoir it watches"),))
        else:
            yield met(tank.name, best.span, f"{best.name} watches {names}", figure)


RULE = Rule("no-low-pressure-warning", "each service reservoir has its low-pressure warning", "error",
            ("us-federal/S5.1.5",), check)
