"""A design with every name resolved: devices, the spaces their ports share, and the ways between spaces.

Numbers are SI, pressures absolute Pa. Nothing here looks at text again; places are kept for messages.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from circuit.declaring.kind import OUTSIDE, Passage, Port
from circuit.declaring.traits import Trait
from circuit.model.answers import Answers
from circuit.model.devices import SPACE_OUTSIDE, Axle, Coupling, Device, Given, Intent, PortKey, Vehicle, Waiver, Way
from circuit.model.passed import Exit, Passed, Plan, exits
from circuit.model.draws import Draws, usual
from circuit.source import Source, Span

if TYPE_CHECKING:
    from circuit.clauses import Clause

@dataclass(frozen=True)
class Circuit:
    """The whole design.

    space: port to the index of the space it belongs to; SPACE_OUTSIDE for an open exhaust. plugged: ports plugged on
    purpose, with the place. used: how many lines and parts each port takes. vehicles, couplings: of a combination, the
    path of each vehicle's file and the heads that are coupled. draws: how the values that it
    assumes are drawn. answers: what was worked out of this very circuit.
    """

    source: Source
    vehicle: Vehicle
    rule_sets: tuple[str, ...]
    devices: tuple[Device, ...]
    space: Mapping[PortKey, int]
    plugged: Mapping[PortKey, Span]
    used: Mapping[PortKey, int]
    axles: tuple[Axle, ...] = ()
    intents: tuple[Intent, ...] = ()
    waivers: tuple[Waiver, ...] = ()
    trials: tuple[Any, ...] = ()
    files: tuple[Source, ...] = field(default=(), compare=False)
    vehicles: Mapping[str, str] = field(default_factory=dict)
    couplings: tuple[Coupling, ...] = ()
    draws: Draws = field(default_factory=usual)
    answers: Answers = field(init=False, default_factory=Answers, compare=False, repr=False)
    passed: Passed = field(default_factory=Passed, compare=False, repr=False)

    def __repr__(self) -> str:
        lines = sum(device.is_line for device in self.devices)
        return f"<Circuit {self.vehicle.title!r}, {self.source.name}: {len(self.devices) - lines} things, {lines} lines>"

    @cached_property
    def by_name(self) -> Mapping[str, Device]:
        return {device.name: device for device in self.devices}

    def having(self, *traits: Trait) -> tuple[Device, ...]:
        """The devices that have all of the traits, in the order of the design."""
        if traits not in self._having:
            wanted = frozenset(traits)
            self._having[traits] = tuple(device for device in self.devices if wanted <= device.kind.traits)
        return self._having[traits]

    @cached_property
    def _having(self) -> dict[tuple[Trait, ...], tuple[Device, ...]]:
        return {}

    @cached_property
    def changed_rows(self) -> Mapping[Span, tuple[tuple[Span, str], ...]]:
        """Where a part is written to the further rows that say what it is, and what each is."""
        return {device.span: device.changed for device in self.devices if device.changed}

    @cached_property
    def ports_of(self) -> Mapping[int, tuple[PortKey, ...]]:
        """Space to its ports."""
        found: dict[int, list[PortKey]] = {}
        for key, index in self.space.items():
            found.setdefault(index, []).append(key)
        return {index: tuple(keys) for index, keys in found.items()}

    @cached_property
    def spaces_of(self) -> Mapping[str, tuple[tuple[str, int], ...]]:
        """Device name to its ports, each with its space."""
        found: dict[str, list[tuple[str, int]]] = {}
        for (name, port), index in self.space.items():
            found.setdefault(name, []).append((port, index))
        return {name: tuple(ports) for name, ports in found.items()}

    def space_of(self, device: Device, port: str) -> int:
        """The space of a device's port; OUTSIDE is the atmosphere."""
        return SPACE_OUTSIDE if port == OUTSIDE else self.space[device.name, port]

    def space_name(self, index: int) -> str:
        """For people: the reservoir or the first valve port that shows this space."""
        if index == SPACE_OUTSIDE:
            return "the open air"
        keys = [key for key in self.ports_of[index] if not self.by_name[key[0]].is_line]
        keys = keys or list(self.ports_of[index])
        keys.sort(key=lambda key: (not self.by_name[key[0]].has(Trait.STORES_AIR), self.by_name[key[0]].kind.small))
        return self.port_name(keys[0])

    def port_name(self, key: PortKey) -> str:
        """A port as a design writes it: the thing alone where it has no other."""
        return key[0] if self.by_name[key[0]].kind.only_port else f"{key[0]}.{key[1]}"

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """Every passage of every device, between spaces, and the open way through every pair of coupled heads."""
        inside = [
            Way(device, passage, self.space_of(device, passage.start), self.space_of(device, passage.end))
            for device in self.devices
            for passage in device.kind.passages
        ]
        heads = [tuple(self.by_name[name] for name in coupling.ends) for coupling in self.couplings]
        return (*inside, *(Way(one, COUPLED, self.store(one), self.store(other)) for one, other in heads))

    @cached_property
    def exits(self) -> dict[int, tuple[Exit, ...]]:
        """Space to its ways on to other spaces."""
        return exits(self)

    @cached_property
    def plans(self) -> dict[int, Plan]:
        """The plan of each way that was asked for, by where the way is kept."""
        return {}

    @cached_property
    def ways_of(self) -> Mapping[str, tuple[Way, ...]]:
        """Device name to its ways; only devices that have one."""
        found: dict[str, list[Way]] = {}
        for way in self.ways:
            found.setdefault(way.device.name, []).append(way)
        return {name: tuple(ways) for name, ways in found.items()}

    @cached_property
    def ways_at(self) -> Mapping[int, tuple[Way, ...]]:
        """Space to the ways that begin or end there."""
        found: dict[int, list[Way]] = {index: [] for index in self.ports_of}
        found.setdefault(SPACE_OUTSIDE, [])
        for way in self.ways:
            found[way.start].append(way)
            if way.end != way.start:
                found[way.end].append(way)
        return {index: tuple(ways) for index, ways in found.items()}

    def on_space(self, index: int, *traits: Trait) -> tuple[Device, ...]:
        """Devices with all of the traits that have a port in a space."""
        wanted = frozenset(traits)
        names = dict.fromkeys(name for name, _ in self.ports_of.get(index, ()))
        return tuple(self.by_name[name] for name in names if wanted <= self.by_name[name].kind.traits)

    def ports(self) -> Iterator[tuple[Device, Port]]:
        """Every port of every thing that is not a line."""
        for device in self.devices:
            if not device.is_line:
                for port in device.kind.ports:
                    yield device, port

    def holes(self, device: Device, port: Port) -> int:
        """How many lines and parts a port takes; 0 is any number."""
        if port.holes_from:
            return int(device.settings[port.holes_from])
        if port.holes == 0 and device.settings.get("holes"):
            return int(device.settings["holes"])
        return port.holes

    # --- the same circuit with one thing changed, to see what a remedy would bring ------------------------------

    def exchanged(self, one: PortKey, other: PortKey) -> "Circuit":
        """The circuit with what is joined to two ports exchanged."""
        space = dict(self.space)
        space[one], space[other] = space[other], space[one]
        return replace(self, space=space)

    def unplugged(self, device: Device, port: str) -> "Circuit":
        """The circuit with a plug taken out of an exhaust."""
        key = (device.name, port)
        plugged = {k: v for k, v in self.plugged.items() if k != key}
        return replace(self, plugged=plugged, space={**self.space, key: SPACE_OUTSIDE})

    def apart(self, *keys: PortKey) -> "Circuit":
        """The circuit with what stands at some ports taken off them: each port is a space by itself."""
        fresh = max(self.space.values(), default=0) + 1
        return replace(self, space={**self.space, **{key: fresh + number for number, key in enumerate(keys)}})

    def joined(self, one: PortKey, other: PortKey) -> "Circuit":
        """The circuit with a further line between two ports, so short that they are one space."""
        kept, gone = self.space[other], self.space[one]
        if SPACE_OUTSIDE in (kept, gone):
            return self
        space = {key: kept if index == gone else index for key, index in self.space.items()}
        used = {**self.used, **{key: self.used.get(key, 0) + 1 for key in (one, other)}}
        return replace(self, space=space, used=used)

    def taken(self, port: PortKey) -> "Circuit":
        """The circuit with one more part in a hole of a port."""
        return replace(self, used={**self.used, port: self.used.get(port, 0) + 1})

    def moved(self, end: PortKey, port: PortKey) -> "Circuit":
        """The circuit with one end of a line taken to another port, where a plug may have been; the hole it leaves is plugged."""
        line = self.by_name[end[0]]
        space = {**self.space, end: self.space[port]}
        if line.ends is None or end[1] not in ("1", "2"):
            return replace(self, space=space)
        place = int(end[1]) - 1
        ends = (port, line.ends[1]) if place == 0 else (line.ends[0], port)
        plugged = {key: at for key, at in self.plugged.items() if key != port}
        return replace(self, space=space, used={**self.used, port: self.used.get(port, 0) + 1}, plugged=plugged,
                       devices=tuple(line._replace(ends=ends) if d is line else d for d in self.devices))

    def with_setting(self, device: Device, name: str, value: Any) -> "Circuit":
        """The circuit with one setting of one device changed."""
        changed = device._replace(settings={**device.settings, name: value})
        return replace(self, devices=tuple(changed if d is device else d for d in self.devices))

    def checked(self, line: str, towards: str) -> "Circuit":
        """The circuit with a check valve in a line, which lets air only towards one of its two ends."""
        device = self.by_name[line]
        way = device.kind.passages[0]
        ends = (way.start, way.end) if way.end == towards else (way.end, way.start)
        one_way = way._replace(start=ends[0], end=ends[1], both_ways=False)
        changed = device._replace(kind=device.kind._replace(passages=(one_way,)))
        return replace(self, devices=tuple(changed if d is device else d for d in self.devices))

    def recoupled(self, couplings: tuple[Coupling, ...]) -> "Circuit":
        """The combination with its heads coupled another way."""
        return replace(self, couplings=couplings)

    # --- what rules ask often ------------------------------------------------------------------------------------

    @cached_property
    def reservoirs(self) -> tuple[Device, ...]:
        return self.having(Trait.STORES_AIR)

    def reservoirs_for(self, *roles: str) -> tuple[Device, ...]:
        """Reservoirs of some roles: supply, service, parking, auxiliary, regeneration."""
        return tuple(device for device in self.reservoirs if device.settings["role"] in roles)

    def store(self, device: Device) -> int:
        """The space of a thing that is one space, or that a part on a host sits on: its first port's."""
        return self.space_of(device, device.kind.ports[0].number)

    def service_space(self, chamber: Device) -> int:
        """The service side of a brake chamber, its first port."""
        return self.space_of(chamber, chamber.kind.ports[0].number)

    def spring_space(self, chamber: Device) -> int:
        """The spring side of a spring brake chamber."""
        side = chamber.kind.port("spring")
        assert side is not None
        return self.space_of(chamber, side.number)

    @property
    def is_combination(self) -> bool:
        return self.vehicle.vehicle_class == COMBINATION

    @property
    def is_towed(self) -> bool:
        return self.vehicle.vehicle_class in TOWED

    @cached_property
    def tows(self) -> bool:
        """Whether it is meant to tow air-braked vehicles: it says so, is a tractor or a dolly, or has heads for a trailer."""
        heads = self.having(Trait.COUPLES_VEHICLES)
        return (self.vehicle.tows or self.vehicle.vehicle_class in ("tractor", "dolly")
                or any(head.settings["end"] == "rear" for head in heads))

    def is_asked(self, clause: "Clause") -> bool:
        """Whether a clause holds for this vehicle, after what it declares of itself."""
        vehicle = self.vehicle
        return clause.holds(vehicle.vehicle_class, self.tows, vehicle.body, vehicle.built)

    @cached_property
    def assumed(self) -> tuple[tuple[Device, str, Given], ...]:
        """Every value taken because the design left it out."""
        return tuple((device, name, given) for device in self.devices for name, given in device.given.items()
                     if given.assumed)

    @cached_property
    def graph(self):  # type: ignore[no-untyped-def]
        """The spaces and ways as a networkx MultiDiGraph, for users of the library and for graph algorithms.

        Nodes are space indices with `name` and `ports`; SPACE_OUTSIDE is the atmosphere. An edge has its `way`; a way
        that passes both ways is two edges.
        """
        import networkx

        graph = networkx.MultiDiGraph()
        for index, keys in self.ports_of.items():
            graph.add_node(index, name=self.space_name(index), ports=keys)
        graph.add_node(SPACE_OUTSIDE, name="the open air", ports=self.ports_of.get(SPACE_OUTSIDE, ()))
        for way in self.ways:
            graph.add_edge(way.start, way.end, way=way)
            if way.passage.both_ways:
                graph.add_edge(way.end, way.start, way=way)
        return graph


COUPLED = Passage("1", "1", "open while the heads are coupled", both_ways=True, throat="fitting")
"""The way from one coupling head into the other."""

TOWED = ("semi-trailer", "full-trailer", "dolly")
POWERED = ("truck", "tractor", "bus")
CLASSES = POWERED + TOWED
COMBINATION = "combination"
"""The class word of several vehicles coupled together."""
