"""A protection valve shuts below the low-pressure warning.

Why
---
It should save the brakes' air before the warning comes, not after.

What happens
------------
A burst auxiliary pulls the brakes' air below the warning before the valve shuts.

What is not checked
-------------------
The valve's tolerance.

Bad
---
    reservoir dry: volume 46 L, rated 10 bar, role service
    low-pressure-switch warning: on dry, on-below 60 psi
    pressure-protection-valve guard: opens-at 60 psi, shuts-at 45 psi
    tube dry -> guard.1: size 1/4 in, length 1 m

Good
----
    reservoir dry: volume 46 L, rated 10 bar, role service
    low-pressure-switch warning: on dry, on-below 60 psi
    pressure-protection-valve guard: opens-at 85 psi, shuts-at 75 psi
    tube dry -> guard.1: size 1/4 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.kinds.kind import Trait
from circuit.rules.evidence import Evidence
from circuit.rules.rule import Figure, Rule, Statement, fault, met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    warnings = [switch.settings["on-below"] for switch in circuit.having(Trait.WARNS_LOW)]
    if not warnings:
        return
    warning = max(warnings)
    for valve in circuit.having(Trait.KEEPS_BACK):
        shuts = valve.settings["shuts-at"]
        figure = Figure("closing pressure above the warning", shuts, warning, "pressure")
        if figure.margin < 0:
            yield fault(valve.name, valve.span,
                        f"{valve.name} shuts at {shown(shuts, 'pressure')}, below the warning at "
                        f"{shown(warning, 'pressure')}", "set its closing pressure above the warning", figure=figure)
        else:
            yield met(valve.name, valve.span, f"{valve.name} shuts above the warning", figure)


RULE = Rule("protection-valve-shuts-late", "protection valves shut above the warning", "error",
            ("good-practice/auxiliaries-protected",), check)
