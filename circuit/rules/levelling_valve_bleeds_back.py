"""A levelling valve lets the bags' air go back when its feed is lost.

Why
---
A check in its inlet keeps the air in the bags while the vehicle stands, or when the feed line bursts.

What happens
------------
The vehicle sinks on its stops, overnight or at once, and a load-sensing valve reads an empty vehicle.

What is not checked
-------------------
Leaks of the check and of the bags.

Bad
---
    reservoir aux: volume 20 L, rated 10 bar, role auxiliary
    levelling-valve level: inlet-check no, deliveries 1
    tube aux -> level.1: size 1/4 in, length 2 m
    air-spring bag: volume 12 L, axle front, side left
    tube level.2 -> bag: size 1/4 in, length 1 m

Good
----
    reservoir aux: volume 20 L, rated 10 bar, role auxiliary
    levelling-valve level: inlet-check yes, deliveries 1
    tube aux -> level.1: size 1/4 in, length 2 m
    air-spring bag: volume 12 L, axle front, side left
    tube level.2 -> bag: size 1/4 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for valve in circuit.having(Trait.LEVELS):
        entry = circuit.space_of(valve, "1")
        # Lines and fittings that are always open lead to it; a check anywhere on that way keeps the air as well.
        ahead = [way.device for space in evidence.zone(entry) for way in circuit.ways_at[space]
                 if way.device.has(Trait.ONE_WAY) and way.end in evidence.zone(entry)]
        if valve.settings["inlet-check"] == "no" and not ahead:
            yield not_met(valve.name, valve.given["inlet-check"].span or valve.span,
                        f"the air behind {valve.name} goes back when its feed is lost",
                        "fit a check in its inlet: inlet-check yes")
        else:
            yield met(valve.name, valve.span, f"{valve.name} keeps the air behind it")


RULE = Rule("levelling-valve-bleeds-back", "levelling valves keep the bags' air", "warning", check)
