"""Too few wheels of the parked vehicle are held when its air is gone.

Why
---
Air leaks away. A parking brake has to be held by a spring or a mechanical lock, on as many wheels as the rule asks.

What happens
------------
The vehicle rolls off some hours after it was parked.

What is not checked
-------------------
The force of springs and locks and the grade they hold. A parking brake worked by a cable or a crank is not drawn: where
no brake has a spring or a lock, the drawing decides nothing.

Bad
---
    axle front: position 1
    axle rear: position 2
    axle tag: position 3
    chamber front-left: type 20, stroke 2.25 in, axle front, side left
    chamber front-right: type 20, stroke 2.25 in, axle front, side right
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    spring-chamber rear-right: type 30/30, stroke 2.5 in, axle rear, side right
    chamber tag-left: type 20, stroke 2.25 in, axle tag, side left
    chamber tag-right: type 20, stroke 2.25 in, axle tag, side right

Good
----
    axle front: position 1
    axle rear: position 2
    chamber front-left: type 20, stroke 2.25 in, axle front, side left
    chamber front-right: type 20, stroke 2.25 in, axle front, side right
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    spring-chamber rear-right: type 30/30, stroke 2.5 in, axle rear, side right
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    vehicle = evidence.circuit.vehicle
    cables = [axle for axle in evidence.circuit.axles if axle.by_cable]
    if not evidence.chambers and not evidence.springs and not cables:
        yield undecided(vehicle.name, vehicle.span, "no brake is written", "the brakes, each with its axle and side")
        return
    holding = [c for c in {c.name: c for c in (*evidence.chambers, *evidence.springs)}.values()
               if c.has(Trait.SPRING_ACTUATOR) or c.has(Trait.LOCKS)]
    if not holding and not cables:
        yield undecided(vehicle.name, vehicle.span, "no brake that is drawn has a spring or a lock",
                        "on its axle, that a lever and a cable park it: axle rear: position 2, parks cable")
        return
    wheels = {(axle.name, side) for axle in evidence.circuit.axles for side in ("left", "right")}
    sides = {"both": ("left", "right")}
    held = {(axle.name, side) for axle in cables for side in ("left", "right")} | {(c.settings["axle"], side) for c in holding
            for side in sides.get(c.settings["side"], (c.settings["side"],))}
    says = f"{len(held)} of {len(wheels | held)} wheels are held without air, on {listed(sorted({a for a, _ in held}))}"
    says += f"; {listed(axle.name for axle in cables)} by a lever and a cable, as declared" if cables else ""
    share = limits.get("wheel_share", 0.0)
    figure = Figure("share of wheels held", len(held) / len(wheels | held), share, "ratio") if share else None
    at = holding[0].span.outermost if holding else cables[0].span.outermost
    if figure is not None and figure.margin < -1e-6:
        yield not_met(vehicle.name, at, says, "springs or locks on more wheels", figure=figure)
    else:
        yield met(vehicle.name, at, says, figure)


RULE = Rule("too-few-wheels-parked", "parking is held without air", "error", check, missing=True)
