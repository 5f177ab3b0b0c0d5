"""A reservoir's drain does not sit at its lowest point.

Why
---
Water lies at the lowest point of the shell as it hangs under the vehicle, which need not be where its boss for a drain
is.

What happens
------------
What lies below the drain never comes out: it rusts the shell, takes up room and freezes. It takes a winter to become a
danger, so this is a warning.

What is not checked
-------------------
Where the drain really sits: a design says it with `placed lowest`, `end`, `side` or `top`.

Bad
---
    reservoir tank: volume 40 L, rated 10 bar, role service
    drain tap: on tank, placed end

Good
----
    reservoir tank: volume 40 L, rated 10 bar, role service
    drain tap: on tank, placed lowest
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    unknown = []
    for tank in circuit.reservoirs:
        drains = circuit.on_space(circuit.store(tank), Trait.DRAINS_WATER)
        lowest = [drain for drain in drains if drain.settings["placed"] == "lowest"]
        if lowest:
            yield met(tank.name, tank.span, f"{lowest[0].name} sits at the lowest point of {tank.name}")
        elif any(drain.settings["placed"] is None for drain in drains):
            unknown += [drain for drain in drains if drain.settings["placed"] is None][:1]
        elif drains:
            yield not_met(tank.name, drains[0].span,
                        f"{drains[0].name} is at the {drains[0].settings['placed']} of {tank.name}, not lowest",
                        "put the drain where the water lies, or hang the reservoir with its drain lowest",
                        also=((tank.span, "the reservoir"),))
    if unknown:
        yield undecided("drains", unknown[0].span,
                        f"the design does not say where {', '.join(drain.name for drain in unknown)} sits",
                        "`placed lowest` on each drain that sits at the lowest point")


RULE = Rule("drain-not-lowest", "each drain sits at the lowest point", "warning", check)
