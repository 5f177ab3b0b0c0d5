"""What protects the towing vehicle acts at too low or too high a pressure.

Why
---
The red knob and the tractor protection valve must act by themselves while the towing vehicle can still stop, and not
so early that the trailer locks on an ordinary low.

What happens
------------
Set too low, a lost trailer takes the towing vehicle's air below what its own brakes need; set too high, the trailer
brakes itself while there is still air.

What is not checked
-------------------
The valves' tolerance, and the order in which they act on the road.
Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    trailer-supply-valve red: pops-out-at 10 psi
    tube dry -> red.1: size 1/2 in, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 3/8 in, length 4 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    trailer-supply-valve red: pops-out-at 40 psi
    tube dry -> red.1: size 1/2 in, length 5 m
    coupling-head supply-head: line supply, end rear
    coupling-hose red.2 -> supply-head: bore 3/8 in, length 4 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import as_written, pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    least, most = pressure(limits, "least"), pressure(limits, "most")
    leading = evidence.braking.commanding(circuit.store(head) for head in evidence.rear_heads)
    for valve in circuit.having(Trait.PROTECTS_TOWING):
        names = dict.fromkeys(passage.keeps for passage in valve.kind.passages
                              if passage.keeps and circuit.space_of(valve, passage.end) in leading)
        for name in names:
            setting, given = valve.settings[name], valve.given[name]
            low = Figure(f"{name} of {valve.name}", setting, least, "pressure")
            high = Figure(f"{name} of {valve.name}", setting, most, "pressure", at_least=False)
            figure = min(low, high, key=lambda each: each.margin)
            if figure.margin < -1.0:
                yield not_met(valve.name, given.span or valve.span,
                            f"{valve.name} acts at {shown(setting, 'pressure')}, "
                            f"{'below' if figure is low else 'above'} {shown(figure.limit, 'pressure')}",
                            f"set {name} between {as_written(limits, 'least')} and {as_written(limits, 'most')}", figure=figure,
                            also=((valve.span, valve.kind.title.lower()),))
            else:
                yield met(valve.name, valve.span, f"{valve.name} acts at {shown(setting, 'pressure')}", figure)


RULE = Rule("towing-protection-set-wrong", "what protects the towing vehicle acts in time", "error", check)
