"""The governor's cut-in lies below what is asked, or its gap is no gap.

Why
---
Between cut-out and cut-in the compressor rests. A low cut-in lets the stored pressure sag before anything is done about
it; a small gap makes the compressor switch all the time.

What happens
------------
The reservoirs stand lower than they should when the brakes are needed, or the governor chatters and wears.

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
        cut_in, cut_out = governor.settings["cut-in"], governor.settings["cut-out"]
        if cut_out <= cut_in:
            yield not_met(governor.name, governor.span,
                        f"{governor.name} cuts out at {shown(cut_out, 'pressure')}, not above its cut-in of "
                        f"{shown(cut_in, 'pressure')}", "set the cut-out about 20 to 25 psi above the cut-in")
            continue
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
