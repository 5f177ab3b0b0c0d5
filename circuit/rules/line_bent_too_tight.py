"""A plastic tube is bent more tightly than its size allows.

Why
---
Each size of tube is tested at a radius of its own, wider where no clip or former holds the bend. Tighter than that the
tube flattens, and in time it kinks or cracks at the outside of the bend.

What happens
------------
It passes less and less air, and one day it is shut or burst.

What is not checked
-------------------
Bends that the design does not mention: it gives the tightest with `bend`. Hoses: their radii are those of tests, not of
fitting. Tube of a size without a known radius.

Bad
---
    relay-valve relay
    foot-valve foot
    tube foot.2 -> relay.4: size 1/2 in, length 5 m, bend 2 in

Good
----
    relay-valve relay
    foot-valve foot
    tube foot.2 -> relay.4: size 1/2 in, length 5 m, bend 2 in, bend-held yes
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.tables import bends, trade_size
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    for line in evidence.circuit.having(Trait.MELTS):
        bend = line.settings["bend"]
        if bend is None:
            continue
        held = line.settings["bend-held"] == "yes"
        size = trade_size(line.settings["size"], line.settings["bore"])
        if size not in bends():
            yield undecided(line.name, line.span, f"no tightest radius is known for {line.title}",
                            f"the radius that the tube's maker gives for size {line.given['size'].text}")
            continue
        figure = Figure("bend radius, " + ("held by a former" if held else "not held"), bend,
                        bends()[size][0 if held else 1], "length")
        if figure.margin < -1e-6:
            yield not_met(line.name, line.span, f"{line.title} is bent to {shown(bend, 'length')}",
                        f"give it a wider bend{'' if held else ', hold the bend with a former'}, or use an elbow",
                        figure=figure)
        else:
            yield met(line.name, line.span, f"{line.title} is bent no tighter than its size allows", figure)


RULE = Rule("line-bent-too-tight", "plastic tube is bent no tighter than its size allows", "warning", check)
