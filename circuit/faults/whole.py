"""A vehicle at rest with a fault, held against the same vehicle without it.

Shares are of what the same wheel has without the fault. Pressures are absolute Pa.
"""

from functools import cached_property
from typing import Any

from circuit.declaring.traits import Trait
from circuit.faults.effect import BRAKING, Effect
from circuit.faults.failing import at_cut_out
from circuit.faults.left import Left
from circuit.faults.floors import pressures_at
from circuit.faults.reading import Reading, spoilt
from circuit.faults.single import Fault
from circuit.judging.evidence import Evidence
from circuit.model.air import full_pressure
from circuit.model.settling import outside_sources, settle
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.loss import emptied_by
from circuit.studies.hands import asking
from circuit.units import ATMOSPHERE


FAR = 100 * ATMOSPHERE
"""Absolute Pa at which every safety valve that can open is open; our choice, far beyond what they are set to."""


class Whole(Reading):
    """A vehicle without a fault, and what is asked of it again and again.

    demand: absolute Pa that pedals, and towing vehicles outside the drawing, ask for while braking; None is all of it.
    """

    normal: Left

    def __init__(self, circuit: Circuit, demand: float | None = None) -> None:
        full = settle(circuit, "driving", outside_sources(circuit, "driving"))
        circuit = asking(circuit, demand)
        self.demand, self._evidence = demand, Evidence(circuit)
        self.stops: dict[Fault, tuple[Effect | None, Effect | None, bool, Any]] = {}
        """What has been played: each fault in a stop and in the next, whether all was at rest before, and a leak's course."""
        super().__init__(circuit, full, Left(circuit, None, full, demand=demand), self._evidence.zone)

    @property
    def service_system(self) -> frozenset[int]:
        """Spaces of the service brakes."""
        return self._evidence.service_system

    def left(self, fault: Fault) -> Left:
        """The air at rest with a fault, in each situation."""
        return Left(self.circuit, fault, self.full, self.normal, self.demand)

    @cached_property
    def losses(self) -> tuple[tuple[str, int, frozenset[str], frozenset[int]], ...]:
        """Each thing that can burst in one stroke: its name, its space, the reservoirs and all spaces that it takes along."""
        circuit, air = self.circuit, self.normal.at("driving")
        places = [(tank.name, circuit.store(tank)) for tank in circuit.reservoirs]
        places += [(f"the line of {head.name}", circuit.store(head)) for head in circuit.having(Trait.COUPLES_VEHICLES)]
        places += [(f"the outlet of {d.name}", circuit.space_of(d, d.kind.source.port)) for d in circuit.devices
                   if d.kind.source is not None]
        places += [(device.title, circuit.store(device)) for device in circuit.having(Trait.USES_AIR)]
        found: dict[int, tuple[str, int, frozenset[str], frozenset[int]]] = {}
        for name, space in places:
            if space not in found and space != SPACE_OUTSIDE:
                emptied = emptied_by(air, space)
                found[space] = (name, space, self._tanks(emptied), emptied)
        return tuple(found.values())

    def _tanks(self, spaces: frozenset[int]) -> frozenset[str]:
        return frozenset(tank.name for tank in self.circuit.reservoirs if self.circuit.store(tank) in spaces)

    @cached_property
    def unloads(self) -> bool:
        """Whether the compressor rests when its governor says so."""
        return _rests(self.circuit)

    def effect(self, fault: Fault) -> Effect:
        """What a fault does."""
        left = self.left(fault)
        spoils = spoilt(self.circuit, fault)
        warned, unwarned = self.warnings(left, spoils)
        return Effect(
            fault, self.axles(left, spoils), self.tanks(left), self.heads(left), warned, unwarned, self.users(left),
            self._unguarded(left), self._rising(left),
            next((name for name, _ in sorted(spoils.idle) if not self.circuit.by_name[name].has(Trait.SERVICE_ACTUATOR)), ""),
            self._seeps(left), fills=self._fills(left),
        )

    def _fills(self, left: Left) -> float | None:
        """What it fills to with a governor that has drifted."""
        usual, now = full_pressure(self.circuit), full_pressure(left.loss("driving").circuit)
        return now if now != usual and self.circuit.having(Trait.GOVERNS) else None

    def _rising(self, left: Left) -> str:
        """The safety valves that a compressor which no longer rests can blow, in words; nothing where it rests."""
        driving = left.loss("driving")
        circuit = driving.circuit
        if not self._meets(left.fault, self._ruling) and not driving.emptied & self._ruling:
            return ""
        if not self.unloads or not _made(circuit) or _rests(
                circuit, driving.emptied if left.fills and not driving.purged else frozenset()):
            return ""
        made = outside_sources(circuit, "driving")
        air = settle(circuit, "driving", made)
        reached = air.fed_by_any(made)
        valves = [d.name for d in circuit.having(Trait.RELIEVES) if circuit.store(d) in reached
                  and any(air.opening(way, FAR, ATMOSPHERE) > 0 for way in circuit.ways_of.get(d.name, ()))]
        return " or ".join(valves) or "nothing"

    @cached_property
    def _ruling(self) -> frozenset[int]:
        """The spaces on which it hangs whether a compressor rests: of it, of what rules it, and all that feeds these."""
        circuit, air = self.circuit, self.full
        ruling = [*(d for d in circuit.devices if d.kind.source is not None), *circuit.having(Trait.GOVERNS),
                  *circuit.having(Trait.BLOWS_OFF)]
        own = {space for device in ruling for _, space in circuit.spaces_of[device.name]} - {SPACE_OUTSIDE}
        return air.leading_to(own, frozenset(air.level)) | own

    def _meets(self, fault: Fault | None, spaces: frozenset[int]) -> bool:
        """Whether a fault is at a part that touches one of some spaces; of exchanged lines it may always be."""
        if fault is None or fault.exchanged:
            return True
        names = {name for name, _ in fault.parts} | {name for name, _, _ in fault.holds}
        return any(space in spaces for name in names for _, space in self.circuit.spaces_of[name])

    def _seeps(self, left: Left) -> tuple[str, ...]:
        braking = left.loss("braking")
        spaces: frozenset[int] = frozenset().union(*(emptied_by(braking.air, hole) for hole in braking.slow))
        return tuple(tank.name for tank in self.circuit.reservoirs if self.circuit.store(tank) in spaces)

    def _unguarded(self, left: Left) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The reservoirs of the brakes that a further loss takes along with this fault and did not without it, where the
        fault itself takes none."""
        circuit = left.loss("driving").circuit
        if left.has_holes or circuit is self.circuit:
            return ()
        air = left.at("driving")
        alike = left.fault is not None and air.level == self.normal.at("driving").level
        found = []
        for name, space, before, emptied in self.losses:
            if alike and not self._meets(left.fault, emptied):
                continue  # nothing of the way out has changed
            more = {tank for tank in self._tanks(emptied_by(air, space)) - before
                    if self.circuit.by_name[tank].settings["role"] in BRAKING}
            if more:
                found.append((name, tuple(sorted(more))))
        return tuple(found)


def _made(circuit: Circuit) -> bool:
    return any(device.kind.source is not None and device.kind.feeds(device.settings, "driving")
               for device in circuit.devices)


def _rests(circuit: Circuit, emptied: frozenset[int] = frozenset()) -> bool:
    """Whether every compressor that turns is rested, or its air let off, once its governor's cut-out is reached.

    emptied: spaces that stand open to the air.
    """
    if not circuit.having(Trait.GOVERNS):
        return False
    sources = outside_sources(circuit, "driving")
    told = at_cut_out(circuit, settle(circuit, "driving", sources), full_pressure(circuit) + 1e3)
    air = settle(told, "driving", sources, emptied)
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
