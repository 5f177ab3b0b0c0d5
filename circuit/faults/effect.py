"""What a fault takes from a vehicle and what it leaves, in figures: what `whole` works out.

Shares are of what the same wheel has without the fault. Pressures are absolute Pa.
"""

from typing import NamedTuple

from circuit.faults.single import Fault
from circuit.units import ATMOSPHERE

LESS = 0.95
"""Share of the normal below which something counts as lessened; our choice, above what the settling leaves open."""
GONE = 0.05
BRAKES = 0.25
"""Share of its normal push-rod force with which a wheel still counts as braked; our choice."""
BRAKING = ("supply", "service", "parking")
"""Roles of the reservoirs whose air brakes, holds springs off, or is on its way to do so."""


class Axle(NamedTuple):
    """An axle's brakes with a fault.

    service: share of the normal push-rod force with the pedal down; wheels: share of its chambers that have enough of
    it to brake. pedal: share of its springs that come on with the pedal. springs: share on by themselves
    while driving. drags: share of its chambers that get air before the pedal is touched. stays: share of them that keep
    air when it is let up. parks: share of its springs that
    parking lets on. sprung, served: whether it has springs and service brakes. push: N on its rods without the fault.
    lifts: share of its springs that come off again when the park control is released, with what the longest braking has
    left. pull: by how much of its normal force its left wheels brake more than its right ones. follows: whether a pedal
    pressed in part, played, brings its springs on in part, and off again with it.
    """

    name: str
    service: float
    pedal: float
    springs: float
    stays: float
    parks: float
    sprung: bool
    served: bool = True
    wheels: float = 1.0
    push: float = 0.0
    lifts: float = 1.0
    drags: float = 0.0
    follows: bool = False
    pull: float = 0.0

    @property
    def brakes(self) -> float:
        """Share of a brake that the pedal, or the springs by themselves, give."""
        return min(1.0, self.service + self.pedal + self.springs)


class Tank(NamedTuple):
    """A reservoir: what it was filled to, what it keeps while driving and after braking with the fault; refilled: whether the
    compressor or the towing vehicle still reaches it. sound: what it has without the fault when that is looked at."""

    name: str
    role: str
    full: float
    driving: float
    braking: float
    refilled: bool
    sound: float

    @property
    def kept(self) -> float:
        return min(self.driving, self.braking)

    @property
    def is_lost(self) -> bool:
        return self.sound > ATMOSPHERE + 0.5e5 and self.kept < ATMOSPHERE + 0.5e5

    @property
    def is_low(self) -> bool:
        return self.kept < self.sound - 0.3e5


class Head(NamedTuple):
    """A coupling head at the rear: pressure while driving, braking and parked, and what it was without the fault; refilled:
    whether what is drawn from a supply line comes again."""

    name: str
    line: str
    driving: float
    braking: float
    full_driving: float
    full_braking: float
    parked: float = ATMOSPHERE
    full_parked: float = ATMOSPHERE
    refilled: bool = True


class Effect(NamedTuple):
    """What a fault does.

    warned: low-pressure switches that come on. unwarned: service reservoirs that fall below their switch's pressure, or
    have none, without one coming on. users: parts without the air they work with. unguarded: a loss, and the reservoirs
    that it now takes along, that nothing shows until then. rising: what lets out the air of a compressor that no longer
    rests, `nothing` where no safety valve can; empty where it rests. dead: an
    instrument that shows nothing any more. seeps: reservoirs that a narrow leak takes air from while the pedal is down.
    starved: users that hold air still, and get none any more. fills: absolute Pa that the vehicle now fills to; None where
    as ever.
    """

    fault: Fault
    axles: tuple[Axle, ...]
    tanks: tuple[Tank, ...]
    heads: tuple[Head, ...]
    warned: tuple[str, ...]
    unwarned: tuple[str, ...]
    users: tuple[str, ...]
    unguarded: tuple[tuple[str, tuple[str, ...]], ...]
    rising: str = ""
    dead: str = ""
    seeps: tuple[str, ...] = ()
    starved: tuple[str, ...] = ()
    fills: float | None = None

    @property
    def unbraked(self) -> float:
        """Share of the vehicle's wheels that neither the pedal nor a spring brakes any more."""
        served = [axle for axle in self.axles if axle.served]
        lost = [max(0.0, 1 - axle.wheels - axle.pedal - axle.springs) for axle in served]
        return sum(lost) / len(served) if served else 0.0

    @property
    def braking(self) -> float:
        """Share of the vehicle's axles that still brake, each by its own share."""
        served = [axle for axle in self.axles if axle.served]
        return sum(axle.brakes for axle in served) / len(served) if served else 1.0

    @property
    def force(self) -> float:
        """Share of the normal push-rod force of all service brakes that the pedal still gives."""
        normal = sum(axle.push for axle in self.axles)
        return sum(axle.service * axle.push for axle in self.axles) / normal if normal else 1.0

    @property
    def signal(self) -> float:
        """Pa by which the pedal still changes the pressure at a head to a towed vehicle, at that where it does most."""
        return max((abs(head.braking - head.driving) for head in self.heads), default=0.0)


def in_line(effect: Effect, line: str, braking: bool = False) -> float:
    """Absolute Pa that a line to what is towed has at most, driving or with the pedal down."""
    return max((head.braking if braking else head.driving for head in effect.heads if head.line == line), default=ATMOSPHERE)
