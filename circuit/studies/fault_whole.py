"""A vehicle at rest with a fault, held against the same vehicle without it.

Shares are of what the same wheel has without the fault. Pressures are absolute Pa.
"""

from functools import cached_property

from circuit.gas.chamber import SPRING_STARTS
from circuit.kinds.kind import Trait
from circuit.model.air import Air, full_pressure, outside_sources, settle
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Device
from circuit.model.loss import emptied_by
from circuit.rules.evidence import Evidence
from circuit.studies.fault_effect import BRAKES, LESS, Axle, Effect, Head, Tank
from circuit.studies.fault_floors import pressures_at
from circuit.studies.fault_list import Fault
from circuit.studies.fault_state import Left, at_cut_out
from circuit.studies.force import rod
from circuit.units import ATMOSPHERE


class Whole:
    """A vehicle without a fault, and what is asked of it again and again.

    full: the air as the vehicle fills. normal: what is left when nothing is wrong.
    """

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.full: Air = settle(circuit, "driving", outside_sources(circuit, "driving"))
        self.normal = Left(circuit, None, self.full)
        self.wheels = circuit.having(Trait.SERVICE_ACTUATOR)
        self.springs = circuit.having(Trait.SPRING_ACTUATOR)

    def zone(self, space: int) -> frozenset[int]:
        """All spaces that always have one pressure with this one."""
        return self._evidence.zone(space)

    @property
    def service_system(self) -> frozenset[int]:
        """Spaces of the service brakes."""
        return self._evidence.service_system

    @cached_property
    def _evidence(self) -> Evidence:
        return Evidence(self.circuit)

    @cached_property
    def rear_heads(self) -> tuple[Device, ...]:
        """The heads to a trailer that have air of their own accord."""
        return tuple(head for head in self.circuit.having(Trait.COUPLES_VEHICLES) if head.settings["end"] == "rear")

    @cached_property
    def losses(self) -> tuple[tuple[str, int, frozenset[str]], ...]:
        """Each thing that can burst in one stroke: its name, its space, and the reservoirs it takes along."""
        circuit, air = self.circuit, self.normal.at("driving")
        places = [(tank.name, circuit.store(tank)) for tank in circuit.reservoirs]
        places += [(f"the line of {head.name}", circuit.store(head)) for head in circuit.having(Trait.COUPLES_VEHICLES)]
        places += [(f"the outlet of {d.name}", circuit.space_of(d, d.kind.source.port)) for d in circuit.devices
                   if d.kind.source is not None]
        places += [(device.title, circuit.store(device)) for device in circuit.having(Trait.USES_AIR)]
        found: dict[int, tuple[str, int, frozenset[str]]] = {}
        for name, space in places:
            if space not in found and space != SPACE_OUTSIDE:
                found[space] = (name, space, self._tanks(emptied_by(air, space)))
        return tuple(found.values())

    def _tanks(self, spaces: frozenset[int]) -> frozenset[str]:
        return frozenset(tank.name for tank in self.circuit.reservoirs if self.circuit.store(tank) in spaces)

    @cached_property
    def unloads(self) -> bool:
        """Whether the compressor rests when its governor says so."""
        return _rests(self.circuit)

    def effect(self, fault: Fault) -> Effect:
        """What a fault does."""
        left = Left(self.circuit, fault, self.full, self.normal)
        idle = {(name, port) for name, failure in fault.parts
                for f in self.circuit.by_name[name].kind.failures if f.name == failure for port in f.idle}
        circuit = left.loss("driving").circuit
        warned, unwarned = self._warnings(left, idle)
        return Effect(
            fault, self._axles(left, idle), self._tanks_left(left), self._heads(left), warned, unwarned,
            self._users(left), self._unguarded(left), self._rising(circuit),
            next((name for name, port in idle if not self.circuit.by_name[name].has(Trait.SERVICE_ACTUATOR)), ""),
            self._seeps(left),
        )

    def _rising(self, circuit: Circuit) -> str:
        """The safety valves that a compressor which no longer rests can blow, in words; nothing where it rests."""
        if not self.unloads or not _made(circuit) or _rests(circuit):
            return ""
        made = outside_sources(circuit, "driving")
        reached = settle(circuit, "driving", made).fed_by_any(made)
        valves = [d.name for d in circuit.having(Trait.RELIEVES) if circuit.store(d) in reached]
        return " or ".join(valves) or "nothing"

    def _seeps(self, left: Left) -> tuple[str, ...]:
        braking = left.loss("braking")
        spaces: frozenset[int] = frozenset().union(*(emptied_by(braking.air, hole) for hole in braking.slow))
        return tuple(tank.name for tank in self.circuit.reservoirs if self.circuit.store(tank) in spaces)

    # --- brakes ------------------------------------------------------------------------------------------------------

    def _axles(self, left: Left, idle: set[tuple[str, str]]) -> tuple[Axle, ...]:
        axles = dict.fromkeys(wheel.settings["axle"] for wheel in self.wheels + self.springs)
        return tuple(self._axle(name, left, idle) for name in axles)

    def _axle(self, name: str, left: Left, idle: set[tuple[str, str]]) -> Axle:
        circuit, normal = self.circuit, self.normal
        wheels = [w for w in self.wheels if w.settings["axle"] == name]
        springs = [s for s in self.springs if s.settings["axle"] == name]
        service, stays, push = [], [], 0.0
        for wheel in wheels:
            space = circuit.service_space(wheel)
            before = pushed(wheel, normal.at("braking"), space)
            if before <= 0:
                continue
            push += before
            dead = (wheel.name, wheel.kind.ports[0].number) in idle
            service.append(0.0 if dead else min(1.0, pushed(wheel, left.at("braking"), space) / before))
            kept = left.released.level.get(space, ATMOSPHERE) - normal.released.level.get(space, ATMOSPHERE)
            stays.append(0.0 if dead else float(kept > 0.5e5))
        alone, pedal, parks = [], [], []
        for spring in springs:
            dead = (spring.name, spring.kind.ports[1].number) in idle
            own = 0.0 if dead else spring_on(spring, left.at("driving"), circuit)
            alone.append(max(0.0, own - spring_on(spring, normal.at("driving"), circuit)))
            by_pedal = 0.0 if dead else spring_on(spring, left.braked, circuit)
            pedal.append(max(0.0, by_pedal - max(own, spring_on(spring, normal.braked, circuit))))
            if spring_on(spring, normal.park_applied, circuit) > LESS:
                parks.append(0.0 if dead else spring_on(spring, left.park_applied, circuit))
        return Axle(name, mean(service, 1.0), mean(pedal, 0.0), mean(alone, 0.0), mean(stays, 0.0), mean(parks, 1.0),
                    bool(parks), bool(service), mean([float(share >= BRAKES) for share in service], 1.0), push)

    # --- air ---------------------------------------------------------------------------------------------------------

    def _tanks_left(self, left: Left) -> tuple[Tank, ...]:
        circuit = self.circuit
        found = []
        for tank in circuit.reservoirs:
            space = circuit.store(tank)
            before = self.full.level.get(space, ATMOSPHERE)
            again = not self.full.is_charged(space) or left.refilled.level.get(space, ATMOSPHERE) > min(
                left.floor(space, "driving"), before) - 0.3e5 and left.refilled.is_charged(space)
            found.append(Tank(tank.name, tank.settings["role"], before, left.floor(space, "driving"),
                              left.floor(space, "braking"), again))
        return tuple(found)

    def _heads(self, left: Left) -> tuple[Head, ...]:
        found = []
        for head in self.rear_heads:
            space = self.circuit.store(head)
            found.append(Head(head.name, head.settings["line"], *(
                air.level.get(space, ATMOSPHERE) for air in (
                    left.at("driving"), left.at("braking"), self.normal.at("driving"), self.normal.at("braking")))))
        return tuple(found)

    def _warnings(self, left: Left, idle: set[tuple[str, str]]) -> tuple[tuple[str, ...], tuple[str, ...]]:
        circuit = self.circuit
        warned, told = [], set()
        for switch in circuit.having(Trait.WARNS_LOW):
            space, on = circuit.store(switch), switch.settings["on-below"]
            if on is None or (switch.name, switch.kind.ports[0].number) in idle:
                continue
            for situation in ("driving", "braking"):
                if left.floor(space, situation) < on <= self.full.level.get(space, ATMOSPHERE):
                    warned.append(switch.name)
                    told |= {tank.name for tank in circuit.reservoirs if circuit.store(tank) in self.zone(space)}
                    break
        powered = {self.vehicle_of(d.name) for d in circuit.devices if d.kind.source is not None}
        unwarned = tuple(tank.name for tank in circuit.reservoirs if self.vehicle_of(tank.name) in powered
                         and tank.settings["role"] == "service" and tank.name not in told
                         and self.full.is_charged(circuit.store(tank))
                         and left.floor(circuit.store(tank), "braking") < ATMOSPHERE + 0.5e5)
        return tuple(warned), unwarned

    def vehicle_of(self, name: str) -> str:
        """The vehicle of a combination that a part is of; nothing where there is one vehicle."""
        return name.partition(".")[0] if self.circuit.vehicles else ""

    def _users(self, left: Left) -> tuple[str, ...]:
        normal, air = self.normal.at("driving"), left.at("driving")
        return tuple(
            device.name for device in self.circuit.having(Trait.USES_AIR)
            if any(normal.is_charged(space) and not air.is_charged(space)
                   for _, space in self.circuit.spaces_of[device.name] if space != SPACE_OUTSIDE))

    def _unguarded(self, left: Left) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What a further loss takes along with this fault and did not without it, where the fault itself takes none."""
        circuit = left.loss("driving").circuit
        if left.has_holes or circuit is self.circuit:
            return ()
        air = left.at("driving")
        found = []
        for name, space, before in self.losses:
            more = self._tanks(emptied_by(air, space)) - before
            if more:
                found.append((name, tuple(sorted(more))))
        return tuple(found)


# --- small sums ------------------------------------------------------------------------------------------------------


def gauge_at(air: Air, space: int) -> float:
    """Gauge Pa in a space."""
    return max(0.0, air.level.get(space, ATMOSPHERE) - ATMOSPHERE)


def pushed(wheel: Device, air: Air, space: int) -> float:
    """N on the push rod of a wheel's brake at its working stroke."""
    return rod(air.level.get(space, ATMOSPHERE), wheel.settings["area"], wheel.settings["working-stroke"])


def spring_on(spring: Device, air: Air, circuit: Circuit) -> float:
    """Share of a spring's force that its hold-off pressure lets through: none at hold-off, all at SPRING_STARTS."""
    held = float(spring.settings["holds-off-at"]) - ATMOSPHERE
    have = gauge_at(air, circuit.spring_space(spring))
    return min(1.0, max(0.0, (held - have) / max(held - SPRING_STARTS, 1.0)))


def mean(shares: list[float], none: float) -> float:
    """The mean, or what counts where there is nothing."""
    return sum(shares) / len(shares) if shares else none


def _made(circuit: Circuit) -> bool:
    return any(device.kind.source is not None and device.kind.feeds(device.settings, "driving")
               for device in circuit.devices)


def _rests(circuit: Circuit) -> bool:
    """Whether every compressor that turns is rested, or its air let off, once its governor's cut-out is reached."""
    if not circuit.having(Trait.GOVERNS):
        return False
    sources = outside_sources(circuit, "driving")
    told = at_cut_out(circuit, settle(circuit, "driving", sources), full_pressure(circuit) + 1e3)
    air = settle(told, "driving", sources)
    lets_off = any(way.end == SPACE_OUTSIDE and air.opening(way, full_pressure(told), ATMOSPHERE) > 0
                   for device in told.having(Trait.BLOWS_OFF) for way in told.ways_of.get(device.name, ())
                   if way.passage.start == device.kind.ports[0].number)
    for device in told.devices:
        source = device.kind.source
        if source is None or not device.kind.feeds(device.settings, "driving"):
            continue
        rests = source.rests(pressures_at(told, device, air.level), device.settings, device.kind.state("driving")) > 0
        if not lets_off and (not rests or source.held in device.kind.rest):
            return False
    return True
