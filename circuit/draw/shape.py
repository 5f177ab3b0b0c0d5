"""The size of each body: growth with its lines, places of ports and small parts, room for text. Lengths in U."""

from math import ceil

from circuit.draw import text
from circuit.draw.parts import LEFT, RIGHT, Body, Small, is_open, is_wheel, own_name, places
from circuit.declaring.kind import Port
from circuit.declaring.symbol import Point, Ring, Symbol
from circuit.declaring.traits import Role
from circuit.model.circuit import Circuit

ROW = 1.25
"""From one row of text to the next, U."""
EXHAUST = 1.5
"""How far an open exhaust's triangle sticks out."""
BETWEEN_WHEELS = 2
_WIDEST = 20
"""How wide a body may grow for its name."""
WHEEL = 11.4
"""Where a wheel ends, from the left of its chamber."""


def label(body: Body) -> list[tuple[str, float, bool]]:
    """The lines of text at a device: words, size in px, bold."""
    if body.flag is not None:
        return []
    return [(body.name, text.LETTER, True), *((words, text.LETTER, False) for words in body.notes)]


def small_label(small: Small) -> list[str]:
    """The lines of text at a small part."""
    return [small.name, *text.figures(small.device)]


def axle_label(circuit: Circuit, whole: Body) -> str:
    """What stands at an axle."""
    return f"axle {own_name(circuit, whole.axle)}"


def label_height(lines: list[tuple[str, float, bool]]) -> float:
    return ROW * len(lines)


def label_width(lines: list[tuple[str, float, bool]]) -> float:
    return max(text.width(words, size, bold) for words, size, bold in lines) / 10


def goes_inside(body: Body) -> bool:
    """Whether name and figures fit into the body."""
    lines = label(body)
    return (body.symbol.inside and label_width(lines) <= body.width - (3 if body.symbol.body == "capsule" else 0.8)
            and label_height(lines) <= body.height - 0.2)


def goes_below(circuit: Circuit, body: Body) -> bool:
    """Whether the text stands under the body, because the upper side is taken."""
    if any(not small.hangs for small in body.smalls):
        return True
    return any(is_open(circuit, body.device, port) and body.ports.get(port.number, (0, 1))[1] == 0
               for port in body.device.kind.ports)


def overhang(symbol: Symbol) -> tuple[float, float]:
    """How far the marks stick out above and below the body as declared."""
    ys: list[float] = [0, symbol.height]
    for mark in symbol.marks:
        if isinstance(mark, Ring):
            ys += [mark.centre[1] - mark.radius, mark.centre[1] + mark.radius]
        else:
            ys += [y for _, y in mark.points]
    return -min(ys), max(ys) - symbol.height


def shape(circuit: Circuit, body: Body) -> None:
    """Work out everything about a body that does not depend on where it stands; again after a flip."""
    if body.parts:
        _shape_axle(circuit, body)
    else:
        _shape_one(circuit, body)


def turn_over(circuit: Circuit, whole: Body, part: Body) -> None:
    """Turn a body upside down, or one of the wheels of an axle; ports that may change places keep their order."""
    order = [(slot, slot.y) for slot in part.slots if slot.free]
    part.flipped = not part.flipped
    shape(circuit, whole)
    for slot, y in order:
        slot.y = y


def _shape_axle(circuit: Circuit, body: Body) -> None:
    below = 0
    placed: list[tuple[Body, int]] = []
    for part, _ in body.parts:
        _shape_one(circuit, part)
        below += ceil(part.top) if placed else 0
        placed.append((part, below))
        for slot in part.slots:
            slot.drop = below
        below += part.height + BETWEEN_WHEELS
    body.parts = placed
    first, last = placed[0][0], placed[-1][0]
    body.width, body.height = max(part.width for part, _ in placed), below - BETWEEN_WHEELS
    body.top, body.bottom = max(first.top, 0.5), max(last.bottom, 0.5) + (1.5 if len(placed) == 1 else 0)
    body.before = max(part.before for part, _ in placed)
    body.after = max(*(part.after for part, _ in placed),
                     WHEEL + 0.6 + text.width(axle_label(circuit, body), text.LETTER, True) / 10 - body.width)


def _shape_one(circuit: Circuit, body: Body) -> None:
    symbol = body.symbol
    if body.flag is not None:
        body.width, body.height, body.top, body.bottom = symbol.width, symbol.height, 0.2, 0.2
        for slot in body.slots:
            slot.x, slot.y = symbol.ports[slot.port]
        return
    left, right = (sum(slot.grows and slot.side == side for slot in body.slots) for side in (LEFT, RIGHT))
    body.height = max(symbol.height, 2 * left, 2 * right)
    body.height += (body.height - symbol.height) % 2
    body.shift = (body.height - symbol.height) // 2
    body.width = symbol.width
    standing = [small for small in body.smalls if not small.hangs]
    hanging = [small for small in body.smalls if small.hangs]
    if symbol.body == "capsule":
        need = max(sum(_room(small) for small in row) + 3 for row in (standing, hanging))
        if symbol.inside and label_width(label(body)) < _WIDEST - 3:
            need = max(need, label_width(label(body)) + 3.2)
        body.width = max(body.width, 2 * ceil(need / 2))
    word, value = symbol.turned_by
    body.turned = bool(word) and body.device.settings.get(word) == value
    body.ports = {number: _placed(body, place) for number, place in _all_ports(body).items()}
    for slot in body.slots:
        if not slot.grows:
            slot.x, slot.y = body.ports[slot.port]
    spread(body)
    _spread_holes(body)
    _leave(circuit, body)
    above, below = overhang(symbol)
    if body.flipped:
        above, below = below, above
    for port in body.device.kind.ports:
        if is_open(circuit, body.device, port) and port.number in body.ports:
            y = body.ports[port.number][1]
            above = max(above, EXHAUST if y == 0 else 0)
            below = max(below, EXHAUST if y == body.height else 0)
    above = max([above, *(0.6 - slot.leave for slot in body.slots if slot.leave < 0)])
    below = max([below, *(0.6 + slot.leave for slot in body.slots if slot.leave > 0)])
    above = _stand(body, standing, above)
    below = _stand(body, hanging, below)
    lines = label(body)
    spans = [small.x + sign * _room(small) / 2 for small in body.smalls for sign in (-1, 1)]
    if is_wheel(body.device):
        body.after = WHEEL + 0.6 + label_width(lines) - body.width
        body.before = 0
    elif not goes_inside(body):
        high = label_height(lines) + 0.3
        above, below = (above, below + high) if goes_below(circuit, body) else (above + high, below)
        middle, half = body.width / 2, label_width(lines) / 2 + 0.2
        spans += [middle - half, middle + half]
    if not is_wheel(body.device):
        body.before = max([0, *(-x for x in spans)])
        body.after = max([0, *(x - body.width for x in spans)])
    body.top, body.bottom = above, below


def _all_ports(body: Body) -> dict[str, Point]:
    """The symbol's ports, and on the lower edge those it says nothing of but that are in use."""
    ports = places(body.symbol)
    x = 1
    for slot in body.slots:
        if not slot.grows and slot.port not in ports:
            while any(place == (x, body.symbol.height) for place in ports.values()):
                x += 1
            ports[slot.port] = (x, body.symbol.height)
    return ports


def _placed(body: Body, place: Point) -> Point:
    """A place of the symbol on the grown, turned and flipped body."""
    x, y = place
    if y == body.symbol.height:
        y = body.height
    elif y != 0:
        y += body.shift
    if x == body.symbol.width:
        x = body.width
    return (body.width - x if body.turned else x, body.height - y if body.flipped else y)


def spread(body: Body) -> None:
    """Give the lines of a port that grows their heights on each side, in the order in which they stand in the list."""
    for side in (LEFT, RIGHT):
        grown = [slot for slot in body.slots if slot.grows and slot.side == side]
        for i, slot in enumerate(grown):
            slot.x = 0 if side == LEFT else body.width
            slot.y = body.height // 2 + 2 * i - (len(grown) - 1)


def _spread_holes(body: Body) -> None:
    """Give the lines at the holes of one port their heights, one U from each other."""
    for port in dict.fromkeys(slot.hole for slot in body.slots if slot.hole):
        holes = [slot for slot in body.slots if slot.hole == port]
        first = body.ports[port][1] - (len(holes) // 2 if body.flipped else (len(holes) - 1) // 2)
        for place, slot in enumerate(holes):
            slot.y = first + place


def _leave(circuit: Circuit, body: Body) -> None:
    """How far ports on the upper and lower edge run outward: past exhausts and past each other."""
    for edge, away in ((0, -1), (body.height, 1)):
        here = [slot for slot in body.slots if slot.y == edge and 0 < slot.x < body.width]
        here.sort(key=lambda slot: slot.x if slot.side == LEFT else body.width - slot.x)
        exhausts = [
            body.ports[port.number][0] for port in body.device.kind.ports
            if is_open(circuit, body.device, port) and body.ports.get(port.number, (0, -1))[1] == edge
        ]
        for place, slot in enumerate(here):
            passed = any(x < slot.x if slot.side == LEFT else x > slot.x for x in exhausts)
            slot.leave = away * (1 + place + (2 if passed else 0))


def _room(small: Small) -> float:
    """How wide a small part is with its text."""
    return max(small.symbol.width, *(text.width(words, text.LETTER) / 10 for words in small_label(small))) + 0.7


def _stand(body: Body, row: list[Small], taken: float) -> float:
    """Place small parts side by side on one edge; returns how far that edge's things then stick out."""
    if not row:
        return taken
    whole = sum(_room(small) for small in row)
    at = body.width / 2 - whole / 2
    beside = [body.ports[small.port][0] for small in row if small.port in body.ports]
    if taken and beside and len(beside) == len(row) and len(set(beside)) == 1 and beside[0] in (0, body.width):
        # a pedal or a lever has the middle: stand at the end where the port is
        at = 0.6 - _room(row[0]) / 2 if beside[0] == 0 else body.width - 0.6 + _room(row[-1]) / 2 - whole
    for small in row:
        small.x = round(at + _room(small) / 2, 1)
        at += _room(small)
        small.stem = taken + 0.2 if taken else 0
    return max(
        small.stem + small.symbol.height + len(small_label(small)) * ROW + 0.3
        + (EXHAUST if any(_breathes(small, port) for port in small.device.kind.ports) else 0)
        for small in row
    )


def _breathes(small: Small, port: Port) -> bool:
    """Whether a port is an exhaust at the end away from the host."""
    place = small.symbol.ports.get(port.number)
    far = small.symbol.height if small.hangs else 0
    return port.role is Role.EXHAUST and place is not None and place[1] == far
