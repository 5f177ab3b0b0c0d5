"""A service circuit has no gauge that shows its reservoir's pressure.

Why
---
A gauge on the wet reservoir, or behind a valve that shuts, shows a pressure the brakes may not have.

What happens
------------
The driver cannot see how much air this circuit has.

What is not checked
-------------------
The gauge's accuracy and whether it can be read from the seat.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    gauge dial: on dry
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    gauges = circuit.having(Trait.SHOWS_PRESSURE)
    seen = [group for group in evidence.stores
            if any(circuit.store(gauge) in evidence.zone(circuit.store(group[0])) for gauge in gauges)]
    for group in seen[:1] if "one_will_do" in limits and seen else evidence.stores:
        zone = evidence.zone(circuit.store(group[0]))
        reading = [gauge for gauge in gauges if circuit.store(gauge) in zone]
        tank, names = group[0], listed(each.name for each in group)
        if reading:
            yield met(tank.name, reading[0].span, f"{reading[0].name} shows {names}")
        else:
            yield not_met(tank.name, tank.span, f"no gauge shows the pressure of {names}",
                        f"add one: gauge {tank.name}-gauge: on {tank.name}, reads-to 12 bar",
                        also=tuple((g.span, "this gauge does not read it") for g in gauges[:1]))


RULE = Rule("no-pressure-gauge", "each service circuit has its gauge", "error", check, missing=True)
