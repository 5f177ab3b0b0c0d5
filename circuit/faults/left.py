"""The air at rest after a fault: the same static engine, asked of a circuit in which some ways are held open or shut.

Worked out with the engine off and all the time there is: a leak empties what a burst empties. What a protection valve
keeps is its closing pressure. Pressures are absolute Pa.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

from circuit.declaring.kind import SITUATIONS
from circuit.faults.failing import depends_on_situation, failing, with_devices, with_held
from circuit.faults.floors import Snapped, falling, pressures_at, shared_out, snapped
from circuit.faults.single import Fault
from circuit.model.air import Air, leaves
from circuit.model.settling import after, charged, outside_sources, settle
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.model.loss import emptied_by
from circuit.units import ATMOSPHERE


class Loss(NamedTuple):
    """A situation after a fault.

    circuit: with every latch held over that the loss has snapped; held says which. emptied: spaces that end empty.
    floors: what others fall to. air: at rest then. slow: holes too narrow to count in an application. purged: whether air
    goes only by a narrow way that a sound part has too, which a compressor outdoes.
    """

    circuit: Circuit
    emptied: frozenset[int]
    floors: Mapping[int, float]
    air: Air
    slow: frozenset[int] = frozenset()
    held: "tuple[Snapped, ...]" = ()
    purged: bool = False


class Left:
    """What is left of a charged vehicle after a fault that comes while driving, each answer worked out once.

    full: the air of the whole circuit as it fills, which the reservoirs hold when the fault comes. normal: the same
    vehicle without a fault; None makes this one it. demand: absolute Pa that a towing vehicle outside asks for.
    """

    def __init__(self, circuit: Circuit, fault: Fault | None, full: Air, normal: "Left | None" = None,
                 demand: float | None = None) -> None:
        self.whole, self.fault, self.full, self.normal, self.demand = circuit, fault, full, normal, demand
        self._losses: dict[str, Loss] = {}
        self.bleeding: dict[str, frozenset[int]] = {}
        self._same: tuple[Circuit, frozenset[int], frozenset[int]] | None = None

    def loss(self, situation: str) -> Loss:
        """A situation after the fault; braking and parking come after driving with it."""
        if situation not in self._losses:
            self._losses[situation] = self._worked_out(situation)
        return self._losses[situation]

    def _worked_out(self, situation: str) -> Loss:
        if self.fault is None or self.normal is None:
            return Loss(self.whole, frozenset(), {}, self._charged(self.whole, situation, frozenset(), {}))
        circuit, holes, slow = self._failing(situation)
        if situation == "driving":
            return self._with_loss(situation, circuit, holes, slow, None)
        driving = self.loss("driving")
        circuit = with_held(circuit, driving.held)
        if situation == "parked":
            return self._with_loss(situation, circuit, holes, slow, driving)
        late = frozenset(hole for hole in slow if not self.normal.at("driving").is_charged(hole))
        found = self._with_loss(situation, circuit, holes, slow - late, driving)
        return found._replace(slow=frozenset(hole for hole in late if found.air.is_charged(hole)))

    def _failing(self, situation: str) -> tuple[Circuit, frozenset[int], frozenset[int]]:
        """`failing` in a situation, without the compressors that the fault rests."""
        assert self.fault is not None and self.normal is not None
        if self._same is None:
            circuit, holes, slow = failing(self.whole, self.fault, self.normal.at(situation))
            rested = _rested(circuit, self._charged(circuit, "driving", frozenset(), {}))
            if depends_on_situation(self.whole, self.fault):
                return rested, holes, slow
            self._same = rested, holes, slow
        return self._same

    @property
    def has_holes(self) -> bool:
        """Whether air escapes by the fault in any situation."""
        return any(self.loss(s).emptied or self.loss(s).slow for s in SITUATIONS)

    def at(self, situation: str) -> Air:
        """The air at rest in a situation."""
        return self.loss(situation).air

    def emptied(self, situation: str) -> frozenset[int]:
        """Every space that ends empty by the fault in a situation, after driving with it."""
        return self.loss(situation).emptied

    def floor(self, space: int, situation: str) -> float:
        """What a space keeps when all has flowed that can: nothing, a closing pressure, or what it had."""
        loss = self.loss(situation)
        if space in loss.emptied:
            return ATMOSPHERE
        return loss.floors.get(space, self.full.level.get(space, ATMOSPHERE))

    @cached_property
    def driven(self) -> Air:
        """What is left while driving of what stood there before the fault: what is shut off keeps its air."""
        if self.normal is None:
            return self.at("driving")
        return after(self._without_lost(self.normal.at("driving"), "driving"), self.at("driving"))

    @cached_property
    def released(self) -> Air:
        """What is left after braking, when the pedal is let up."""
        return after(self.braked, self.at("driving"))

    @cached_property
    def braked(self) -> Air:
        """What is left after driving, with the pedal down: a space keeps its air until a way out of it opens."""
        return after(self._without_lost(self.driven, "braking"), self.at("braking"))

    @cached_property
    def park_applied(self) -> Air:
        """What is left after a stop, when the park control is applied or a trailer uncoupled."""
        return after(self._without_lost(self.released, "parked"), self.at("parked"))

    def _without_lost(self, air: Air, now: str) -> Air:
        """The air of one situation without what the next one loses through the hole."""
        emptied = self.emptied(now)
        return replace(air, level={space: ATMOSPHERE if space in emptied else p for space, p in air.level.items()})

    @cached_property
    def lifted(self) -> Air:
        """With the park control released again: what kept its air when it was applied, and what the longest braking left."""
        driving, braking = self.loss("driving"), self.loss("braking")
        left = {**braking.floors, **dict.fromkeys(braking.emptied, ATMOSPHERE)}
        return after(self.park_applied, self._charged(driving.circuit, "driving", driving.emptied, left))

    @cached_property
    def refilled(self) -> Air:
        """What the compressor and a towing vehicle can still fill from empty, driving."""
        driving = self.loss("driving")
        circuit = driving.circuit if self.fills else _unfed(driving.circuit, driving.floors, self.full)
        fed = outside_sources(circuit, "driving")
        return settle(driving.circuit, "driving", fed, frozenset() if driving.purged else driving.emptied)

    @cached_property
    def fills(self) -> bool:
        """Whether nothing escapes by the fault while the vehicle fills: what a governor lets out it does from cut-out on."""
        driving = self.loss("driving")
        if driving.purged or not driving.emptied and not driving.slow:
            return True
        circuit, _, slow = self._failing("driving")
        air = settle(circuit, "driving", outside_sources(circuit, "driving"))
        return not any(air.is_charged(space) for space in driving.emptied | slow)

    def refills(self, space: int) -> bool:
        """Whether air from outside still brings a space to what it keeps by itself."""
        kept = min(self.floor(space, "driving"), self.full.level.get(space, ATMOSPHERE))
        return self.refilled.is_charged(space) and self.refilled.level[space] > kept - 0.3e5

    def _with_loss(self, situation: str, circuit: Circuit, holes: frozenset[int], slow: frozenset[int],
                   before: Loss | None) -> Loss:
        floors = {**before.floors, **dict.fromkeys(before.emptied, ATMOSPHERE)} if before else {}
        assert self.normal is not None
        air = self._charged(circuit, situation, frozenset(), floors) if floors or circuit is not self.whole else (
            self.normal.at(situation))
        purged: frozenset[int] = frozenset()
        if circuit is not self.whole:
            holes |= escapes(air) - self._escapes(situation)
            if not holes and not slow:
                purged = escapes(air, narrow=True) - escapes(self.normal.at(situation), narrow=True)
                slow = purged
        if not holes and not slow:
            if before is None and circuit is not self.whole and (given := self._shared(air)):
                floors = {**floors, **given}
                air = self._charged(circuit, situation, frozenset(), floors)
            return Loss(circuit, frozenset(), floors, air)
        blowing = [hole for hole in holes | slow if air.level.get(hole, ATMOSPHERE) > ATMOSPHERE + 1000]
        gone = holes | emptied_by(air, *blowing) if blowing else holes
        falls = {**floors, **falling(air, gone)}
        if before is None:
            for space, pressure in self._shared(self._charged(circuit, situation, gone, falls)).items():
                falls[space] = min(falls.get(space, pressure), pressure)
        held_ = snapped(circuit, air, gone, falls)
        circuit = with_held(circuit, held_)
        return Loss(circuit, gone, falls, self._charged(circuit, situation, gone, falls),
                    held=(*(before.held if before else ()), *held_), purged=bool(purged))

    def _shared(self, air: Air) -> dict[int, float]:
        """What reservoirs fall to that a fault lets fill more than before."""
        assert self.normal is not None
        return shared_out(air, self.normal.at(air.situation))

    def _escapes(self, situation: str) -> frozenset[int]:
        """What bleeds in a situation without a fault."""
        assert self.normal is not None
        if situation not in self.normal.bleeding:
            self.normal.bleeding[situation] = escapes(self.normal.at(situation))
        return self.normal.bleeding[situation]

    def _charged(self, circuit: Circuit, situation: str, emptied: frozenset[int], floors: Mapping[int, float]) -> Air:
        level = {space: min(p, floors.get(space, p)) for space, p in self.full.level.items()}
        return charged(_unfed(circuit, floors, self.full), situation, emptied, filling=replace(self.full, level=level),
                       demand=self.demand)


def escapes(air: Air, narrow: bool = False) -> frozenset[int]:
    """The charged spaces from which a wide way out to the air stands open, or a narrow one."""
    level = air.level
    return frozenset(
        way.start for way in air.circuit.ways if way.end == SPACE_OUTSIDE and way.passage.narrow is narrow
        and air.is_charged(way.start) and leaves(air, way, way.start, level.get(way.start, ATMOSPHERE), level))


def _rested(circuit: Circuit, air: Air) -> Circuit:
    """The circuit without the compressors whose unloader a fault keeps charged."""
    changed = {}
    for device in circuit.devices:
        source = device.kind.source
        if source is not None and source.rests(pressures_at(circuit, device, air.level), device.settings,
                                               device.kind.state("driving")) > 0:
            changed[device.name] = _stopped(device)
    return with_devices(circuit, changed)


def _stopped(device: Device) -> Device:
    return device._replace(kind=device.kind._replace(feeds=lambda settings, situation: ()))


def _unfed(circuit: Circuit, floors: Mapping[int, float], full: Air) -> Circuit:
    """The circuit without the compressors whose air is on its way out through the hole."""
    stopped = {
        device.name: _stopped(device) for device in circuit.devices if device.kind.source is not None
        and (space := circuit.space_of(device, device.kind.source.port)) in floors
        and floors[space] < full.level.get(space, ATMOSPHERE) - 1e4
    }
    return with_devices(circuit, stopped)
