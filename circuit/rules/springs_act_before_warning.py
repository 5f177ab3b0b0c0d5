"""The springs begin to act before the low-pressure warning.

Why
---
The warning is there to stop the vehicle while the driver still has the brakes in hand. Springs that push before it
come as a surprise.

What happens
------------
The brakes drag or the wheels lock before anybody was told that the air is low.

What is not checked
-------------------
The tolerance of switch and spring; springs count from the pressure at which they are declared to be fully held off.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    low-pressure-switch warning: on dry, on-below 4.2 bar
    park-valve park
    tube dry -> park.1: size 12x1.5, length 2 m
    spring-chamber left: type 24/24, stroke 2.5 in, holds-off-at 5.1 bar, axle front, side left
    hose park.2 -> left.12: bore 11 mm, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    low-pressure-switch warning: on dry, on-below 5.2 bar
    park-valve park
    tube dry -> park.1: size 12x1.5, length 2 m
    spring-chamber left: type 24/24, stroke 2.5 in, holds-off-at 5.1 bar, axle front, side left
    hose park.2 -> left.12: bore 11 mm, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.storage import spring_draws
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not evidence.springs:
        return
    first = evidence.springs[0]
    tanks = [tank for draw in spring_draws(evidence) for tank in draw.tanks]
    if not tanks:
        yield undecided(first.name, first.span.outermost, "what feeds the springs is not seen",
                        "a reservoir whose air holds the springs off")
        return
    watched = frozenset().union(*(evidence.zone(circuit.store(tank)) for tank in tanks))
    switches = [s for s in circuit.having(Trait.WARNS_LOW) if circuit.store(s) in watched]
    names = listed(tank.name for tank in tanks)
    if not switches:
        holds = "holds" if len(tanks) == 1 else "hold"
        yield not_met(tanks[0].name, tanks[0].span, f"no warning watches {names}, which {holds} the springs off",
                    f"add low-pressure-switch {tanks[0].name}-warning: on {tanks[0].name}")
        return
    switch = max(switches, key=lambda s: s.settings["on-below"])
    spring = max(evidence.springs, key=lambda s: s.settings["holds-off-at"])
    figure = Figure(f"{switch.name} against the springs", switch.settings["on-below"], spring.settings["holds-off-at"],
                    "pressure")
    says = (f"{switch.name} warns at {shown(figure.found, 'pressure')} and the springs act from "
            f"{shown(figure.limit, 'pressure')}")
    if figure.margin >= -1.0:
        yield met(switch.name, switch.span, says, figure)
    elif spring.given["holds-off-at"].assumed:
        warns = f"{switch.name} warns at {shown(figure.found, 'pressure')}"
        yield undecided(switch.name, switch.span, f"{warns}, below where "
                        "a typical spring begins to act", "`holds-off-at` on the spring chambers")
    else:
        yield not_met(switch.name, switch.span, says, "set the warning above the pressure at which the springs act",
                    figure=figure, also=((spring.span.outermost, "a spring that acts first"),))


RULE = Rule("springs-act-before-warning", "the warning comes before the springs act", "error", check, missing=True)
