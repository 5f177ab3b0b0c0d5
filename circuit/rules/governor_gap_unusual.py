"""The governor's cut-out and cut-in lie unusually close together or far apart.

Why
---
A gap of about 20 to 25 psi is usual. Less makes the compressor start and stop all the time; more leaves the reservoirs
low before it starts.

What happens
------------
The compressor switches too often, or too late.

What is not checked
-------------------
What the maker of the governor allows.

Bad
---
    governor gov: cut-in 120 psi, cut-out 125 psi

Good
----
    governor gov: cut-in 104 psi, cut-out 125 psi
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import difference
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.units import shown

EXACT = 1.0
"""Pa by which a gap may miss its bound and keep it: two pressures as written, one taken from the other."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    for governor in evidence.circuit.having(Trait.GOVERNS):
        gap = governor.settings["cut-out"] - governor.settings["cut-in"]
        if gap <= 0:
            continue
        least = difference(limits, "least_gap")
        most = difference(limits, "most_gap")
        if gap < least - EXACT:
            yield not_met(governor.name, governor.span,
                        f"{governor.name} has only {shown(gap, 'difference')} between cut-in and cut-out",
                        "set them about 20 to 25 psi apart", figure=Figure("governor gap", gap, least, "difference"))
        elif gap > most + EXACT:
            yield not_met(governor.name, governor.span,
                        f"{governor.name} has {shown(gap, 'difference')} between cut-in and cut-out",
                        "set them about 20 to 25 psi apart",
                        figure=Figure("governor gap", gap, most, "difference", at_least=False))
        else:
            yield met(governor.name, governor.span, f"{governor.name} has a gap of {shown(gap, 'difference')}",
                      Figure("governor gap", gap, least, "difference"))


RULE = Rule("governor-gap-unusual", "the governor's gap is usual", "warning", check)
