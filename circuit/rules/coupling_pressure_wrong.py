"""The pressures at the trailer's coupling heads are outside the range that trailers are made for.

Why
---
Trailers of many makers are coupled to vehicles of many makers. That works because both heads show 650 to 850 kPa
under full braking, whatever the compressor stands at, and the supply head at least 700 kPa at cut-in with the brakes
released.

What happens
------------
A trailer that gets less brakes too little, one that gets more brakes too hard or bursts what was made for less.

What is not checked
-------------------
What a valve loses on the way while air flows, and the lead of the trailer control valve.

Bad
---
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    governor gov: cut-in 6 bar, cut-out 8 bar
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    trailer-supply-valve red
    tube dry -> red.1: size 12x1.5, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 10 mm, length 4 m

Good
----
    vehicle x: class truck, tows yes
    compressor pump: displacement 12 cfm
    governor gov: cut-in 7.3 bar, cut-out 8.5 bar
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    trailer-supply-valve red
    tube dry -> red.1: size 12x1.5, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 10 mm, length 4 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import has, pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.model.devices import Device
from circuit.units import ATMOSPHERE, shown

EXACT = 1.0
"""Pa to which air at rest is worked out: what misses a limit by less meets it."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    governors = circuit.having(Trait.GOVERNS)
    if not evidence.rear_heads:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no coupling head at the rear is written",
                        "the heads to the trailer and what feeds them")
    for head in evidence.rear_heads:
        if not governors:
            yield undecided(head.name, head.span, f"what {head.name} shows is not known without a governor",
                            "a governor with its cut-in and cut-out")
            continue
        yield from _judge(evidence, head, governors, limits)


def _judge(evidence: Evidence, head: Device, governors: tuple[Device, ...],
           limits: Mapping[str, float]) -> Iterator[Answer]:
    low = _at_cut_in(evidence, governors)
    space = evidence.circuit.store(head)
    figures = []
    if has(limits, "supply"):
        if head.settings["line"] != "supply":
            return
        when = "at cut-in, brakes released"
        found = low.driving.level.get(space, ATMOSPHERE)
        figures.append((when, Figure(head.name, found, pressure(limits, "supply"), "pressure")))
    else:
        for when, air in (("at cut-in", low.braking), ("at cut-out", evidence.braking)):
            found = air.level.get(space, ATMOSPHERE)
            least, most = pressure(limits, "least"), pressure(limits, "most")
            figures.append((f"{when}, full application", Figure(head.name, found, least, "pressure")))
            figures.append((f"{when}, full application", Figure(head.name, found, most, "pressure", at_least=False)))
    when, worst = min(figures, key=lambda each: each[1].margin)
    says = f"{head.name} shows {shown(worst.found, 'pressure')} {when}"
    if worst.margin < -EXACT:
        bound = "below" if worst.at_least else "above"
        remedy = ("set the cut-in higher, or take the trailer's air from before what limits it" if worst.at_least
                  else "limit the pressure of the trailer's circuit")
        yield not_met(head.name, head.span, f"{says}, {bound} {shown(worst.limit, 'pressure')}", remedy, figure=worst)
    else:
        yield met(head.name, head.span, says, worst)


def _at_cut_in(evidence: Evidence, governors: tuple[Device, ...]) -> Evidence:
    """The same circuit filled to the governor's cut-in only."""
    circuit = evidence.circuit
    for governor in governors:
        circuit = circuit.with_setting(circuit.by_name[governor.name], "cut-out", governor.settings["cut-in"])
    return Evidence(circuit)


RULE = Rule("coupling-pressure-wrong", "the coupling heads show what trailers are made for", "error", check)
