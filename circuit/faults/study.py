"""The study of single faults: each one of a design, what it takes and what it leaves, the worst first.

What the graph proves is worked out here, at rest, with the engine off and all the time there is; `times` says how
long it takes. Faults that hold the same ways open or shut are worked out once.
"""

from collections.abc import Iterable, Mapping
from enum import IntEnum
from functools import reduce
from typing import NamedTuple

from circuit.faults.effect import BRAKING, GONE, LESS, Effect
from circuit.faults.left import Left
from circuit.faults.single import LEAK, Fault, both, single
from circuit.faults.whole import Whole
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.studies.hands import fed_heads
from circuit.studies.once import once
from circuit.units import ATMOSPHERE


class Rank(IntEnum):
    """How bad what a fault does at once is; the first is the worst."""

    NO_BRAKE = 0
    """The pedal brakes no axle any more; springs may."""
    LESS_BRAKE = 1
    """Some wheels do not brake any more, others do."""
    NO_PARKING = 2
    """Some springs do not come on when the vehicle is parked."""
    STUCK = 3
    """Brakes come on by themselves or do not let go: it stops, or cannot be moved."""
    TOWED = 4
    """The vehicle behind gets less, or something it should not."""
    WEAKER = 5
    """All wheels brake, some with less pressure than before."""
    AIR = 6
    """A reservoir is lost, low or no longer filled; all brakes still work from what the others hold."""
    UNGUARDED = 7
    """Nothing yet, but what a further loss takes is no longer kept apart."""
    RISING = 8
    """The compressor does not rest, so that the safety valve has to hold the pressure, or it fills to another pressure."""
    BLIND = 9
    """An instrument is dead."""
    USERS = 10
    """Only what is not a brake."""
    IN_TIME = 11
    """Nothing in a stop, but something where a leak has all the time there is. Of an effect by itself it is never said."""
    NOTHING = 12
    """Nothing that pressures at rest can show."""


class Study(NamedTuple):
    """The faults of one design. effects: the worst first. worked_out: how many were not the same as another."""

    circuit: Circuit
    whole: Whole
    effects: tuple[Effect, ...]
    worked_out: int

    def of(self, words: str) -> tuple[Effect, ...]:
        """The faults whose name has all of some words; the one of exactly that name alone, where there is one."""
        wanted = words.lower().replace(":", " ").split()
        exact = [e for e in self.effects if e.fault.name.lower().replace(":", " ").split() == wanted]
        return tuple(exact) or tuple(
            e for e in self.effects if all(word in e.fault.name.lower() for word in wanted))

    def together(self, words: str) -> tuple[Effect, ...]:
        """As `of`; of names joined by ` + ` each of which is one fault, all of them at once."""
        named = [self.of(each) for each in words.split(" + ")]
        if len(named) == 1 or any(len(found) != 1 for found in named):
            return next((found for found in named if len(found) != 1), named[0])
        return (self.whole.effect(reduce(both, (effect.fault for (effect,) in named))),)

    def left(self, fault: Fault) -> Left:
        """The air at rest with a fault, in each situation."""
        return self.whole.left(fault)

    def supply_kept(self, effect: Effect) -> float:
        """The least absolute Pa that a trailer's fed supply heads keep with a fault; full where there is none."""
        left = self.left(effect.fault)
        spaces = [self.circuit.store(head) for head in fed_heads(self.circuit, "supply")]
        return min((left.floor(space, situation) for space in spaces for situation in ("driving", "braking")),
                   default=full_pressure(self.circuit))

    def levels(self, fault: Fault) -> Mapping[int, float]:
        """Absolute Pa of every space with a fault, braking."""
        return self.left(fault).at("braking").level


ACTS = ("shuts", "opens", "stops", "share", "idle", "jams")
"""What a failure does, but for what it holds and lets drift."""


def study(circuit: Circuit, faults: Iterable[Fault] | None = None, demand: float | None = None) -> Study:
    """What every single fault of a design does, or every one of `faults`.

    demand: absolute Pa that is asked of the pedal while braking; None is all it gives.
    """
    return _every(circuit, demand) if faults is None else _of(Whole(circuit, demand), faults)


@once
def _every(circuit: Circuit, demand: float | None) -> Study:
    whole = Whole(circuit, demand)
    return _of(whole, single(whole.circuit))


def _of(whole: Whole, faults: Iterable[Fault]) -> Study:
    circuit = whole.circuit
    known: dict[object, Effect] = {}
    effects = []
    for fault in faults:
        same = likeness(whole, fault)
        if same not in known:
            known[same] = whole.effect(fault)
        effects.append(known[same]._replace(fault=fault))
    effects.sort(key=badness)
    return Study(circuit, whole, tuple(effects), len(known))


def likeness(whole: Whole, fault: Fault) -> object:
    """Equal for faults that do the same to the air at rest: leaks and bursts of one zone, and nothing at all."""
    if fault.exchanged or fault.holds or len(fault.parts) != 1:
        return fault
    circuit = whole.circuit
    name, failure_name = fault.parts[0]
    device = circuit.by_name[name]
    failure = next(f for f in device.kind.failures if f.name == failure_name)
    if not failure.acts:
        return "nothing"
    if failure.shuts or failure.stops or failure.holds or failure.idle or failure.jams or failure.scales:
        return name, *(getattr(failure, field) for field in ACTS), tuple(failure.holds.items()), tuple(failure.scales.items())
    zones = []
    for start, end in failure.opens:
        ends = circuit.space_of(device, start), circuit.space_of(device, end)
        if max(ends) < 0 or min(ends) >= 0:
            return fault
        zones.append(frozenset(whole.zone(max(ends))))
    always = all(whole.normal.at("driving").is_charged(next(iter(zone))) for zone in zones)
    return frozenset(zones), always or failure.share <= LEAK


def rank(effect: Effect) -> Rank:
    """How bad a fault is at once."""
    served = [axle for axle in effect.axles if axle.served]
    if has_no_service_brake(effect):
        return Rank.NO_BRAKE
    if any(axle.wheels < 1 for axle in served):
        return Rank.LESS_BRAKE
    if any(axle.sprung and axle.parks < LESS and axle.stays <= GONE for axle in effect.axles):
        return Rank.NO_PARKING
    if any(axle.springs > GONE or axle.stays > GONE or axle.lifts < LESS for axle in effect.axles):
        return Rank.STUCK
    if any(differs(h.driving, h.full_driving) or differs(h.braking, h.full_braking) or differs(h.parked, h.full_parked)
           or not h.refilled for h in effect.heads):
        return Rank.TOWED
    if any(axle.service < LESS for axle in served):
        return Rank.WEAKER
    if effect.seeps or any(tank.is_lost or tank.is_low or not tank.refilled for tank in effect.tanks
                           if tank.role in BRAKING):
        return Rank.AIR
    if effect.unguarded:
        return Rank.UNGUARDED
    if effect.rising or effect.fills is not None:
        return Rank.RISING
    if effect.dead:
        return Rank.BLIND
    if effect.users or effect.starved or any(tank.is_lost or tank.is_low or not tank.refilled for tank in effect.tanks
                           if tank.role == "auxiliary"):
        return Rank.USERS
    return Rank.NOTHING


def has_no_service_brake(effect: Effect) -> bool:
    """Whether the pedal gives no axle any force worth the name."""
    served = [axle.service for axle in effect.axles if axle.served]
    return bool(served) and max(served) < GONE


def worst_in(effect: Effect) -> str:
    """The situation in which a fault does its worst: parked, driving, braking or after it; empty where in none."""
    at = rank(effect)
    if at in (Rank.NO_BRAKE, Rank.LESS_BRAKE, Rank.WEAKER):
        return "driving" if any(axle.springs > GONE or axle.drags > GONE for axle in effect.axles) else "braking"
    if at is Rank.NO_PARKING:
        return "parked"
    if at is Rank.STUCK:
        return "driving" if any(axle.springs > GONE or axle.drags > GONE for axle in effect.axles) else "after braking"
    if at is Rank.TOWED:
        if any(differs(head.driving, head.full_driving) or not head.refilled for head in effect.heads):
            return "driving"
        return "braking" if any(differs(head.braking, head.full_braking) for head in effect.heads) else "parked"
    if at is Rank.AIR:
        return "braking" if effect.seeps or all(
            tank.refilled and tank.driving > tank.sound - 0.3e5 for tank in effect.tanks) else "driving"
    return ""


def differs(pressure: float, normal: float) -> bool:
    """Whether a line has clearly less or more than it should."""
    return abs(pressure - normal) > max(0.5e5, 0.1 * (normal - ATMOSPHERE))


def badness(effect: Effect) -> tuple[float, ...]:
    """To sort by: the rank, then the wheels left without any brake, what is lost without a warning, what else is."""
    gone = sum(tank.is_lost for tank in effect.tanks)
    stuck = sum(axle.springs + axle.stays for axle in effect.axles)
    parks = sum(1 - axle.parks for axle in effect.axles)
    return (rank(effect), -round(effect.unbraked, 3), round(effect.braking, 3), -len(effect.unwarned),
            -round(parks, 3), -round(stuck, 3), -gone)
