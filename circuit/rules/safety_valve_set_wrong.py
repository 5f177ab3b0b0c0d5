"""A safety valve is set below the governor's cut-out, or above a rating it guards.

Why
---
Set too low it blows at every charge and wears out; set too high it lets a reservoir be stressed beyond its plate.

What happens
------------
Set at or below cut-out it blows off in normal running; set above the rating it allows more than the reservoir is made for.

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

from circuit.kinds.kind import Trait
from circuit.rules.evidence import Evidence
from circuit.rules.reservoir_without_safety_valve import guarded_by
from circuit.rules.rule import Figure, Rule, Statement, fault, met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    governors = circuit.having(Trait.GOVERNS)
    for valve in circuit.having(Trait.RELIEVES):
        setting = valve.settings["opens-at"]
        wrong = False
        for governor in governors:
            figure = Figure("set pressure above the governor's cut-out", setting, governor.settings["cut-out"], "pressure")
            if figure.margin <= 0:
                wrong = True
                yield fault(valve.name, valve.span,
                            f"{valve.name} opens at {shown(setting, 'pressure')}, not above the cut-out of "
                            f"{governor.name}, {shown(governor.settings['cut-out'], 'pressure')}",
                            "set it above the cut-out, and not above the reservoirs' rating",
                            figure=figure, also=((governor.span, "the governor"),))
        guarded = [tank for tank in circuit.reservoirs if guarded_by(evidence, tank) is valve]
        weakest = min(guarded, key=lambda tank: tank.settings["rated"], default=None)
        if weakest is None:
            continue
        figure = Figure("set pressure against the lowest rating it guards", setting, weakest.settings["rated"], "pressure",
                        at_least=False)
        if figure.margin < -1.0:
            yield fault(valve.name, valve.span,
                        f"{valve.name} opens at {shown(setting, 'pressure')}, above the rating of {weakest.name}, "
                        f"{shown(weakest.settings['rated'], 'pressure')}",
                        "set it no higher than the lowest rating it guards", figure=figure,
                        also=((weakest.span, "the reservoir"),))
        elif not wrong:
            names = ", ".join(tank.name for tank in guarded)
            yield met(valve.name, valve.span, f"{valve.name} guards {names} and is set within their ratings", figure)


RULE = Rule("safety-valve-set-wrong", "safety valves are set between cut-out and rating", "error",
            ("good-practice/safety-valve-setting",), check)
