"""Plastic brake tube is of no size that the standard for it lists.

Why
---
The tests of tubing, and the fittings that hold it, are made for listed outside diameters and walls. A size between them is
held by nothing that was tested with it.

What happens
------------
A fitting lets go of a tube that is too thin for it, or crushes one that is too thick.

What is not checked
-------------------
Bore and burst of the tube itself, its fittings, and whether the maker's mark is on it.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    reservoir dry: volume 46 L, rated 10 bar, role service
    tube wet -> dry: size 15x1.5, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    reservoir dry: volume 46 L, rated 10 bar, role service
    tube wet -> dry: size 16x2, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.tables import listed_tubes, trade_size


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    listed = listed_tubes()
    known = []
    for line in evidence.circuit.having(Trait.MELTS):
        if trade_size(line.settings["size"], line.settings["bore"]) in listed:
            known.append(line)
            continue
        yield not_met(line.name, line.given["size"].span or line.span,
                      f"{line.title} is of size {line.given['size'].text}, which the tables do not list",
                      f"take a listed size: {', '.join(listed)}")
    if known:
        sizes = ", ".join(dict.fromkeys(line.given["size"].text for line in known))
        yield met("plastic tube", known[0].span, f"plastic tube of {sizes} is of listed sizes")


RULE = Rule("tube-size-not-listed", "plastic tube is of a listed size", "error", check)
