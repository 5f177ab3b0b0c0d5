"""A protection valve shuts below the low-pressure warning.

Why
---
On a towing vehicle it should save the brakes' air before the warning comes, not after; on a trailer
without a warning it should keep what an application asks for.

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

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import has, pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if has(limits, "keeps"):
        what, least = "what is asked", pressure(limits, "keeps")
    else:
        warnings = [switch.settings["on-below"] for switch in circuit.having(Trait.WARNS_LOW)]
        if not warnings:
            return
        what, least = "the warning", max(warnings)
    for valve in circuit.having(Trait.KEEPS_BACK):
        if has(limits, "keeps") and valve.has(Trait.TAKES_SUPPLY_LINE):
            continue
        shuts = valve.settings["shuts-at"]
        figure = Figure(f"closing pressure above {what}", shuts, least, "pressure")
        if figure.margin < 0:
            yield not_met(valve.name, valve.span,
                        f"{valve.name} shuts at {shown(shuts, 'pressure')}, below {what} at {shown(least, 'pressure')}",
                        f"set its closing pressure above {what}", figure=figure)
        else:
            yield met(valve.name, valve.span, f"{valve.name} shuts above {what}", figure)


RULE = Rule("protection-valve-shuts-late", "protection valves shut above the warning", "error", check)
