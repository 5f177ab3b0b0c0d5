"""The trailer's signal comes from behind a load-sensing valve.

Why
---
A load-sensing valve takes pressure from the towing vehicle's own axles when it is empty. The trailer may be laden all
the same, so its signal is taken ahead of that valve.

What happens
------------
An empty towing vehicle brakes its laden trailer too little, and is pushed by it.

What is not checked
-------------------
Whether the pressures of both vehicles suit each other.
Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    load-sensing-valve by-load
    tube foot.2 -> by-load.4: size 3/8 in, length 5 m
    tube dry -> by-load.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube by-load.2 -> left: size 3/8 in, length 2 m
    coupling-head control-head: line control, end rear
    tube by-load.2 -> control-head: size 3/8 in, length 9 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot: deliveries 2
    tube dry -> foot.1: size 1/2 in, length 5 m
    load-sensing-valve by-load: deliveries 1
    tube foot.2 -> by-load.4: size 3/8 in, length 5 m
    tube dry -> by-load.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube by-load.2 -> left: size 3/8 in, length 2 m
    coupling-head control-head: line control, end rear
    tube foot.2 -> control-head: size 3/8 in, length 9 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    valves = circuit.having(Trait.SENSES_LOAD)
    for head in evidence.rear_heads:
        if head.settings["line"] != "control" or not valves:
            continue
        commanding = evidence.braking.commanding([circuit.store(head)])
        wrong = [valve for valve in valves if circuit.space_of(valve, "2") in commanding]
        for valve in wrong:
            yield not_met(head.name, head.span, f"{head.name} has its signal from behind {valve.name}, which lowers it "
                        "with the towing vehicle's load", f"take the trailer's signal ahead of {valve.name}",
                        also=((valve.span, valve.kind.title.lower()),))
        if not wrong:
            yield met(head.name, head.span, f"{head.name} has its signal whatever the towing vehicle carries")


RULE = Rule("trailer-signal-by-load", "the trailer's signal does not follow the towing vehicle's load", "warning", check)
