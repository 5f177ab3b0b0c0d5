"""The air at rest with a fault read as brakes, reservoirs, heads and warnings, against the same vehicle without it.

What read it from is worked out by the graph (`failing`) or played by the simulation (`play`). Shares are of
what the same wheel has without the fault. Pressures are absolute Pa.
"""

from collections.abc import Callable, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Any, NamedTuple, Protocol

from circuit.declaring.following import drifted
from circuit.declaring.kind import Settings
from circuit.declaring.traits import Trait
from circuit.faults.effect import BRAKES, LESS, Axle, Head, Tank
from circuit.faults.single import Fault
from circuit.gas.chamber import SPRING_STARTS
from circuit.model.air import Air
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.studies.force import rod
from circuit.units import ATMOSPHERE


class Leaves(Protocol):
    """What a fault leaves: the air in each situation, when the pedal is let up, and when the park control is applied."""

    def at(self, situation: str) -> Air: ...

    def floor(self, space: int, situation: str) -> float: ...

    def refills(self, space: int) -> bool:
        """Whether air from outside still reaches a space."""
        ...

    @property
    def driven(self) -> Air:
        """Driving, with what is shut off and keeps its air."""
        ...

    @property
    def released(self) -> Air: ...

    @property
    def braked(self) -> Air: ...

    @property
    def park_applied(self) -> Air: ...

    @property
    def lifted(self) -> Air:
        """With the park control released again, after the longest braking."""
        ...


class Spoilt(NamedTuple):
    """What a fault spoils that no pressure shows: ports whose pressure works nothing any more, ports whose work stays done
    when it is gone, and the settings of the parts of which some have drifted."""

    idle: frozenset[tuple[str, str]] = frozenset()
    jammed: frozenset[tuple[str, str]] = frozenset()
    settings: Mapping[str, Settings] = MappingProxyType({})

    def setting(self, device: Device, name: str) -> Any:
        """A setting of a part as it stands with the fault."""
        return self.settings.get(device.name, device.settings)[name]

    def stood(self, device: Device) -> Device:
        """A part with the settings that it has with the fault."""
        return device._replace(settings=self.settings[device.name]) if device.name in self.settings else device


def spoilt(circuit: Circuit, fault: Fault) -> Spoilt:
    """What a fault spoils beside the air."""
    idle: set[tuple[str, str]] = set()
    jammed: set[tuple[str, str]] = set()
    settings: dict[str, Settings] = {}
    for name, failure_name in fault.parts:
        device = circuit.by_name[name]
        failure = next(f for f in device.kind.failures if f.name == failure_name)
        idle |= {(name, port) for port in failure.idle}
        jammed |= {(name, port) for port in failure.jams}
        if failure.scales:
            settings[name] = drifted(device.kind, settings.get(name, device.settings), failure.scales)
    return Spoilt(frozenset(idle), frozenset(jammed), settings)


class Reading:
    """A vehicle, how it is full, and what is left when nothing is wrong.

    zone: all spaces that always have one pressure with one. filled: as it was before anything was done, where that is another.
    """

    def __init__(self, circuit: Circuit, full: Air, normal: Leaves, zone: Callable[[int], frozenset[int]],
                 filled: Air | None = None) -> None:
        self.circuit, self.full, self.normal, self.zone, self.filled = circuit, full, normal, zone, filled or full
        self.wheels = circuit.having(Trait.SERVICE_ACTUATOR)
        self.springs = circuit.having(Trait.SPRING_ACTUATOR)

    @cached_property
    def rear_heads(self) -> tuple[Device, ...]:
        """The heads to a trailer."""
        return tuple(head for head in self.circuit.having(Trait.COUPLES_VEHICLES) if head.settings["end"] == "rear")

    # --- brakes ------------------------------------------------------------------------------------------------------

    def axles(self, left: Leaves, spoils: Spoilt) -> tuple[Axle, ...]:
        axles = dict.fromkeys(wheel.settings["axle"] for wheel in self.wheels + self.springs)
        return tuple(self._axle(name, left, spoils) for name in axles)

    def _axle(self, name: str, left: Leaves, spoils: Spoilt) -> Axle:
        circuit, normal = self.circuit, self.normal
        wheels = [w for w in self.wheels if w.settings["axle"] == name]
        springs = [s for s in self.springs if s.settings["axle"] == name]
        service: list[float] = []
        drags: list[float] = []
        stays: list[float] = []
        push, sides = 0.0, {"left": 0.0, "right": 0.0}
        for wheel in wheels:
            space = circuit.service_space(wheel)
            before = pushed(wheel, normal.at("braking"), space)
            if before <= 0:
                continue
            push += before
            port = wheel.name, wheel.kind.ports[0].number
            dead, jammed = port in spoils.idle, port in spoils.jammed
            service.append(0.0 if dead else min(1.0, pushed(spoils.stood(wheel), left.at("braking"), space) / before))
            if wheel.settings.get("side") in sides:
                sides[wheel.settings["side"]] += service[-1]
            for share, kept, usual in ((drags, left.driven, normal.driven), (stays, left.released, normal.released)):
                more = kept.level.get(space, ATMOSPHERE) - usual.level.get(space, ATMOSPHERE)
                share.append(0.0 if dead else float(more > 0.5e5))
            stays[-1] = max(stays[-1], float(jammed and gauge_at(left.braked, space) > 0.5e5))
        alone, pedal, parks, lifts = [], [], [], []
        for spring in springs:
            port = spring.name, spring.kind.ports[1].number
            dead, jammed = port in spoils.idle, port in spoils.jammed
            own = 0.0 if dead else spring_on(spring, left.driven, circuit)
            alone.append(max(0.0, own - spring_on(spring, normal.driven, circuit)))
            by_pedal = 0.0 if dead else spring_on(spring, left.braked, circuit)
            pedal.append(max(0.0, by_pedal - max(own, spring_on(spring, normal.braked, circuit))))
            if spring_on(spring, normal.park_applied, circuit) > LESS:
                parks.append(0.0 if dead else spring_on(spring, left.park_applied, circuit))
                lifts.append(1.0 - (0.0 if dead else parks[-1] if jammed else spring_on(spring, left.lifted, circuit)))
        return Axle(name, mean(service, 1.0), mean(pedal, 0.0), mean(alone, 0.0), mean(stays, 0.0), mean(parks, 1.0),
                    bool(parks), bool(service), mean([float(share >= BRAKES) for share in service], 1.0), push,
                    mean(lifts, 1.0), mean(drags, 0.0), pull=(sides["left"] - sides["right"]) / max(len(service), 1))

    # --- air ---------------------------------------------------------------------------------------------------------

    def tanks(self, left: Leaves) -> tuple[Tank, ...]:
        circuit = self.circuit
        found = []
        for tank in circuit.reservoirs:
            space = circuit.store(tank)
            sound = self.full.level.get(space, ATMOSPHERE)
            found.append(Tank(tank.name, tank.settings["role"], self.filled.level.get(space, sound),
                              left.floor(space, "driving"), left.floor(space, "braking"),
                              not self.full.is_charged(space) or left.refills(space), sound))
        return tuple(found)

    def heads(self, left: Leaves) -> tuple[Head, ...]:
        found = []
        for head in self.rear_heads:
            now, usual = ([stored(air, head) for air in (each.at("driving"), each.at("braking"), each.park_applied)]
                          for each in (left, self.normal))
            found.append(Head(head.name, head.settings["line"], now[0], now[1], usual[0], usual[1], now[2], usual[2]))
        return tuple(found)

    def warnings(self, left: Leaves, spoils: Spoilt) -> tuple[tuple[str, ...], tuple[str, ...]]:
        circuit = self.circuit
        warned, told = [], set()
        for switch in circuit.having(Trait.WARNS_LOW):
            space, on = circuit.store(switch), spoils.setting(switch, "on-below")
            if on is None or (switch.name, switch.kind.ports[0].number) in spoils.idle:
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

    def users(self, left: Leaves) -> tuple[str, ...]:
        normal, air = self.normal.at("driving"), left.at("driving")
        return tuple(
            device.name for device in self.circuit.having(Trait.USES_AIR)
            if any(normal.is_charged(space) and not air.is_charged(space)
                   for _, space in self.circuit.spaces_of[device.name] if space != SPACE_OUTSIDE))


# --- small sums ------------------------------------------------------------------------------------------------------


def stored(air: Air, device: Device) -> float:
    """Absolute Pa in a device as its circuit is coupled, hoses on each other's heads included."""
    return air.level.get(air.circuit.store(device), ATMOSPHERE)


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
