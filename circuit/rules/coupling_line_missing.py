"""A vehicle meets the other with one line only.

Why
---
Two lines join two vehicles: one that fills the trailer and holds its springs off, and one that says how hard to brake.

What happens
------------
Without a control line the trailer does not brake with the pedal; without a supply line it runs empty.

What is not checked
-------------------
An electric control line beside them, and the shape of the heads.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head yellow: line control
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided

LINES = ("supply", "control")


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    vehicle = circuit.vehicle
    heads = circuit.having(Trait.COUPLES_VEHICLES)
    ends = [end for end, due in (("front", circuit.is_towed), ("rear", circuit.tows)) if due]
    if not ends:
        yield met(vehicle.name, vehicle.span, f"{vehicle.name} is not meant to be joined to another vehicle")
    for end in ends:
        there = [head for head in heads if head.settings["end"] == end]
        if not there:
            yield undecided(vehicle.name, vehicle.span, f"no coupling head at the {end} is written",
                            f"a supply head and a control head at the {end}")
            continue
        for line in LINES:
            alike = [head for head in there if head.settings["line"] == line]
            if not alike:
                yield not_met(there[0].name, there[0].span, f"there is no {line} head at the {end}",
                            f"add coupling-head {line}-head: line {line}, end {end}")
            elif len(alike) > 1:
                yield not_met(alike[1].name, alike[1].span, f"there are {len(alike)} {line} heads at the {end}",
                            "leave one", also=((alike[0].span, "the other"),), severity="warning")
            else:
                yield met(alike[0].name, alike[0].span, f"{alike[0].name} is the {line} head at the {end}")


RULE = Rule("coupling-line-missing", "two lines join the vehicles", "error", check, missing=True)
