"""A towed vehicle is not braked when its supply line is lost.

Why
---
A trailer that breaks away has only itself. Its springs come on because the supply line no longer holds them off, or an
emergency valve puts the reservoir's air on its service brakes.

What happens
------------
It rolls on without brakes.

What is not checked
-------------------
How fast it brakes, and for how long air alone holds it: springs or chocks are for that.
Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head blue: line control
    check-valve guard
    reservoir tank: volume 40 L, rated 10 bar, role service
    tube red -> guard.1: size 1/2 in, length 9 m
    tube guard.2 -> tank: size 1/2 in, length 1 m
    relay-valve relay: deliveries 1
    tube tank -> relay.1: size 1/2 in, length 1 m
    tube blue -> relay.4: size 3/8 in, length 9 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    hose relay.2 -> left: bore 3/8 in, length 1 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head blue: line control
    relay-emergency-valve emergency: deliveries 1
    reservoir tank: volume 40 L, rated 10 bar, role service
    tube red -> emergency.1: size 1/2 in, length 9 m
    tube blue -> emergency.4: size 3/8 in, length 9 m
    tube emergency.reservoir -> tank: size 1/2 in, length 1 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    hose emergency.2 -> left: bore 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.model.devices import Axle, Device

MANY_AXLES = 3


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    braked: list[Axle] = []
    free: list[Axle] = []
    for axle in circuit.axles:
        chambers = [c for c in evidence.chambers if c.settings["axle"] == axle.name]
        if chambers:
            (braked if all(_brakes(evidence, chamber) for chamber in chambers) else free).append(axle)
    if not braked and not free:
        return
    if "wheel_share" in limits:
        yield _by_share(evidence, braked, limits["wheel_share"])
        return
    if free and (not braked or len(braked) + len(free) < MANY_AXLES):
        yield not_met(circuit.vehicle.name, free[0].span,
                    f"axle{'s' if len(free) > 1 else ''} {listed(a.name for a in free)} "
                    f"{'are' if len(free) > 1 else 'is'} not braked when the supply line is lost",
                    "hold springs off from the supply line, or fill the reservoir through an emergency valve")
    else:
        held = "springs" if evidence.springs else "air alone: it must be chocked"
        yield met(circuit.vehicle.name, braked[0].span,
                  f"axle{'s' if len(braked) > 1 else ''} {listed(a.name for a in braked)} brake by themselves when the "
                  f"supply line is lost, by {held}")


def _by_share(evidence: Evidence, braked: list[Axle], share: float) -> Answer:
    """A share of the wheels is asked: those of the axles that brake by themselves among all."""
    circuit = evidence.circuit
    figure = Figure("share of wheels that brake by themselves", len(braked) / len(circuit.axles), share, "ratio")
    says = f"{len(braked)} of {len(circuit.axles)} axles brake by themselves when the supply line is lost"
    if figure.margin < -1e-6:
        return not_met(circuit.vehicle.name, circuit.vehicle.span, says,
                       "hold springs off from the supply line, or fill the reservoir through an emergency valve", figure=figure)
    return met(circuit.vehicle.name, braked[0].span, says, figure)


def _brakes(evidence: Evidence, chamber: Device) -> bool:
    """Whether a wheel is braked on an uncoupled trailer: by air, or by a spring, which has rules of its own."""
    return chamber.has(Trait.SPRING_ACTUATOR) or evidence.parked.is_charged(evidence.circuit.service_space(chamber))


RULE = Rule("trailer-does-not-brake-itself", "a towed vehicle brakes itself when its supply line is lost", "error", check)
