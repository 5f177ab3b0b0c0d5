"""What is drawn: bodies with their small parts, and wires between places on them. Lengths are in U.

A wire is one tree of lines that meet at shared ports and at plain tees; a port that grows (a reservoir's, a relay's
deliveries) gives each of its lines a place and so a wire of its own. Nothing here knows where on the sheet things go.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from circuit.draw.text import figures
from circuit.declaring.kind import Port
from circuit.declaring.symbol import Point, Symbol
from circuit.declaring.traits import Role, Trait
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Device, PortKey

LEFT, RIGHT = -1, 1
FACING = "facing"
"""In a port's place: the side of a coupling head that faces the other."""


@dataclass(eq=False, slots=True, repr=False)
class Slot:
    """A place on a body where a wire ends.

    side: LEFT or RIGHT, the channel it opens to. x, y: on the body's edge, from its upper left corner. leave: how far
    a port on the upper or lower edge runs outward (negative is up) before it turns to its side; 0 for one on the side.
    grows: one of the lines of a port that grows. free: may change places with the other free ones of its side.
    drop: of its body below the top of its axle's.
    """

    body: "Body"
    port: str
    wire: "Wire | None" = None
    side: int = RIGHT
    x: float = 0
    y: float = 0
    leave: int = 0
    grows: bool = False
    free: bool = False
    drop: int = 0

    @property
    def dy(self) -> int:
        """Where its line runs horizontally, U below the top of what stands in the column."""
        return self.drop + int(self.y) + self.leave


@dataclass(eq=False, slots=True, repr=False)
class Small:
    """A small part on its host, and its name as written. x: of its stem. port: the host's it is on, where that matters."""

    device: Device
    symbol: Symbol
    hangs: bool
    name: str
    x: float = 0.0
    stem: float = 0.0
    port: str = ""


@dataclass(eq=False, slots=True, repr=False)
class Body:
    """A device with its symbol, or the wheels of one axle one above the other (parts).

    width, height: of the body, U. top, bottom, before, after: how far symbol, small parts and text stick out of it.
    column: the stage column. vehicle: of a combination, counted from 0. axle: the axle of a wheel's body, or "".
    name, notes: what is written at it.
    """

    device: Device
    symbol: Symbol
    width: float = 0
    height: int = 0
    slots: list[Slot] = field(default_factory=list)
    smalls: list[Small] = field(default_factory=list)
    ports: dict[str, Point] = field(default_factory=dict)
    shift: int = 0
    flipped: bool = False
    turned: bool = False
    top: float = 0
    bottom: float = 0
    before: float = 0
    after: float = 0
    stage: float = 0
    column: int = 0
    vehicle: int = 0
    axle: str = ""
    parts: "list[tuple[Body, int]]" = field(default_factory=list)
    name: str = ""
    notes: tuple[str, ...] = ()
    x: float = 0
    y: int = 0

    def all(self) -> "Iterator[tuple[Body, int]]":
        """The bodies with a symbol of their own, and how far below the top each stands."""
        yield from self.parts or [(self, 0)]


@dataclass(eq=False, slots=True, repr=False)
class Run:
    """One line of the design, or where a part sits on another (line None). Ends: a slot or a tee's name.

    couples: two heads of a combination, the one of the towing vehicle first.
    """

    line: Device | None
    start: "Slot | str"
    end: "Slot | str"
    ports: tuple[PortKey, PortKey]
    couples: bool = False


@dataclass(eq=False, slots=True, repr=False)
class Wire:
    """A tree of runs that is drawn as one. tees: the names of the tees that are dots in it."""

    number: int
    runs: list[Run] = field(default_factory=list)
    slots: list[Slot] = field(default_factory=list)
    tees: list[str] = field(default_factory=list)
    circuit: int = 0
    role: str = "supply"


@dataclass(slots=True)
class Parts:
    bodies: list[Body]
    wires: list[Wire]
    tees: dict[str, Device]


def plain_symbol(device: Device) -> Symbol:
    """A box with the ports of a kind that declares no symbol: feeds left, deliveries right, exhausts below."""
    left = [p for p in device.kind.ports if p.role in (Role.SUPPLY, Role.CONTROL)]
    right = [p for p in device.kind.ports if p.role is Role.DELIVERY]
    below = [p for p in device.kind.ports if p.role is Role.EXHAUST]
    for port in device.kind.ports:
        if port.role in (Role.SPACE, Role.END):
            (left if len(left) <= len(right) else right).append(port)
    height = max(4, 2 * len(left), 2 * len(right))
    wide = max(6, 2 + 2 * len(below))
    places: dict[str, Point] = {}
    for side, x in ((left, 0), (right, wide)):
        for i, port in enumerate(side):
            places[port.number] = (x, height // 2 + 2 * i - (len(side) - 1))
    for i, port in enumerate(below):
        places[port.number] = (2 + 2 * i, height)
    return Symbol(wide, height, places)


def symbol_of(device: Device) -> Symbol:
    """The kind's own symbol, or the plain box."""
    return device.kind.symbol or plain_symbol(device)


def collect(circuit: Circuit) -> Parts:
    """The bodies, small parts, wires and tees of a circuit, in the order of the design."""
    lines_at: dict[str, list[tuple[str, Device]]] = {}
    for device in circuit.devices:
        for end in device.ends or ():
            lines_at.setdefault(end[0], []).append((end[1], device))
    hosted: dict[str, list[Device]] = {}
    for device in circuit.devices:
        if device.host is not None:
            hosted.setdefault(device.host[0], []).append(device)
    small = _small(circuit, lines_at, hosted)
    tees = {
        device.name for device in circuit.devices
        if device.kind.symbol is not None and device.kind.symbol.joint and device.name not in hosted
        and device.host is None and len(lines_at.get(device.name, ())) > 1
        and not any(key[0] == device.name for key in circuit.plugged)
    }
    while True:
        parts = _build(circuit, small, tees)
        loose = {tee for wire in parts.wires if len(wire.slots) < 2 for tee in wire.tees}
        if not loose:
            return parts
        tees -= loose


def _small(
    circuit: Circuit, lines_at: dict[str, list[tuple[str, Device]]], hosted: dict[str, list[Device]]
) -> set[str]:
    """Parts drawn on their host: small by kind, nothing else joined to them, and the host no line's part itself."""
    found = {
        device.name for device in circuit.devices
        if device.kind.small and device.host is not None and device.name not in lines_at and device.name not in hosted
    }
    return {name for name in found if (host := circuit.by_name[name].host) is not None and host[0] not in found}


def _build(circuit: Circuit, small: set[str], tees: set[str]) -> Parts:
    bodies: dict[str, Body] = {}
    order = {name: place for place, name in enumerate(circuit.vehicles)}
    for device in circuit.devices:
        if not device.is_line and device.name not in small and device.name not in tees:
            bodies[device.name] = Body(device, symbol_of(device), name=own_name(circuit, device.name),
                                       notes=figures(device), vehicle=order.get(vehicle_of(circuit, device), 0))
    slots: dict[tuple[str, ...], Slot] = {}
    parent: dict[object, object] = {}

    def root(key: object) -> object:
        while parent[key] is not key:
            key = parent[key]
        return key

    def place(key: PortKey, line: str) -> Slot | str:
        name, port = key
        if name in tees:
            parent.setdefault(name, name)
            return name
        body = bodies[name]
        grows = body.symbol.grows == port
        own = (name, port, line) if grows else (name, port)
        if own not in slots:
            slots[own] = Slot(body, port, grows=grows, free=grows or port in body.symbol.equal)
            body.slots.append(slots[own])
            parent[slots[own]] = slots[own]
        return slots[own]

    runs = []
    for device in circuit.devices:
        if device.ends is not None:
            keys = device.ends
        elif device.host is not None and device.name not in small:
            keys = (device.host, (device.name, device.kind.ports[0].number))
        else:
            continue
        start, end = place(keys[0], device.name), place(keys[1], device.name)
        runs.append(Run(device if device.is_line else None, start, end, keys))
    for coupling in circuit.couplings:
        front, rear = sorted(coupling.ends, key=lambda name: bodies[name].vehicle)
        first, second = ((name, circuit.by_name[name].kind.ports[0].number) for name in (front, rear))
        runs.append(Run(None, place((front, FACING), ""), place((rear, FACING), ""), (first, second), couples=True))
    for run in runs:
        one, other = root(run.start), root(run.end)
        if one is not other:
            parent[one] = other
    wires: dict[int, Wire] = {}
    for run in runs:
        top = root(run.start)
        wire = wires.setdefault(id(top), Wire(len(wires)))
        wire.runs.append(run)
        for end in (run.start, run.end):
            if isinstance(end, Slot) and end.wire is None:
                end.wire = wire
                wire.slots.append(end)
            elif isinstance(end, str) and end not in wire.tees:
                wire.tees.append(end)
    for device in circuit.devices:
        if device.name in small and device.host is not None:
            host = bodies.get(device.host[0])
            if host is None:
                continue
            several = len([p for p in host.device.kind.ports if p.role is not Role.EXHAUST]) > 1
            symbol = symbol_of(device)
            own = symbol.ports.get(device.kind.ports[0].number, (0, symbol.height))
            host.smalls.append(Small(device, symbol, own[1] == 0, own_name(circuit, device.name),
                                      port=device.host[1] if several else ""))
    return Parts(list(bodies.values()), list(wires.values()), {name: circuit.by_name[name] for name in sorted(tees)})


def places(symbol: Symbol) -> dict[str, Point]:
    """Where a symbol's ports are, and where another is coupled to it."""
    return {**symbol.ports, **({FACING: symbol.faces} if symbol.faces else {})}


def vehicle_of(circuit: Circuit, device: Device) -> str:
    """The vehicle of a combination a device is on, or ""."""
    first = device.name.split(".")[0]
    return first if first in circuit.vehicles else ""


def own_name(circuit: Circuit, name: str) -> str:
    """The name of a thing on its vehicle: that of a combination stands at its frame."""
    first, dot, rest = name.partition(".")
    return rest if dot and first in circuit.vehicles else name


def is_open(circuit: Circuit, device: Device, port: Port) -> bool:
    """Whether an exhaust breathes to the atmosphere where it is."""
    return port.role is Role.EXHAUST and circuit.space.get((device.name, port.number)) == SPACE_OUTSIDE


def is_wheel(device: Device) -> bool:
    """Whether it works on a wheel: drawn with the wheel, beside its axle's other one."""
    return device.has(Trait.SERVICE_ACTUATOR) or device.has(Trait.SPRING_ACTUATOR)
