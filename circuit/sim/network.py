"""A circuit, a script and options as one set of equations.

Reads what device kinds declare: stores become volumes, passages and sources become flow elements, latches become
events. Knows no kind by name.
"""

from copy import copy
from math import pi, sqrt
from typing import Any, NamedTuple

from circuit.gas.constants import GAS_CONSTANT, REFERENCE_DENSITY, REFERENCE_TEMPERATURE, density, pressure_at
from circuit.gas.compressor import EXPANSION
from circuit.gas.flow import THROATS, from_area, piece, shares, tube
from circuit.gas.volume import Knot, Knots, fixed, held, summed
from circuit.declaring.kind import OUTSIDE, Kind, Passage, Pump
from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, Way
from circuit.sim.arrays import BOTH_WAYS, NOTHING, ONE_WAY, PUMP
from circuit.sim.script import Options
from circuit.sim.sums import Sums
from circuit.sim.tracing import Untraceable
from circuit.units import ATMOSPHERE

AIR, INTAKE = -1, -2
"""Ends of an element that are the atmosphere; INTAKE is where compressors take from, so that what they made is
counted."""
DEFAULT_CONDUCTANCE = 10e-8
"""m3/(s Pa) where a part that is fed or opened states none; typical, from memory."""
OPEN_END = 0.8
"""Discharge coefficient of a torn tube's end; common practice, no source."""


class Element(NamedTuple):
    """One way for air. flow: kg/(s Pa), or kg/s of a PUMP. owner: device name and passage ends, for variants."""

    start: int
    end: int
    way: int
    gate: int
    root: int
    flow: float
    ratio: float
    subsonic: float
    owner: tuple[str, str, str]

    def order(self) -> bool:
        """Lines come first: the kernel has a short loop for ways between spaces that are always open."""
        return min(self.start, self.end) < 0 or (self.way, self.root, self.subsonic) != (BOTH_WAYS, NOTHING, 0.5)


class Network:
    """The equations before they are arrays.

    nodes: space of the circuit to node number; inner nodes of long lines and rigs follow. names: of the nodes. calm:
    which volumes of each lie in lines, whose walls keep them at one temperature. working: whether each is a reservoir
    or an actuator, whose other volumes follow the options' exponent.
    """

    def __init__(self, circuit: Circuit, options: Options):
        self.circuit, self.options = circuit, options
        self.ambient = pressure_at(options.altitude)
        self.shift = self.ambient - ATMOSPHERE
        self.inlet = self.ambient + circuit.vehicle.conditions.boost
        breathing = {circuit.space[d.name, d.kind.source.inlet] for d in circuit.devices if d.kind.source}
        self.breathing = {s for s in breathing if s != SPACE_OUTSIDE and len(circuit.ports_of[s]) == 1}
        spaces = [s for s in sorted(circuit.ports_of) if s != SPACE_OUTSIDE and s not in self.breathing]
        self.nodes: dict[int, int] = {space: number for number, space in enumerate(spaces)}
        self.names: list[str] = [circuit.space_name(space) for space in spaces]
        self.volumes: list[list[Knots]] = [[fixed(options.smallest)] for _ in spaces]
        self.calm: list[list[int]] = [[] for _ in spaces]
        self.working: list[bool] = [False] * len(spaces)
        self.elements: list[Element] = []
        self.outside: list[int] = []
        self.sums = Sums(circuit, self.nodes, self.shift, options.opening)
        self.notes: list[str] = []
        self.lines: dict[str, list[int]] = {}
        self.stored: dict[tuple[str, int], list[int]] = {}
        """Device and node to the places of its stores among the node's volumes."""
        self.sources: dict[str, tuple[int, float]] = {}
        self.doubled: frozenset[str] = frozenset()
        self.per_conductance = REFERENCE_DENSITY * sqrt(REFERENCE_TEMPERATURE / options.temperature)

    # --- building ----------------------------------------------------------------------------------------------------

    def read(self, doubled: frozenset[str] = frozenset()) -> None:
        """Everything the devices declare. doubled: devices that a hand opens or shuts meanwhile, read both ways."""
        self.doubled = doubled
        for device in self.circuit.devices:
            if device.kind.ports:
                self._store(device)
        for way in self.circuit.ways:
            self._way(way)
        for device in self.circuit.devices:
            for latch in device.kind.latches:
                self.sums.latch(device, latch)
            if device.kind.source is not None:
                self._source(device, device.kind.source)

    def of_one(self, circuit: Circuit, device: Device) -> "Network":
        """What one device declares, in a network of its own with the same nodes, inputs and options. circuit: with that
        device as it is now."""
        part = copy(self)
        part.circuit, part.elements, part.lines, part.sources, part.stored = circuit, [], {}, {}, {}
        part.names, part.working, part.notes = list(self.names), list(self.working), []
        part.volumes, part.calm = [[] for _ in self.volumes], [[] for _ in self.volumes]
        part.sums = Sums(circuit, self.nodes, self.shift, self.options.opening)
        part.sums.inputs, part.sums.start = dict(self.sums.inputs), list(self.sums.start)
        if device.kind.ports:
            part._store(device)
        for way in self.circuit.ways_of.get(device.name, ()):
            part._way(way._replace(device=device))
        for latch in device.kind.latches:
            part.sums.latch(device, latch)
        if device.kind.source is not None:
            part._source(device, device.kind.source)
        part.elements.sort(key=Element.order)
        return part

    def node(self, space: int) -> int:
        """The node of a space, or AIR."""
        return AIR if space == SPACE_OUTSIDE or space in self.breathing else self.nodes[space]

    def new_node(self, name: str, volume: float) -> int:
        self.names.append(name)
        self.volumes.append([fixed(volume)])
        self.calm.append([])
        self.working.append(False)
        return len(self.names) - 1

    def _store(self, device: Device) -> None:
        share = shares(device.settings["length"])[0] if device.is_line and device.kind.stores else 1.0
        for store in device.kind.stores:
            node = self.node(self.circuit.space_of(device, store.port))
            if node < 0:
                continue
            self.stored.setdefault((device.name, node), []).append(len(self.volumes[node]))
            if store.knots is None:
                if device.is_line:
                    self.calm[node].append(len(self.volumes[node]))
                self.volumes[node].append(fixed(share * store.volume(device.settings, ATMOSPHERE)))
            else:
                knots = store.knots(device.settings)
                self.volumes[node].append(tuple(Knot(k.pressure + self.shift, k.volume, k.slope) for k in knots))
            if device.kind.traits & {Trait.STORES_AIR, Trait.SERVICE_ACTUATOR, Trait.SPRING_ACTUATOR}:
                self.working[node] = True

    def conducts(self, conductance: float) -> float:
        """kg/(s Pa) of a sonic conductance."""
        return conductance * self.per_conductance

    def lets_through(self, conductance: float) -> float:
        """The same of a valve or a line of the design, with the options' factor on them."""
        return self.conducts(conductance) * self.options.flow

    def _way(self, way: Way) -> None:
        start, end = self.node(way.start), self.node(way.end)
        if start == end:
            return
        if way.device.is_line and not way.passage.conductance:
            self._line(way, start, end)
            return
        device = way.device
        if device.name in self.doubled:
            for state in ("open", "shut"):
                stood = device._replace(settings={**device.settings, "state": state})
                gate = self.sums.slot((device.name, f"stands {state}"), float(device.settings["state"] == state))
                self._valve(stood, way.passage, start, end, gate)
        else:
            self._valve(device, way.passage, start, end, 0)

    def _valve(self, device: Device, passage: Passage, start: int, end: int, gate: int) -> None:
        root = NOTHING
        if passage.opening is not None:
            try:
                root = self.sums.add(device, self.sums.traced(device, passage.opening, True))
            except Untraceable as trouble:
                self.notes.append(f"{device.title}: its way {passage.start} to {passage.end} is left shut: {trouble}")
                return
        throat = THROATS[passage.throat]
        self.elements.append(Element(
            start, end, BOTH_WAYS if passage.both_ways else ONE_WAY, gate, root,
            self.lets_through(conductance_of(device, passage.conductance)), throat.ratio, throat.subsonic,
            (device.name, passage.start, passage.end)))

    def _line(self, way: Way, start: int, end: int) -> None:
        device = way.device
        bore, parts = device.settings["bore"], shares(device.settings["length"])
        length = float(device.settings.get("resisting-length") or device.settings["length"])
        gate = self.sums.slot((device.name, "whole"), 1.0) if device.name in self.doubled else 0
        volume = pi / 4 * bore**2 * device.settings["length"]
        inner = [self.new_node(f"{device.title}, piece {number}", volume * (one + other) / 2)
                 for number, (one, other) in enumerate(zip(parts, parts[1:]), 1)]
        chain = self.lines[device.name] = [start, *inner, end]
        root = NOTHING
        if way.passage.opening is not None:
            root = self.sums.add(device, self.sums.traced(device, way.passage.opening, True))
        for one, other, share in zip(chain, chain[1:], parts):
            conductance, ratio = piece(bore, length, share)
            self.elements.append(Element(
                one, other, BOTH_WAYS if way.passage.both_ways else ONE_WAY, gate, root, self.lets_through(conductance),
                ratio, 0.5, (device.name, way.passage.start, way.passage.end)))

    def _source(self, device: Device, source: Pump) -> None:
        node = self.node(self.circuit.space_of(device, source.port))
        if node < 0:
            return
        settings = device.settings
        swept, speed = settings[source.displacement], settings[source.speed]
        try:
            root = self.sums.add(device, self.sums.traced(device, source.rests, True))
        except Untraceable as trouble:
            self.notes.append(f"{device.title}: its unloader is left out: {trouble}")
            root = NOTHING
        gate = self.sums.slot((device.name, "turns"), 0.0)
        self.sources[device.name] = (gate, speed)
        said = self.circuit.vehicle.conditions
        flow = density(self.inlet, self.options.temperature) * swept * settings[source.efficiency] * said.speed * said.wear
        self.elements.append(Element(INTAKE, node, PUMP, gate, root, flow, settings[source.clearance], 0.5,
                                     (device.name, source.inlet, source.port)))

    # --- what scripts and variants add -------------------------------------------------------------------------------

    def hole(self, node: int, area: float, gate: int, owner: str) -> None:
        """A hole into the open air. area: effective, m2."""
        throat = THROATS["hole"]
        self.elements.append(Element(node, AIR, BOTH_WAYS, gate, NOTHING, self.conducts(from_area(area)), throat.ratio,
                                     throat.subsonic, (owner, "", OUTSIDE)))

    def broken(self, device: Device, gate: int) -> None:
        """Both halves of a torn line, each blowing into the open air."""
        bore, length = device.settings["bore"], device.settings["length"]
        conductance, ratio = tube(bore, length / 2)
        conductance = min(conductance, from_area(OPEN_END * pi / 4 * bore**2))
        for node in (self.lines[device.name][0], self.lines[device.name][-1]):
            if node >= 0:
                self.elements.append(Element(node, AIR, BOTH_WAYS, gate, NOTHING, self.conducts(conductance), ratio,
                                             0.5, (device.name, "", OUTSIDE)))

    def feeding(self, node: int, pressure: int, gate: int, conductance: float, owner: str) -> None:
        """A pressure held from outside. pressure, gate: input slots."""
        throat = THROATS["fitting"]
        self.outside.append(pressure)
        self.elements.append(Element(-2 - len(self.outside), node, BOTH_WAYS, gate, NOTHING, self.conducts(conductance),
                                     throat.ratio, throat.subsonic, (owner, OUTSIDE, "")))

    def between(self, start: int, end: int, conductance: float, owner: tuple[str, str, str], way: int = ONE_WAY) -> int:
        """A way that is always open, for failures and rigs; returns its number."""
        throat = THROATS["hole"]
        self.elements.append(Element(start, end, way, 0, NOTHING, self.conducts(conductance), throat.ratio,
                                     throat.subsonic, owner))
        return len(self.elements) - 1

    # --- results -----------------------------------------------------------------------------------------------------

    def held_by(self, node: int) -> tuple[tuple[float, tuple[float, ...]], ...]:
        """The air held by a node as polynomials of pressure."""
        return self.held_as(self.volumes[node], node)

    def held_as(self, volumes: list[Knots], node: int) -> tuple[tuple[float, tuple[float, ...]], ...]:
        """The same with other volumes in the places of its own."""
        exponent = self.options.exponent if self.working[node] else 1.0
        calm = sum(volumes[place][0].volume for place in self.calm[node])
        return held(summed(tuple(volumes)), exponent, GAS_CONSTANT * self.options.temperature, calm)


def conductance_of(device: Device, setting: str) -> float:
    """m3/(s Pa) from a setting, or a typical one where the device has none."""
    value = device.settings.get(setting)
    return DEFAULT_CONDUCTANCE if value is None else float(value)


def feeding_situation(kind: Kind, settings: Any, port: str) -> str | None:
    """The first situation in which a kind feeds a port from outside, or None."""
    return next((s for s in ("driving", "braking", "parked") if port in kind.feeds(settings, s)), None)


EXPANDS = 1.0 / EXPANSION
