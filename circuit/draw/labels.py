"""What looks for room on the sheet: flags of findings, tees' names, sizes and lengths of lines, tags, pressures. In U.

A place is free when its box meets no other box and no line. A flag is always placed; a line's label that finds no place
beside its line stands further off with a thin line to it.
"""

from collections.abc import Iterator

from circuit.draw import pressure, text
from circuit.draw.fixed import at_axle, at_body, body_boxes, small_at
from circuit.draw.layout import Layout
from circuit.draw.parts import own_name
from circuit.draw.room import Lettering, Space, Spot, Text
from circuit.draw.tree import Drawn, Stretch
from circuit.declaring.symbol import Point

_TAGGED = 12
"""From how many U of line on a wire carries its circuit's tag."""
_TAG = 1.25
"""Half the room of a tag."""
_ABOVE, _BELOW = -0.45, 1.3
"""From a line to the base line of the words above and below it."""
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)
_REACH = 14
"""How far off a label may stand, U."""


def letter(layout: Layout, marked: tuple[str, ...] = (), pilled: bool = False, sizes: bool = True) -> Lettering:
    """Place all words, tags and flags. marked: the device or line each flag is for, in their order.

    pilled: places for pressures too; they may stand where tags do, because one sheet shows either these or those.
    sizes: whether lines have theirs and their lengths written beside them.
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
        result.texts += at_body(layout, body)
    for whole in layout.wheels:
        result.texts.append(at_axle(layout, whole))
    for words in result.texts:
        space.take(words.box)
    for frame in layout.frames:
        space.take((frame.left, frame.top, frame.left + frame.wide, frame.top + 1.6))
    _flags(layout, marked, space, result)
    for wire in layout.wires:
        for name, place in wire.tees.items():
            _tee(name, own_name(layout.circuit, name), place, space, result)
    jobs = [(drawn, place) for drawn in layout.wires for place in range(len(drawn.wire.runs))]
    jobs.sort(key=lambda job: (max((s.length for s in job[0].own[job[1]]), default=0), job[0].wire.number, job[1]))
    late = []
    for drawn, number in jobs:
        line = drawn.wire.runs[number].line
        words_ = text.line_words(line) if line is not None and sizes else ()
        if line is not None and words_ and not _beside(words_, line.name, drawn.own[number], space, result):
            late.append((words_, line.name, drawn.own[number]))
    for words_, name, own in late:
        if not _further_off(words_, name, own, space, result):
            result.unplaced.append(name)
    if pilled:
        pressure.place_pills(layout, space.copy(), result)
    for number, wire in enumerate(layout.wires):
        _tag(number, wire, space, result)
    for wire in layout.wires:
        for number in range(len(wire.wire.runs)):
            _arrow(wire, number, space, result)
    return result


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
            box = (x - _TAG, y - _TAG, x + _TAG, y + _TAG)
            joint_near = any(abs(x - j[0]) + abs(y - j[1]) < 2 for j in drawn.joints)
            if not joint_near and space.is_free(box, 0.2, over=(stretch,)):
                result.tags.append(Spot(x, y, number))
                space.take(box)
                return


def _arrow(drawn: Drawn, place: int, space: Space, result: Lettering) -> None:
    """A head on a line whose air only goes one way, near where it goes in, or else near where it comes from."""
    run = drawn.wire.runs[place]
    if not run.flow:
        return
    ends = (run.start, run.end) if run.flow > 0 else (run.end, run.start)
    for end, into in ((ends[1], 1), (ends[0], -1)):
        at = drawn.tees[end] if isinstance(end, str) else (end.body.x + end.x, end.body.y + end.y)
        for stretch in drawn.own[place]:
            starts, ends_here = _same(at, stretch.start), _same(at, stretch.end)
            if not (starts or ends_here) or stretch.length < 3:
                continue
            along = tuple(s for s in drawn.stretches if s.level == stretch.level)
            far = stretch.end if starts else stretch.start
            way = ((at[0] - far[0]) / stretch.length, (at[1] - far[1]) / stretch.length)  # towards the end
            for back in (2.2, 1.4, 3.2, stretch.length / 2):
                tip = (at[0] - back * way[0], at[1] - back * way[1])
                middle = (tip[0] - 0.5 * way[0] * into, tip[1] - 0.5 * way[1] * into)
                box = (middle[0] - 0.55, middle[1] - 0.45, middle[0] + 0.55, middle[1] + 0.45)
                if back < stretch.length - 1 and space.is_free(box, 0.1, over=along):
                    result.arrows.append((tip, (way[0] * into, way[1] * into), drawn.wire.circuit))
                    space.take(box)
                    return


def _same(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) + abs(one[1] - other[1]) < 1e-6


def _tee(owner: str, name: str, place: Point, space: Space, result: Lettering) -> None:
    """A tee's name beside its dot, or further off with a leader to it."""
    x, y = place
    near = [(0.5, -0.5, "start"), (-0.5, -0.5, "end"), (0.5, 1.35, "start"), (-0.5, 1.35, "end")]
    far = [(dx, dy, anchor) for reach in range(2, 9) for dy in (-reach, reach + 0.8)
           for dx, anchor in ((0.4, "start"), (-0.4, "end"), (0.5 * reach, "start"), (-0.5 * reach, "end"))]
    for dx, dy, anchor in near + far:
        words = Text(x + dx, y + dy, name, text.LETTER, "tee", owner, anchor=anchor)
        if space.is_free(words.box, 0.35):
            break
    else:
        words = Text(x + 0.4, y - 0.4, name, text.LETTER, "tee", owner)
    if abs(words.y - y) > 1.6:
        result.leaders.append((place, (words.x, words.y + (0.3 if words.y < y else -0.9))))
    result.texts.append(words)
    space.take(words.box)


def _beside(words: tuple[str, ...], owner: str, stretches: list[Stretch], space: Space, result: Lettering) -> bool:
    """A line's size and length beside its longest stretch with room: in one row, or the size above and the length below."""
    order = sorted(stretches, key=lambda s: (not s.level, -s.length, s.start))
    rows = text.JOIN.join(words)
    for inside in (True, False):
        for stretch in order:
            ways: list[tuple[tuple[str, float], ...]] = [((rows, _ABOVE),), ((rows, _BELOW),)]
            if len(words) == 2:
                ways.append(((words[0], _ABOVE), (words[1], _BELOW)))
            for way in ways:
                long = max(text.width(each, text.LETTER) for each, _ in way) / 10 + 0.4
                if inside and stretch.length < long or stretch.length < 1.5:
                    continue
                for share in _SHARES:
                    x, y = _along(stretch, share)
                    if inside and min(share, 1 - share) * stretch.length < long / 2 - 0.2:
                        continue
                    labels = [Text(*((x, y + off) if stretch.level else (x + off, y)), each, text.LETTER, "tube", owner,
                                   anchor="middle", upright=not stretch.level) for each, off in way]
                    if all(space.is_free(label.box, 0.25) for label in labels):
                        _take(labels, space, result)
                        return True
    return False


def _further_off(words: tuple[str, ...], owner: str, stretches: list[Stretch], space: Space, result: Lettering) -> bool:
    """The same in one row at the nearest free place, with a leader to the line."""
    label_words = text.JOIN.join(words)
    best: tuple[float, Text, Point] | None = None
    for stretch in stretches:
        for share in (*_SHARES, 0.05, 0.95):
            x, y = _along(stretch, share)
            for dy2 in range(-2 * _REACH, 2 * _REACH + 1):
                for dx in range(-_REACH, _REACH + 1):
                    away = abs(dx) + abs(dy2) / 2
                    if best is not None and away >= best[0]:
                        continue
                    label = Text(x + dx, y + dy2 / 2, label_words, text.LETTER, "tube", owner, anchor="middle")
                    if space.is_free(label.box, 0.25):
                        best = away, label, (x, y)
    if best is None:
        return False
    _, label, (x, y) = best
    box = label.box
    end = (min(max(x, box[0]), box[2]), box[3] + 0.1 if box[3] <= y else box[1] - 0.1 if box[1] >= y else (box[1] + box[3]) / 2)
    result.leaders.append(((x, y), end))
    _take([label], space, result)
    return True


def _take(labels: list[Text], space: Space, result: Lettering) -> None:
    for label in labels:
        result.texts.append(label)
        space.take(label.box)
