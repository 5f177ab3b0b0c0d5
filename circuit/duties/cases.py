"""The states in which duties are held: how hands and feet stand, and what is lost. Each is settled once and kept."""

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.model.air import Air, Hands, full_pressure
from circuit.model.settling import after, charged
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.units import ATMOSPHERE, shown

HALF = 0.5
"""Of the pedal's stroke."""
PLAY = 0.3e5
"""Pa by which two pressures may differ and still count as one; our choice, above what valves crack and lap by."""
SHARE = 0.6
"""Of the highest pressure with the pedal down that a chamber comes to at least, the vehicle laden. Common practice, no source:
the valves on the way take some tenths of a bar; a brake that has less is held back by something."""
EMPTY = 0.3e5
"""Pa above the atmosphere under which a brake is let go."""


class Case(NamedTuple):
    """A state in words, and the circuit at rest in it."""

    says: str
    air: Air


class Lost(NamedTuple):
    """The circuit when a store of air is lost. name: of its reservoirs; emptied: every space that goes with it."""

    name: str
    emptied: frozenset[int]
    driving: Air
    braking: Air
    parked: Air


class Cases:
    """A circuit in every state that duties ask for."""

    def __init__(self, evidence: Evidence) -> None:
        self.evidence = evidence
        self.circuit: Circuit = evidence.circuit

    @cached_property
    def driving(self) -> Case:
        return Case("driving", self.evidence.driving)

    @cached_property
    def braking(self) -> Case:
        return Case("with the pedal down", self.evidence.braking)

    @cached_property
    def released(self) -> Case:
        return Case("after the pedal is let up", self.evidence.released)

    @cached_property
    def parked(self) -> Case:
        return Case("parked", self.evidence.parked)

    # --- pressures --------------------------------------------------------------------------------------------------

    def gauge(self, air: Air, space: int) -> float:
        """Pa above the atmosphere."""
        return 0.0 if space == SPACE_OUTSIDE else air.level.get(space, ATMOSPHERE) - ATMOSPHERE

    def says(self, air: Air, space: int) -> str:
        """A pressure for people."""
        return shown(ATMOSPHERE + self.gauge(air, space), "pressure")

    @cached_property
    def full(self) -> float:
        """Pa above the atmosphere of the highest pressure while the pedal is down."""
        return max(self.braking.air.level.values(), default=ATMOSPHERE) - ATMOSPHERE

    # --- hands ------------------------------------------------------------------------------------------------------

    @cached_property
    def half(self) -> Case:
        """The pedal half down; a towed vehicle's control line at half its pressure."""
        demand = ATMOSPHERE + HALF * (full_pressure(self.circuit) - ATMOSPHERE)
        return Case("with the pedal half down", self._charged("braking", self._pressed(HALF), demand))

    @cached_property
    def parked_pedal(self) -> Case:
        """Parked, and the pedal down."""
        return Case("parked, with the pedal down", self._charged("parked", self._pressed(1.0)))

    @cached_property
    def by_hand(self) -> Case | None:
        """The trailer's brakes applied with the hand alone; None where there is no such control."""
        levers = self.circuit.having(Trait.TRAILER_HAND_CONTROL)
        if not levers:
            return None
        return Case("with the trailer's hand valve on", self._charged("driving", _all(levers, 1.0)))

    @cached_property
    def resting(self) -> Case:
        """The governor at its cut-out."""
        return Case("at cut-out", self._charged("driving", {
            device.name: {"unloading": 1.0} for device in self.circuit.having(Trait.GOVERNS)}))

    @cached_property
    def worked(self) -> tuple[Case, ...]:
        """Every part that is neither foot, parking control, head nor governor put over to one side, and to the other."""
        left = [device for device in self.circuit.devices if device.kind.rest and not (
            _CONTROLS & device.kind.traits)]
        return tuple(Case(says, self._charged(situation, _all(left, value))) for says, value, situation in (
            ("with each valve switched on", 1.0, "driving"), ("with each valve set back", -1.0, "driving"),
            ("with each valve switched on and the pedal down", 1.0, "braking"))) if left else ()

    @cached_property
    def handled(self) -> tuple[Case, ...]:
        """Every state of hands and feet, nothing lost."""
        some = (self.driving, self.half, self.braking, self.parked, self.parked_pedal, self.resting)
        return (*some, self.by_hand) if self.by_hand else some

    @cached_property
    def all_states(self) -> tuple[Case, ...]:
        """Every state of hands, feet and switched valves, and each store lost."""
        lost = [Case(f"with {one.name} lost", air) for one in self.losses for air in (one.driving, one.braking)]
        return (*self.handled, *self.worked, *lost)

    def range_of(self, space: int, cases: Iterable[Case] | None = None) -> tuple[float, float]:
        """The least and the highest Pa above the atmosphere that a space comes to."""
        found = [self.gauge(case.air, space) for case in cases or self.all_states]
        return min(found), max(found)

    # --- losses -----------------------------------------------------------------------------------------------------

    @cached_property
    def losses(self) -> tuple[Lost, ...]:
        """Each store that the brakes are served from, or are meant to be, lost."""
        groups = {self.evidence.zone(self.circuit.store(group[0])): group for group, _ in self.evidence.losses}
        for tank in self.circuit.reservoirs_for("service"):
            zone = self.evidence.zone(self.circuit.store(tank))
            groups.setdefault(zone, tuple(one for one in self.circuit.reservoirs if self.circuit.store(one) in zone))
        return tuple(self._lost(" and ".join(tank.name for tank in group), self.evidence.emptied(self.circuit.store(group[0])))
                     for group in groups.values())

    @cached_property
    def left(self) -> tuple[tuple[Lost, Air, Air], ...]:
        """For each store what is left when it is lost while driving, and what is left when the vehicle is parked then."""
        return tuple((one, after(self.driving.air, one.driving), after(one.driving, one.parked)) for one in self.losses)

    def _lost(self, name: str, emptied: frozenset[int]) -> Lost:
        def air(situation: str) -> Air:
            return charged(self.circuit, situation, emptied, filling=self.evidence.filling)

        return Lost(name, emptied, air("driving"), air("braking"), air("parked"))

    # --- how ------------------------------------------------------------------------------------------------------------

    def _charged(self, situation: str, hands: Hands, demand: float | None = None) -> Air:
        return charged(self.circuit, situation, filling=self.evidence.filling, demand=demand, hands=hands)

    def _pressed(self, share: float) -> dict[str, dict[str, float]]:
        """What the foot works, at a share of its stroke."""
        return {device.name: {name: share * value for name, value in device.kind.when["braking"].items()}
                for device in self.circuit.devices
                if "braking" in device.kind.when and not device.has(Trait.COUPLES_VEHICLES)}


_CONTROLS = frozenset({Trait.SERVICE_CONTROL, Trait.PARK_CONTROL, Trait.COUPLES_VEHICLES, Trait.GOVERNS, Trait.DRAINS_WATER})


def _all(devices: Iterable[Device], value: float) -> dict[str, dict[str, float]]:
    return {device.name: dict(_own(device, value)) for device in devices}


def _own(device: Device, value: float) -> Iterator[tuple[str, float]]:
    """The variables of a part that no latch snaps over by itself."""
    latched = {latch.variable for latch in device.kind.latches}
    return ((name, value) for name in device.kind.rest if name not in latched)
