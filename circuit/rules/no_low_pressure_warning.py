"""A service reservoir system has no low-pressure warning, or one that comes too late.

Why
---
A driver cannot feel how much air is left. The warning must see each service reservoir itself: behind a check valve it
sees what the check valve kept.

What happens
------------
This circuit can run empty without anybody being told.

What is not checked
-------------------
The lamp or buzzer, and whether the driver can see or hear it.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    low-pressure-switch warning: on dry, on-below 30 psi
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    low-pressure-switch warning: on dry, on-below 62 psi
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.limits import has, pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.storage import MODEL, cut_out, draws
from circuit.model.devices import Device
from circuit.units import ATMOSPHERE, gauge, shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    least = _least(evidence, limits)
    if not evidence.stores:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no reservoir that feeds a brake is written",
                        "the service reservoirs and what they feed")
    switches = circuit.having(Trait.WARNS_LOW)
    for group in evidence.stores:
        tank, names = group[0], listed(each.name for each in group)
        zone = evidence.zone(circuit.store(tank))
        seeing = [switch for switch in switches if circuit.store(switch) in zone]
        if not seeing:
            watched = frozenset().union(*(evidence.zone(circuit.store(t)) for t in evidence.service_reservoirs))
            hidden = [s for s in switches
                      if evidence.filling.is_charged(circuit.store(s)) and circuit.store(s) not in watched]
            yield not_met(tank.name, tank.span, f"no low-pressure warning watches {names}",
                        f"add one: low-pressure-switch {tank.name}-warning: on {tank.name}, on-below "
                        + (shown(least, "pressure") if least else "a pressure that leaves five applications"),
                        also=tuple((s.span, "this one sits behind a valve that hides the loss") for s in hidden[:1]))
            continue
        best = max(seeing, key=lambda switch: switch.settings["on-below"])
        if least is None:
            yield _by_applications(evidence, group, best, int(limits["applications"]))
            continue
        figure = Figure("warning pressure", best.settings["on-below"], least, "pressure")
        if figure.margin < -1.0:
            yield not_met(tank.name, best.span,
                        f"{best.name} warns below {shown(best.settings['on-below'], 'pressure')}, later than "
                        f"{shown(least, 'pressure')}", f"set it to {shown(least, 'pressure')} or more",
                        figure=figure, also=((tank.span, "the reservoir it watches"),))
        else:
            yield met(tank.name, best.span, f"{best.name} watches {names}", figure)


def _least(evidence: Evidence, limits: Mapping[str, float]) -> float | None:
    """The pressure by which the warning is to be on, absolute Pa: a fixed one, or a share of the cut-out where that is less.
    None where applications count instead."""
    if not has(limits, "warning"):
        return None
    least, highest = pressure(limits, "warning"), cut_out(evidence)
    if "share_of_cut_out" in limits and highest is not None:
        least = min(least, ATMOSPHERE + limits["share_of_cut_out"] * gauge(highest))
    return least


def _by_applications(evidence: Evidence, group: tuple[Device, ...], switch: Device, times: int) -> Answer:
    """Whether a warning comes while some full applications still leave one with secondary braking."""
    secondary = evidence.circuit.vehicle.declared.get("secondary-at")
    draw = next((draw for draw in draws(evidence) if draw.tanks[0] in group), None)
    tank = group[0]
    if draw is None:
        return undecided(tank.name, switch.span, f"what {tank.name} fills is not seen", "the brakes it feeds")
    given = draw.after(switch.settings["on-below"], times + 1)[-1].given
    says = (f"{switch.name} warns at {shown(switch.settings['on-below'], 'pressure')}: {times} full applications later "
            f"the next one gets {shown(given, 'pressure')} ({MODEL})")
    if secondary is None:
        return undecided(tank.name, switch.span, says,
                         "`secondary-at` on the vehicle, the chamber pressure of secondary braking")
    figure = Figure(f"application {times + 1} from the warning", given, secondary, "pressure")
    if figure.margin < 0:
        return not_met(tank.name, switch.span, f"{says}, too little for secondary braking", "set the warning higher",
                     figure=figure, also=((tank.span, "the reservoir it watches"),))
    return met(tank.name, switch.span, says, figure)


RULE = Rule("no-low-pressure-warning", "each service reservoir has its low-pressure warning", "error", check, missing=True)
