"""The governor's cut-in lies below what is asked.

Why
---
Between cut-out and cut-in the compressor rests. A low cut-in lets the stored pressure sag before anything is
done about it.

What happens
------------
The reservoirs stand lower than they should when the brakes are needed.

What is not checked
-------------------
Tolerance and drift of a real governor.

Bad
---
    governor gov: cut-in 85 psi, cut-out 105 psi

Good
----
    governor gov: cut-in 104 psi, cut-out 125 psi
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import as_written, has, pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for governor in circuit.having(Trait.GOVERNS):
        cut_in = governor.settings["cut-in"]
        if has(limits, "cut_in"):
            bus = circuit.vehicle.vehicle_class == "bus" and has(limits, "cut_in_bus")
            word = "cut_in_bus" if bus else "cut_in"
            limit = pressure(limits, word)
            figure = Figure("governor cut-in", cut_in, limit, "pressure")
            if figure.margin < -1.0:
                yield not_met(governor.name, governor.span,
                            f"{governor.name} cuts in at {shown(cut_in, 'pressure')}, below {shown(limit, 'pressure')}",
                            f"set the cut-in to {as_written(limits, word)} or more", figure=figure)
            else:
                yield met(governor.name, governor.span,
                          f"{governor.name} cuts in at {shown(cut_in, 'pressure')}", figure)


RULE = Rule("governor-set-low", "the governor cuts in early enough", "error", check)
