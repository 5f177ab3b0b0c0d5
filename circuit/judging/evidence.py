"""What rules look at: a circuit and its air at rest in each situation, worked out once and shared."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cached_property
from typing import Any

from circuit.declaring.traits import Role, Trait
from circuit.model.air import Air, path
from circuit.model.settling import after, charged, outside_sources, settle
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey
from circuit.model.loss import emptied_by
from circuit.units import ATMOSPHERE


class Evidence:
    """A circuit with the questions that several rules ask of it. Every answer is kept."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self._emptied: dict[tuple[int, str], frozenset[int]] = {}
        self._zones: dict[int, frozenset[int]] = {}
        self.kept: dict[str, Any] = {}
        """What others work out of it once, by their own names."""

    # --- the air at rest ----------------------------------------------------------------------------------------

    @cached_property
    def filling(self) -> Air:
        """From empty, driving, fed only from outside."""
        return settle(self.circuit, "driving", outside_sources(self.circuit, "driving"))

    @cached_property
    def parked(self) -> Air:
        return charged(self.circuit, "parked", filling=self.filling)

    @cached_property
    def driving(self) -> Air:
        return charged(self.circuit, "driving", filling=self.filling)

    @cached_property
    def braking(self) -> Air:
        return charged(self.circuit, "braking", filling=self.filling)

    @cached_property
    def released(self) -> Air:
        """What is left after braking, when the pedal is let up."""
        return after(self.braking, self.driving)

    @cached_property
    def park_applied(self) -> Air:
        """What is left after driving, when the park control is applied or a trailer uncoupled."""
        return after(self.driving, self.parked)

    @cached_property
    def _parked_later(self) -> tuple[Air, Air]:
        """Parked, when the air that an emergency valve put on the service brakes has leaked away; and what is left."""
        applied = frozenset(space for space in self.parked.level
                            if self.parked.is_charged(space) and not self.driving.is_charged(space))
        later = charged(self.circuit, "parked", applied, filling=self.filling)
        return later, after(self.driving, later)

    @cached_property
    def park_applied_long(self) -> Air:
        """What is left after driving, parked so long that the air on the service brakes has leaked away."""
        return self._parked_later[1]

    def is_let_on(self, spring: Device) -> bool:
        """Whether parking lets a spring brake on: at once, or as the air goes that brakes the same wheel meanwhile."""
        space = self.circuit.spring_space(spring)
        if not self.parked.is_charged(space) and not self.park_applied.is_charged(space):
            return True
        return self.parked.is_charged(self.circuit.service_space(spring)) and not any(
            air.is_charged(space) for air in self._parked_later)

    def braking_without(self, emptied: frozenset[int]) -> Air:
        """Braking with some spaces empty."""
        return charged(self.circuit, "braking", emptied, filling=self.filling)

    def driving_without(self, emptied: frozenset[int]) -> Air:
        """Driving with some spaces empty."""
        return charged(self.circuit, "driving", emptied, filling=self.filling)

    def emptied(self, space: int, situation: str = "driving") -> frozenset[int]:
        """Every space that ends empty when this one is open to the atmosphere."""
        key = (space, situation)
        if key not in self._emptied:
            self._emptied[key] = emptied_by(getattr(self, situation), space)
        return self._emptied[key]

    def filled_if_closed(self, head: Device) -> bool:
        """Whether air would come to a coupling head, driving or braking, if the head itself were closed."""
        closed = Evidence(self.circuit.with_setting(head, "capped", 1.0))
        space = self.circuit.store(head)
        return any(air.is_charged(space) for air in (closed.driving, closed.braking))

    @cached_property
    def works(self) -> int:
        """How much of the circuit does what it is for, to compare a circuit with itself mended.

        Counts spaces that get air, brakes that let it go again, and springs that are held off and let on.
        """
        circuit = self.circuit
        score = len({space for air in (self.driving, self.braking) for space in air.level if air.is_charged(space)})
        for chamber in self.chambers:
            space = circuit.service_space(chamber)
            score += self.braking.is_charged(space) and not self.released.is_charged(space)
        for chamber in self.springs:
            space = circuit.spring_space(chamber)
            held = self.driving.level.get(space, ATMOSPHERE) >= chamber.settings["holds-off-at"]
            score += held and self.is_let_on(chamber)
        return score

    @cached_property
    def energised(self) -> "Evidence":
        """The same circuit with current in every coil; itself where there is none."""
        if not self.circuit.having(Trait.SWITCHED_BY_CURRENT):
            return self
        return Evidence(replace(self.circuit, devices=tuple(
            device._replace(kind=device.kind._replace(rest={**device.kind.rest, "energised": 1.0}))
            if device.has(Trait.SWITCHED_BY_CURRENT) else device for device in self.circuit.devices)))

    # --- shape --------------------------------------------------------------------------------------------------

    def zone(self, space: int) -> frozenset[int]:
        """All spaces joined to one by wide ways that can never shut: they always have one pressure."""
        if space not in self._zones:
            seen = {space}
            todo = [space]
            while todo:
                here = todo.pop()
                for way in self.circuit.ways_at[here]:
                    if way.passage.opening is None and way.passage.both_ways and not way.passage.narrow:
                        there = way.end if way.start == here else way.start
                        if there not in seen and there != SPACE_OUTSIDE:
                            seen.add(there)
                            todo.append(there)
            whole = frozenset(seen)
            self._zones.update(dict.fromkeys(whole, whole))
        return self._zones[space]

    def zone_name(self, space: int) -> str:
        """For people: the reservoir that a space is always open to, or the space's own name."""
        for tank in self.circuit.reservoirs:
            if self.circuit.store(tank) in self.zone(space):
                return tank.name
        return self.circuit.space_name(space)

    @cached_property
    def sources(self) -> tuple[int, ...]:
        """Spaces that air comes into from outside while driving."""
        return tuple(outside_sources(self.circuit, "driving"))

    @cached_property
    def reach_order(self) -> dict[int, int]:
        """Space to its place in the order in which air from outside could reach the spaces."""
        return {space: place for place, space in enumerate(self.could_reach_in_order())}

    def could_reach(self, without: frozenset[int]) -> frozenset[int]:
        """Every space that air from outside could ever reach by any valve position, some spaces taken away."""
        return frozenset(self.could_reach_in_order(without))

    def could_reach_in_order(self, without: frozenset[int] = frozenset()) -> tuple[int, ...]:
        """The same, nearest to the source first."""
        todo = [space for space in self.sources if space not in without]
        seen = set(todo)
        for here in todo:
            for way in self.circuit.ways_at[here]:
                there = way.end if way.start == here else (way.start if way.passage.both_ways else None)
                if there is not None and there not in seen and there not in without and there != SPACE_OUTSIDE:
                    seen.add(there)
                    todo.append(there)
        return tuple(todo)

    def free_holes(self) -> tuple[PortKey, ...]:
        """Ports with a hole that nothing is joined to."""
        return self._holes

    def free_holes_in(self, spaces: Iterable[int]) -> tuple[PortKey, ...]:
        """Those that open into some spaces, in the same order."""
        return tuple(key for _, key in sorted(each for space in spaces for each in self._holes_by_space.get(space, ())))

    @cached_property
    def _holes(self) -> tuple[PortKey, ...]:
        circuit = self.circuit
        return tuple((device.name, port.number) for device, port in circuit.ports()
                     if circuit.used.get((device.name, port.number), 0) < circuit.holes(device, port))

    @cached_property
    def _holes_by_space(self) -> dict[int, list[tuple[int, PortKey]]]:
        found: dict[int, list[tuple[int, PortKey]]] = {}
        for place, key in enumerate(self._holes):
            found.setdefault(self.circuit.space[key], []).append((place, key))
        return found

    @cached_property
    def discharge_lines(self) -> tuple[Device, ...]:
        """The lines that carry the compressor's hot air, up to what cools or dries it or the first reservoir."""
        circuit = self.circuit
        seen = {circuit.space_of(c, "2") for c in circuit.having(Trait.COMPRESSES)}
        todo = [space for space in sorted(seen)]
        found: dict[str, Device] = {}
        while todo:
            here = todo.pop()
            if circuit.on_space(here, Trait.STORES_AIR):
                continue
            for way in circuit.ways_at[here]:
                if way.passage.opening is not None or way.device.has(Trait.COOLS) or way.device.has(Trait.DRIES):
                    continue
                if way.device.is_line:
                    found[way.device.name] = way.device
                there = way.end if way.start == here else way.start
                if there not in seen and there != SPACE_OUTSIDE:
                    seen.add(there)
                    todo.append(there)
        return tuple(found.values())

    # --- brakes and reservoirs ----------------------------------------------------------------------------------

    @cached_property
    def chambers(self) -> tuple[Device, ...]:
        return self.circuit.having(Trait.SERVICE_ACTUATOR)

    @cached_property
    def springs(self) -> tuple[Device, ...]:
        return self.circuit.having(Trait.SPRING_ACTUATOR)

    @cached_property
    def springs_at(self) -> dict[int, tuple[Device, ...]]:
        """Space to the spring brakes whose spring side it is."""
        found: dict[int, list[Device]] = {}
        for spring in self.springs:
            found.setdefault(self.circuit.spring_space(spring), []).append(spring)
        return {space: tuple(springs) for space, springs in found.items()}

    @cached_property
    def served(self) -> dict[str, tuple[Device, ...]]:
        """Reservoir name to the chambers it gives air to when braking, through no other reservoir.

        Reservoirs of one role joined by ways that never shut are one store, and so are not others to each other.
        """
        known: dict[tuple[frozenset[int], str], tuple[Device, ...]] = {}
        found = {}
        for tank in self.circuit.reservoirs:
            store, role = self.circuit.store(tank), tank.settings["role"]
            key = (self.zone(store), role)
            if key not in known:
                others = frozenset(
                    self.circuit.store(other) for other in self.circuit.reservoirs
                    if other.settings["role"] != role or self.circuit.store(other) not in key[0]
                ) - {store}
                reached = self.braking.fed_by(store, others)
                known[key] = tuple(c for c in self.chambers if self.circuit.service_space(c) in reached)
            found[tank.name] = known[key]
        return found

    @cached_property
    def serving(self) -> dict[str, tuple[Device, ...]]:
        """Chamber name to the reservoirs it is given air from when braking: `served`, the other way about."""
        found: dict[str, list[Device]] = {chamber.name: [] for chamber in self.chambers}
        for tank in self.circuit.reservoirs:
            for chamber in self.served[tank.name]:
                found[chamber.name].append(tank)
        return {name: tuple(tanks) for name, tanks in found.items()}

    @cached_property
    def service_reservoirs(self) -> tuple[Device, ...]:
        """Reservoirs that give brake chambers their air, judged by the plumbing."""
        return tuple(tank for tank in self.circuit.reservoirs if self.served[tank.name])

    @cached_property
    def supply_reservoirs(self) -> tuple[Device, ...]:
        """Reservoirs between the source and a service reservoir."""
        service = {self.circuit.store(tank) for tank in self.service_reservoirs}
        found = []
        for tank in self.circuit.reservoirs:
            if tank in self.service_reservoirs:
                continue
            reached = self.filling.fed_by(self.circuit.store(tank), frozenset())
            if reached & service and self.filling.is_charged(self.circuit.store(tank)):
                found.append(tank)
        return tuple(found)

    @cached_property
    def stores(self) -> tuple[tuple[Device, ...], ...]:
        """Service reservoirs in groups that are one store: joined by ways that never shut."""
        groups: dict[frozenset[int], list[Device]] = {}
        for tank in self.service_reservoirs:
            groups.setdefault(self.zone(self.circuit.store(tank)), []).append(tank)
        return tuple(tuple(group) for group in groups.values())

    def joining(self, one: Device, other: Device):  # type: ignore[no-untyped-def]
        """The shortest chain of ways by which air of one reservoir comes to another, or None."""
        for air in (self.driving, self.braking, self.parked):
            chain = path(air, self.circuit.store(one), self.circuit.store(other))
            if chain:
                return chain
        return None

    @cached_property
    def losses(self) -> tuple[tuple[tuple[Device, ...], frozenset[int]], ...]:
        """Each store of service air with every space that empties when it bursts: the same, whichever of its reservoirs does."""
        return tuple((group, self.emptied(self.circuit.store(group[0]))) for group in self.stores)

    @cached_property
    def rear_heads(self) -> tuple[Device, ...]:
        """The coupling heads to a trailer."""
        return tuple(head for head in self.circuit.having(Trait.COUPLES_VEHICLES) if head.settings["end"] == "rear")

    @cached_property
    def service_system(self) -> frozenset[int]:
        """Spaces of the service brakes: on the way from a service reservoir to a chamber or to a valve's signal.

        Those a service reservoir feeds when braking and that either lead on to a chamber or follow the pedal.
        """
        circuit = self.circuit
        goals = {circuit.service_space(chamber) for chamber in self.chambers}
        goals |= {space for space in self.braking.level
                  if self.braking.is_charged(space) and not self.driving.is_charged(space) and space in self._signals}
        reached = self.braking.fed_by_any(circuit.store(tank) for tank in self.service_reservoirs)
        return self.braking.leading_to(goals, reached)

    @cached_property
    def _signals(self) -> frozenset[int]:
        """Control ports of the valves on the way to a service chamber, and of those that command these."""
        commanding = self.braking.commanding(self.circuit.service_space(chamber) for chamber in self.chambers)
        return commanding & frozenset(
            self.circuit.space_of(device, port.number)
            for device in self.circuit.devices for port in device.kind.ports_as(Role.CONTROL)
        )
