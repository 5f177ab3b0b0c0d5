"""What is drawn: bodies with their small parts, and wires between places on them. Lengths are in U.

A wire is one tree of lines that meet at shared ports and at plain tees; a port that grows (a reservoir's, a relay's
deliveries) gives each of its lines a place and so a wire of its own; a line that is cut ends in a flag.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from circuit.declaring.kind import Port
from circuit.declaring.symbol import Point, Symbol
from circuit.declaring.traits import Role, Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey

LEFT, RIGHT = -1, 1
FACING = "facing"
"""In a port's place: the side of a coupling head that faces the other."""


@dataclass(eq=False, slots=True, repr=False)
class Slot:
    """A place on a body where a wire ends.

    side: LEFT or RIGHT, the channel it opens to. x, y: on the body's edge, from its upper left corner. leave: how far
    a port on the upper or lower edge runs outward (negative is up) before it turns to its side; 0 for one on the side.
    grows: one of the lines of a port that grows. free: may change places with the other free ones of its side.
    hole: the port, where it has one of several holes.
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
    hole: str = ""

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
    spare: further room above and below it, where the sheet has some. column: the stage column. vehicle: of a
    combination, counted from 0. axle: the axle of a wheel's body, or "".
    name, notes: what is written at it. flag: of the place where a line goes on elsewhere, else None.
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
    spare: float = 0
    stage: float = 0
    column: int = 0
    vehicle: int = 0
    axle: str = ""
    parts: "list[tuple[Body, int]]" = field(default_factory=list)
    name: str = ""
    notes: tuple[str, ...] = ()
    flag: "Flag | None" = None
    x: float = 0
    y: float = 0

    def all(self) -> "Iterator[tuple[Body, int]]":
        """The bodies with a symbol of their own, and how far below the top each stands."""
        yield from self.parts or [(self, 0)]


@dataclass(eq=False, slots=True, repr=False)
class Flag:
    """Where a line is cut: its other part is in another band.

    number: both parts have the same. to: the port it goes on to, in words. near: the port at this end of the line, or
    the tee. leaves: whether the air goes out of this band here. other: the flag at the other part, once both are
    placed. place: the sheet and field of that, or nothing. id: of this flag on its sheet.
    """

    number: int
    to: str
    near: PortKey
    leaves: bool
    other: "Body | None" = None
    place: str = ""
    id: str = ""


@dataclass(eq=False, slots=True, repr=False)
class Run:
    """One line of the design, or where a part sits on another (line None). Ends: a slot or a tee's name.

    couples: two heads of a combination, the one of the towing vehicle first. number: in the order of the design.
    role: what its air is for. flow: 1 where air only goes from its start to its end, -1 the other way, 0 else.
    """

    line: Device | None
    start: "Slot | str"
    end: "Slot | str"
    ports: tuple[PortKey, PortKey]
    couples: bool = False
    number: int = 0
    role: str = "supply"
    flow: int = 0


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


def at(circuit: Circuit, key: PortKey, beside: str = "") -> str:
    """A port in words. beside: the vehicle on which this is said; another's things are called by their whole names."""
    name = own_name(circuit, key[0]) if key[0].split(".")[0] == beside else key[0]
    return name if circuit.by_name[key[0]].kind.only_port or key[1] == FACING else f"{name}.{key[1]}"


def is_open(circuit: Circuit, device: Device, port: Port) -> bool:
    """Whether an exhaust breathes to the atmosphere where it is."""
    return port.role is Role.EXHAUST and circuit.space.get((device.name, port.number)) == SPACE_OUTSIDE


def is_wheel(device: Device) -> bool:
    """Whether it works on a wheel: drawn with the wheel, beside its axle's other one."""
    return device.has(Trait.SERVICE_ACTUATOR) or device.has(Trait.SPRING_ACTUATOR)
