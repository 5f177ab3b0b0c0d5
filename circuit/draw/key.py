"""The key to several sheets: every band as a box with the parts in it, and the lines between them by their numbers.

It is an overview without sizes. A box says on which sheet it is; a line has the number of its flags at both ends.
"""

from circuit.declaring.kind import Kind, Port
from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Group, Role, Trait
from circuit.draw import shape
from circuit.draw.extent import extent
from circuit.draw.layout import Frame, Layout, place_parts
from circuit.draw.parts import LEFT, RIGHT, Body, Parts, Run, Slot, Wire
from circuit.draw.roles import Roles
from circuit.draw.text import LETTER, width
from circuit.model.circuit import Circuit
from circuit.model.devices import Device

_BAND = Kind("band", "a part of the drawing", Group.LINES, "", "", (Port("a", Role.END, required=False),
                                                                    Port("b", Role.END, required=False)))
"""What stands for a kind where a band is a box."""
_WIDEST, _ASPECT = 17.0, 2.0
"""Of a row of parts' names, U; width to height of the whole."""


def key_of(folded: list[Layout], first: int, wide: float) -> Layout:
    """The overview of some sheets. first: the number of the first of them. wide: U, how wide it may be."""
    key = _key(folded, first, 99)
    for most in range(5, 1, -1):
        left, _, right, _ = extent(key)
        if right - left <= wide:
            break
        key = _key(folded, first, most)
    return key


def _key(folded: list[Layout], first: int, most: int) -> Layout:
    """The same in at most so many columns."""
    circuit = folded[0].circuit
    bodies: list[Body] = []
    of_flag: dict[int, list[tuple[Body, Body]]] = {}
    for number, sheet in enumerate(folded, first):
        frames = sheet.frames or [Frame("all of it", -1e9, -1e9, 2e9, 2e9)]
        for frame in frames:
            inside = [body for body in sheet.bodies if frame.left <= body.x <= frame.left + frame.wide
                      and frame.top <= body.y <= frame.top + frame.high]
            box = _box(circuit, frame, number, len(bodies), [body for body in inside if body.flag is None])
            bodies.append(box)
            for body in inside:
                if body.flag is not None:
                    of_flag.setdefault(body.flag.number, []).append((box, body))
    wires = [wire for number, ends in sorted(of_flag.items()) for wire in _wire(folded, number, ends)]
    for place, wire in enumerate(wires):
        wire.number = place
    count = _columns(bodies, wires, most)
    for body in bodies:
        shape.shape(circuit, body)
    roles = Roles(folded[0].roles.circuits)
    return place_parts(circuit, Parts(bodies, wires, {}), roles, count, aspect=_ASPECT)


def _box(circuit: Circuit, frame: Frame, sheet: int, number: int, inside: list[Body]) -> Body:
    names = [body.name for body in inside if body.device.has(Trait.COMPRESSES) or not body.device.kind.small]
    title, _, axles = frame.title.partition(": ")
    rows = [*filter(None, (frame.vehicle, axles)), f"sheet {sheet}", *_rows(names)]
    wide = max(width(title, LETTER, True), *(width(row, LETTER) for row in rows)) / 10 + 2
    high = 2 * int((shape.ROW * (len(rows) + 1) + 1.5) / 2 + 1)
    device = Device(f"band {number}", _BAND, {}, {}, circuit.vehicle.span)
    symbol = Symbol(2 * int(wide / 2 + 1), high, body="round", grows="line", both=True, inside=True)
    return Body(device, symbol, name=title, notes=tuple(rows))


def _rows(names: list[str]) -> list[str]:
    """Names in rows that are not too long."""
    rows: list[str] = []
    for name in names:
        longer = f"{rows[-1]}, {name}" if rows else name
        if rows and width(longer, LETTER) / 10 <= _WIDEST:
            rows[-1] = longer
        else:
            rows.append(name)
    return rows


def _wire(folded: list[Layout], number: int, ends: list[tuple[Body, Body]]) -> list[Wire]:
    """A cut line as a line between two boxes."""
    (one, near), (other, far) = sorted(ends, key=lambda end: end[1].flag is None or not end[1].flag.leaves)
    found = next(((drawn.wire, run) for sheet in folded for drawn in sheet.wires for run in drawn.wire.runs
                  if near.slots[0] in (run.start, run.end)), None)
    if found is None or one is other:
        return []
    wire, run = found
    slots = [Slot(body, str(number), grows=True, free=True) for body in (one, other)]
    made = Wire(0, [Run(run.line, slots[0], slots[1], run.ports, number=run.number, role=run.role)], slots,
                circuit=wire.circuit, role=run.role)
    for slot in slots:
        slot.wire = made
        slot.body.slots.append(slot)
    return [made]


def _columns(bodies: list[Body], wires: list[Wire], most: int) -> int:
    """Boxes further right than what feeds them, as far as they stand later; says how many columns there are."""
    order = {id(body): place for place, body in enumerate(bodies)}
    for body in bodies:
        feeders = [wire.slots[0].body for wire in wires if wire.slots[1].body is body]
        body.column = max((one.column + 1 for one in feeders if order[id(one)] < order[id(body)]), default=0)
    last = max(body.column for body in bodies)
    for body in bodies if last >= most else ():
        body.column = body.column * most // (last + 1)
    for wire in wires:
        one, other = wire.slots
        forward = one.body.column < other.body.column
        one.side, other.side = (RIGHT, LEFT) if forward else (RIGHT, RIGHT) if one.body.column == other.body.column \
            else (LEFT, RIGHT)
    used = {column: place for place, column in enumerate(sorted({body.column for body in bodies}))}
    for body in bodies:
        body.column = used[body.column]
    return len(used)
