"""The governor cuts out higher than inspectors take.

Why
---
The cut-out is what reservoirs, lines and valves stand all day, and what the safety valve has to stay shut at.

What happens
------------
Lines and diaphragms wear sooner, and an inspector asks for the maker's word that this setting is meant.

What is not checked
-------------------
What the maker says.

Bad
---
    governor gov: cut-in 120 psi, cut-out 140 psi

Good
----
    governor gov: cut-in 104 psi, cut-out 125 psi
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import as_written, pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    most = pressure(limits, "cut_out")
    for governor in evidence.circuit.having(Trait.GOVERNS):
        figure = Figure("governor cut-out", governor.settings["cut-out"], most, "pressure", at_least=False)
        says = f"{governor.name} cuts out at {shown(figure.found, 'pressure')}"
        if figure.margin < -1.0:
            yield not_met(governor.name, governor.span, f"{says}, above {shown(most, 'pressure')}",
                        f"set the cut-out to {as_written(limits, 'cut_out')} or less, or keep the maker's word for it",
                        figure=figure)
        else:
            yield met(governor.name, governor.span, says, figure)


RULE = Rule("governor-set-high", "the governor cuts out no higher than is taken", "warning", check)
