"""A safety valve is set below the governor's cut-out, or above a rating it guards.

Why
---
Set too low it blows at every charge and wears out; set too high it lets a reservoir be stressed beyond its plate.

What happens
------------
Set at or below cut-out it blows off in normal running; set above the rating it allows more than the reservoir is made
for.

What is not checked
-------------------
The valve's tolerance and its reseating pressure, which also should lie above the governor's cut-out.

Bad
---
    reservoir wet: volume 20 L, rated 8 bar, role supply
    safety-valve relief: on wet, opens-at 10 bar

Good
----
    reservoir wet: volume 20 L, rated 10 bar, role supply
    safety-valve relief: on wet, opens-at 10 bar
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.model.devices import Device
from circuit.rules.reservoir_without_safety_valve import guarded_by
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    valves = circuit.having(Trait.RELIEVES)
    low: list[str] = []
    for governor in circuit.having(Trait.GOVERNS):
        passed = [valve for valve in valves if _above(valve, governor).margin <= 0]
        low += [valve.name for valve in passed]
        if passed:
            yield _low(passed, governor)
    for valve in valves:
        guarded = [tank for tank in circuit.reservoirs if guarded_by(evidence, tank) is valve]
        weakest = min(guarded, key=lambda tank: float(tank.settings["rated"]), default=None)
        if weakest is None or valve.name in low:
            continue
        setting = valve.settings["opens-at"]
        figure = Figure("set pressure against the lowest rating it guards", setting, weakest.settings["rated"],
                        "pressure", at_least=False)
        if figure.margin < -1.0:
            yield not_met(valve.name, valve.span,
                        f"{valve.name} opens at {shown(setting, 'pressure')}, above the rating of {weakest.name}, "
                        f"{shown(weakest.settings['rated'], 'pressure')}",
                        "set it no higher than the lowest rating it guards", figure=figure,
                        also=((weakest.span, "the reservoir"),))
        else:
            yield met(valve.name, valve.span,
                      f"{valve.name} guards {listed(tank.name for tank in guarded)} and is set within their ratings",
                      figure)


def _above(valve: Device, governor: Device) -> Figure:
    return Figure("set pressure above the governor's cut-out", valve.settings["opens-at"], governor.settings["cut-out"],
                  "pressure")


def _low(valves: list[Device], governor: Device) -> Answer:
    """One valve that opens too early is that valve's fault; where several do, it is the governor's."""
    cut_out = shown(governor.settings["cut-out"], "pressure")
    if len(valves) == 1:
        valve = valves[0]
        return not_met(valve.name, valve.span,
                     f"{valve.name} opens at {shown(valve.settings['opens-at'], 'pressure')}, not above the cut-out of "
                     f"{governor.name}, {cut_out}", "set it above the cut-out, and not above the reservoirs' rating",
                     figure=_above(valve, governor), also=((governor.span, "the governor"),))
    first = min(valves, key=lambda valve: float(valve.settings["opens-at"]))
    return not_met(governor.name, governor.span,
                 f"{governor.name} cuts out at {cut_out}, and {listed(valve.name for valve in valves)} open no higher",
                 "set the cut-out below the safety valves, about 120 to 145 psi", figure=_above(first, governor),
                 also=tuple((valve.span, f"opens at {shown(valve.settings['opens-at'], 'pressure')}")
                            for valve in valves))


RULE = Rule("safety-valve-set-wrong", "safety valves are set between cut-out and rating", "error", check)
