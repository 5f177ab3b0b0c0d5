"""Text and small marks on the sheet: fixed ones first, then tags, flags and line labels wherever there is room.

All in U. A place is free when its box meets no other box and no line; a line label that finds none is left out and
counted, a flag is always placed.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from circuit.draw import pressure, shape, text
from circuit.draw.layout import Layout
from circuit.draw.measure import Box, boxes_meet, line_meets
from circuit.draw.parts import LEFT, RIGHT, Body, Small, is_open, is_wheel, own_name
from circuit.draw.tree import Drawn, Stretch
from circuit.declaring.symbol import Point
from circuit.declaring.traits import Role


_TAGGED = 12
"""From how many U of line on a wire carries its circuit's tag."""


@dataclass(slots=True)
class Text:
    """Words with the start of their base line. anchor: start, middle or end. upright: turned a quarter left.

    owner: the device or line it names. what: "name", "figure", "small", "port", "tube", "tee" or "axle".
    """

    x: float
    y: float
    words: str
    size: float
    what: str
    owner: str = ""
    bold: bool = False
    anchor: str = "start"
    upright: bool = False

    @property
    def box(self) -> Box:
        wide = text.width(self.words, self.size, self.bold) / 10
        up, down = 0.078 * self.size, 0.022 * self.size
        back = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        if self.upright:
            return self.x - up, self.y - wide + back, self.x + down, self.y + back
        return self.x - back, self.y - up, self.x - back + wide, self.y + down


@dataclass(slots=True)
class Spot:
    """A tag or a flag. of: index of the wire, or of the mark."""

    x: float
    y: float
    of: int


@dataclass(slots=True)
class Space:
    """What is taken: boxes, and lines as thin boxes, in buckets by x so that a question looks at few."""

    boxes: dict[int, list[Box]] = field(default_factory=dict)
    lines: dict[int, list[Stretch]] = field(default_factory=dict)

    def take(self, box: Box) -> None:
        for cell in _cells(box[0], box[2]):
            self.boxes.setdefault(cell, []).append(box)

    def copy(self) -> "Space":
        """The same, to be filled on its own."""
        return Space({cell: list(row) for cell, row in self.boxes.items()},
                     {cell: list(row) for cell, row in self.lines.items()})

    def run(self, stretch: Stretch) -> None:
        for cell in _cells(stretch.start[0], stretch.end[0]):
            self.lines.setdefault(cell, []).append(stretch)

    def is_free(self, box: Box, pad: float = 0.25, over: tuple[Stretch, ...] = ()) -> bool:
        """Whether a box with a margin meets nothing. over: lines it may lie on."""
        wide = (box[0] - pad, box[1] - pad / 2, box[2] + pad, box[3] + pad / 2)
        for cell in _cells(wide[0], wide[2]):
            if any(boxes_meet(wide, other) for other in self.boxes.get(cell, ())):
                return False
            if any(line_meets(line, wide) for line in self.lines.get(cell, ()) if not any(line is o for o in over)):
                return False
        return True


def _cells(left: float, right: float) -> range:
    return range(int(left // 8), int(right // 8) + 1)


@dataclass(slots=True)
class Lettering:
    """texts: all words. tags: wire index and place. flags: mark index and place. unplaced: lines without a label.

    leaders: from a tee to its name where that stands further off. pills: space and place of a written pressure.
    """

    texts: list[Text] = field(default_factory=list)
    tags: list[Spot] = field(default_factory=list)
    flags: list[Spot] = field(default_factory=list)
    unplaced: list[str] = field(default_factory=list)
    leaders: list[tuple[Point, Point]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    pills: list[Spot] = field(default_factory=list)


def letter(layout: Layout, marked: tuple[str, ...], pilled: bool = False) -> Lettering:
    """Place all words, tags and flags. marked: the device or line each flag is for, in their order.

    pilled: places for pressures too; they may stand where tags do, because one sheet shows either these or those.
    """
    result = Lettering()
    space = Space()
    for wire in layout.wires:
        for stretch in wire.stretches:
            space.run(stretch)
    for body in layout.bodies:
        for box in body_boxes(layout, body):
            space.take(box)
            result.boxes.append(box)
        result.texts += _at_body(layout, body)
    for whole in layout.wheels:
        result.texts.append(_axle(layout, whole))
    for words in result.texts:
        space.take(words.box)
    _flags(layout, marked, space, result)
    for wire in layout.wires:
        for name, place in wire.tees.items():
            _tee(name, own_name(layout.circuit, name), place, space, result)
    jobs = [(drawn, place) for drawn in layout.wires for place in range(len(drawn.wire.runs))]
    jobs.sort(key=lambda job: (max((s.length for s in job[0].own[job[1]]), default=0), job[0].wire.number, job[1]))
    for drawn, number in jobs:
        line = drawn.wire.runs[number].line
        label = text.line_label(line) if line is not None else ""
        if line is not None and label and not _beside(label, line.name, drawn.own[number], space, result):
            result.unplaced.append(line.name)
    if pilled:
        pressure.place_pills(layout, space.copy(), result)
    for number, wire in enumerate(layout.wires):
        _tag(number, wire, space, result)
    return result


# --- what is taken by the body -------------------------------------------------------------------------------------


def body_boxes(layout: Layout, body: Body) -> Iterator[Box]:
    """Boxes of a body: itself with what sticks out of it, its small parts, exhausts, and its wheel."""
    over, under = shape.overhang(body.symbol)
    if body.flipped:
        over, under = under, over
    yield body.x + 0.05, body.y - over, body.x + body.width - 0.05, body.y + body.height + under
    if is_wheel(body.device):
        yield body.x + body.width, body.y - 0.3, body.x + shape.WHEEL, body.y + body.height + 0.3
    for port in body.device.kind.ports:
        if is_open(layout.circuit, body.device, port) and port.number in body.ports:
            x, y = body.ports[port.number]
            x, y = x + body.x, y + body.y
            down = y > body.y
            yield (x - 0.6, y, x + 0.6, y + shape.EXHAUST) if down else (x - 0.6, y - shape.EXHAUST, x + 0.6, y)
        elif (body.device.name, port.number) in layout.circuit.plugged:
            x, y = plug_at(body, port.number)
            yield body.x + x - 0.9, body.y + y - 0.7, body.x + x + 0.9, body.y + y + 0.7
    for small in body.smalls:
        x, y = small_at(body, small)
        yield x - 0.1, min(y, y - small.stem), x + small.symbol.width + 0.1, y + small.symbol.height + small.stem


def plug_at(body: Body, number: str) -> Point:
    """Where a plugged port is on the body: at its own place, or beside the lines it has."""
    taken = [slot for slot in body.slots if slot.port == number]
    if taken:
        last = max(taken, key=lambda slot: slot.y)
        return last.x, last.y + 1
    return body.ports.get(number, (body.width, body.height / 2))


def small_at(body: Body, small: Small) -> Point:
    """The upper left corner of a small part."""
    x = body.x + small.x - small.symbol.width / 2
    if small.hangs:
        return x, body.y + body.height + small.stem
    return x, body.y - small.stem - small.symbol.height


def _at_body(layout: Layout, body: Body) -> Iterator[Text]:
    lines = shape.label(body)
    name = body.device.name
    if is_wheel(body.device):
        y = body.y + body.height / 2 - shape.label_height(lines) / 2
        x, anchor = body.x + shape.WHEEL + 0.5, "start"
    elif shape.goes_inside(body):
        y = body.y + body.height / 2 - shape.label_height(lines) / 2
        x, anchor = body.x + body.width / 2, "middle"
    elif shape.goes_below(layout.circuit, body):
        y = body.y + body.height + body.bottom - shape.label_height(lines)
        x, anchor = body.x + body.width / 2, "middle"
    else:
        y = body.y - body.top
        x, anchor = body.x + body.width / 2, "middle"
    for words, size, bold in lines:
        y += shape.NAME_LINE if bold else shape.FIGURE_LINE
        yield Text(x, y - 0.28, words, size, "name" if bold else "figure", name, bold, anchor)
    for small in body.smalls:
        yield from _at_small(body, small)
    yield from _port_numbers(layout, body)


def _at_small(body: Body, small: Small) -> Iterator[Text]:
    x, y = small_at(body, small)
    rows = shape.small_label(small)
    y = y + small.symbol.height + 0.15 if small.hangs else y - len(rows) * shape.SMALL_LINE - 0.1
    has_exhaust = any(p.role is Role.EXHAUST and p.number in small.symbol.ports for p in small.device.kind.ports)
    if has_exhaust:
        y += shape.EXHAUST if small.hangs else -shape.EXHAUST
    for words in rows:
        y += shape.SMALL_LINE
        yield Text(body.x + small.x, y - 0.2, words, text.SMALL, "small", small.device.name, anchor="middle")


def _port_numbers(layout: Layout, body: Body) -> Iterator[Text]:
    """Numbers of the ports in use, beside their lines, not of a thing with one port; a small part writes its own."""
    if len([p for p in body.device.kind.ports if p.role is not Role.EXHAUST]) < 2:
        return
    for slot in body.slots:
        yield _number(body, slot.port, slot.x, slot.y, slot.side)
    joined = {slot.port for slot in body.slots} | {small.port for small in body.smalls}
    for port in body.device.kind.ports:
        key = (body.device.name, port.number)
        unused = port.number not in joined and port.number in body.ports
        if unused and port.role is not Role.EXHAUST and (port.required or key in layout.circuit.plugged):
            yield _number(body, port.number, *body.ports[port.number])


def _number(body: Body, number: str, x: float, y: float, turns: int = LEFT) -> Text:
    at = body.x + x, body.y + y
    if x == 0:
        return Text(at[0] - 0.2, at[1] - 0.3, number, text.PORT, "port", body.device.name, anchor="end")
    if x == body.width:
        return Text(at[0] + 0.2, at[1] - 0.3, number, text.PORT, "port", body.device.name)
    low = at[1] + 0.8 if y else at[1] - 0.3
    away = LEFT if turns == RIGHT else RIGHT  # beside the stub, on the side its line does not turn to
    return Text(at[0] + 0.25 * away, low, number, text.PORT, "port", body.device.name,
                anchor="end" if away == LEFT else "start")


def _axle(layout: Layout, whole: Body) -> Text:
    first = whole.parts[0][0]
    y = (whole.parts[1][0].y - shape.BETWEEN_WHEELS / 2 if len(whole.parts) > 1
         else first.y + first.height + 1.0)
    return Text(whole.x + shape.WHEEL + 0.5, y + 0.32, shape.axle_label(layout.circuit, whole), text.NAME, "axle", bold=True)


# --- what looks for room -------------------------------------------------------------------------------------------


def _flags(layout: Layout, marked: tuple[str, ...], space: Space, result: Lettering) -> None:
    for number, name in enumerate(marked):
        spots = list(_flag_spots(layout, name))
        if not spots:
            continue
        free = [s for s in spots if space.is_free((s[0] - 1, s[1] - 1, s[0] + 1, s[1] + 1), 0.1)]
        x, y = free[0] if free else next(
            (s for s in spots if all(abs(s[0] - f.x) >= 1.8 or abs(s[1] - f.y) >= 1.8 for f in result.flags)), spots[0])
        result.flags.append(Spot(x, y, number))
        space.take((x - 1, y - 1, x + 1, y + 1))


def _flag_spots(layout: Layout, name: str) -> Iterator[Point]:
    """Places for a flag, best first: at the corners of a device, beside a line."""
    for body in layout.bodies:
        if body.device.name == name:
            left, right, top, low = body.x - 1.1, body.x + body.width + 1.1, body.y - 1.1, body.y + body.height + 1.1
            yield from _around(left, top, right, low)
            return
        for small in body.smalls:
            if small.device.name == name:
                x, y = small_at(body, small)
                yield from _around(x - 1.1, y, x + small.symbol.width + 1.1, y + small.symbol.height)
                return
    for drawn in layout.wires:
        if name in drawn.tees:
            x, y = drawn.tees[name]
            yield from _around(x - 1.4, y - 1.4, x + 1.4, y + 1.4)
            return
        for place, run in enumerate(drawn.wire.runs):
            if run.line is not None and run.line.name == name:
                for stretch in sorted(drawn.own[place], key=lambda s: -s.length):
                    for share in (0.5, 0.3, 0.7, 0.15, 0.85):
                        x, y = _along(stretch, share)
                        yield from ((x, y - 1.3), (x, y + 1.3)) if stretch.level else ((x + 1.3, y), (x - 1.3, y))
                return


def _around(left: float, top: float, right: float, low: float) -> Iterator[Point]:
    for further in (0.0, 1.0, 2.0):
        yield right + further, top - further
        yield left - further, top - further
        yield right + further, low + further
        yield left - further, low + further
        yield right + further, top - further - 2
        yield left - further, top - further - 2
    middle = (left + right) / 2
    yield from ((middle, top - 1), (middle, low + 1), (middle, (top + low) / 2))


def _along(stretch: Stretch, share: float) -> Point:
    (x0, y0), (x1, y1) = stretch.start, stretch.end
    return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


def _tag(number: int, drawn: Drawn, space: Space, result: Lettering) -> None:
    """The circuit's tag on the longest stretch that has room for it."""
    if sum(s.length for s in drawn.stretches) < _TAGGED:
        return
    for stretch in sorted(drawn.stretches, key=lambda s: (-s.length, s.start)):
        if stretch.length < 3:
            return
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
            x, y = _along(stretch, share)
            box = (x - 0.85, y - 0.85, x + 0.85, y + 0.85)
            joint_near = any(abs(x - j[0]) + abs(y - j[1]) < 1.5 for j in drawn.joints)
            if not joint_near and space.is_free(box, 0.2, over=(stretch,)):
                result.tags.append(Spot(x, y, number))
                space.take(box)
                return


def _tee(owner: str, name: str, place: Point, space: Space, result: Lettering) -> None:
    """A tee's name beside its dot, or further off with a leader to it."""
    x, y = place
    near = [(0.4, -0.4, "start"), (-0.4, -0.4, "end"), (0.4, 1.0, "start"), (-0.4, 1.0, "end")]
    far = [(dx, dy, anchor) for reach in range(2, 9) for dy in (-reach, reach + 0.5)
           for dx, anchor in ((0.4, "start"), (-0.4, "end"), (0.5 * reach, "start"), (-0.5 * reach, "end"))]
    for dx, dy, anchor in near + far:
        words = Text(x + dx, y + dy, name, text.SMALL, "tee", owner, anchor=anchor)
        if space.is_free(words.box, 0.35):
            break
    else:
        words = Text(x + 0.4, y - 0.4, name, text.SMALL, "tee", owner)
    if abs(words.y - y) > 1.5:
        result.leaders.append((place, (words.x, words.y + (0.2 if words.y < y else -0.6))))
    result.texts.append(words)
    space.take(words.box)


def _beside(words: str, owner: str, stretches: Iterable[Stretch], space: Space, result: Lettering) -> bool:
    """A line's size and length beside its longest stretch with room: above, then below; upright ones turned."""
    long = text.width(words, text.TUBE) / 10 + 0.4
    for stretch in sorted(stretches, key=lambda s: (not s.level, -s.length, s.start)):
        if stretch.length < long:
            continue
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            x, y = _along(stretch, share)
            inside = (min(abs(x - stretch.start[0]), abs(x - stretch.end[0])) if stretch.level
                      else min(abs(y - stretch.start[1]), abs(y - stretch.end[1])))
            if inside < long / 2 - 0.2:
                continue
            for off in (-0.45, 1.0):
                place = (x, y + off) if stretch.level else (x + off, y)
                label = Text(*place, words, text.TUBE, "tube", owner, anchor="middle", upright=not stretch.level)
                if space.is_free(label.box, 0.3):
                    result.texts.append(label)
                    space.take(label.box)
                    return True
    return False
