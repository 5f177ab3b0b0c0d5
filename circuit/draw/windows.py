"""A drawing in parts, where one sheet would make it too small: where it is cut, and what crosses each cut. Lengths in U."""

from math import ceil
from typing import NamedTuple

from circuit.draw.frame import bounds, extents
from circuit.draw.labels import Lettering
from circuit.draw.layout import Layout
from circuit.draw.measure import Box, boxes_meet, line_meets
from circuit.declaring.symbol import Point

GUTTER = 4.5
"""Room beside a cut for the signs of what goes on elsewhere."""
_AROUND = 0.8
_MORE = 3
_LOOSE = 8.0
"""How much empty room a sheet may keep on a side where nothing goes on."""
_HIT, _NEAR = 8.0, 3.0
"""What cutting a body or a text costs, and running a cut along a line, in crossings."""
_WHOLE = 3
"""How much worse it is to cut a body than a text, in texts."""


class Crossing(NamedTuple):
    """A line that goes on on another sheet. x, y: where; side: of the window (left, right, top, low); sheet: from 0."""

    x: float
    y: float
    side: str
    label: str
    sheet: int


class Window(NamedTuple):
    """A part of the drawing. box: left, top, right, bottom."""

    box: Box
    crossings: tuple[Crossing, ...] = ()

    @property
    def width(self) -> float:
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        return self.box[3] - self.box[1]


def windows(layout: Layout, lettering: Lettering, wide: float, high: float) -> list[Window]:
    """The whole drawing where it fits into wide x high; else vehicle by vehicle, and each cut where little crosses."""
    left, top, right, low = bounds(layout, lettering)
    whole = (left - _AROUND, top - _AROUND, right + _AROUND, low + _AROUND)
    if whole[2] - whole[0] <= wide and whole[3] - whole[1] <= high:
        return [Window(whole)]
    blocks = _blocks(layout, lettering, whole, wide, high)
    boxes = [box for block in blocks for row in _grid(layout, lettering, block, wide, high) for box in row]
    return _with_something(layout, lettering, _with_crossings(layout, boxes))


def _with_something(layout: Layout, lettering: Lettering, found: list[Window]) -> list[Window]:
    """The windows that hold something, close around it, numbered anew."""
    held = [_held(layout, lettering, window.box) for window in found]
    numbers = {old: new for new, old in enumerate(place for place, box in enumerate(held) if box is not None)}
    return [Window(_close(window, box), tuple(c._replace(sheet=numbers[c.sheet]) for c in window.crossings))
            for window, box in zip(found, held) if box is not None]


def _held(layout: Layout, lettering: Lettering, box: Box) -> Box | None:
    """Around the bodies, words and lines in a box, as far as they are in it; None where there are none."""
    bodies = [(b.x - b.before, b.y - b.top, b.x + b.width + b.after, b.y + b.height + b.bottom) for b in layout.bodies]
    lines = [(*s.start, *s.end) for drawn in layout.wires for s in drawn.stretches if line_meets(s, box)]
    inside = [thing for thing in (*bodies, *lettering.boxes, *(words.box for words in lettering.texts))
              if boxes_meet(thing, box)] + lines
    if not inside:
        return None
    return (max(box[0], min(thing[0] for thing in inside)), max(box[1], min(thing[1] for thing in inside)),
            min(box[2], max(thing[2] for thing in inside)), min(box[3], max(thing[3] for thing in inside)))


def _close(window: Window, held: Box) -> Box:
    """A window without the empty room on sides that nothing crosses."""
    crossed = {crossing.side for crossing in window.crossings}
    half = _LOOSE / 2
    left, top, right, low = window.box
    return (held[0] - half if "left" not in crossed and held[0] - left > _LOOSE else left,
            held[1] - half if "top" not in crossed and held[1] - top > _LOOSE else top,
            held[2] + half if "right" not in crossed and right - held[2] > _LOOSE else right,
            held[3] + half if "low" not in crossed and low - held[3] > _LOOSE else low)


def _blocks(layout: Layout, lettering: Lettering, whole: Box, wide: float, high: float) -> list[Box]:
    """The vehicles' own parts of the drawing, neighbours together where they fit on one sheet; else the whole."""
    own = list(extents(layout).values())
    if len(own) < 2:
        return [whole]
    things = [(b[0], b[2]) for b in (*lettering.boxes, *(words.box for words in lettering.texts))]
    cuts = []
    for one, other in zip(own, own[1:]):
        tries = [one[2] + (other[0] - one[2]) * share / 20 for share in range(21)]
        cuts.append(min(tries, key=lambda at: (_cost(layout, things, at, True), abs(at - (one[2] + other[0]) / 2))))
    joined: list[Box] = []
    for left, right, box in zip([whole[0], *cuts], [*cuts, whole[2]], own):
        heights = [y for at in (left, right) for _, y in _crossing(layout, at, whole[1], whole[3], True)]
        box = (left, min([box[1] - _AROUND, *(y - 1 for y in heights)]),
               right, max([box[3] + _AROUND, *(y + 1 for y in heights)]))
        if joined and right - joined[-1][0] <= wide - 2 * GUTTER:
            last = joined.pop()
            box = (last[0], min(last[1], box[1]), right, max(last[3], box[3]))
        joined.append(box)
    return joined


def _grid(layout: Layout, lettering: Lettering, block: Box, wide: float, high: float) -> list[list[Box]]:
    """Rows of boxes."""
    left, top, right, low = block
    xs = [left, *_cuts(layout, lettering, block, wide, upright=True), right]
    ys = [top, *_cuts(layout, lettering, block, high, upright=False), low]
    return [[(x0, y0, x1, y1) for x0, x1 in zip(xs, xs[1:])] for y0, y1 in zip(ys, ys[1:])]


def _cuts(layout: Layout, lettering: Lettering, block: Box, most: float, upright: bool) -> list[float]:
    """Where a block is cut so that no part is longer than `most`: places that little crosses, near an even division."""
    axis = 0 if upright else 1
    start, end = block[axis], block[axis + 2]
    if end - start <= most:
        return []
    most -= 2 * GUTTER
    things = [(b[axis], b[axis + 2]) for b in (*lettering.boxes, *(words.box for words in lettering.texts))]
    things += [((b.x, b.y)[axis], (b.x + b.width, b.y + b.height)[axis]) for b in layout.bodies] * _WHOLE
    found: list[tuple[float, list[float]]] = []
    for more in range(_MORE):  # one sheet more leaves more choice of places where nothing is cut through
        number = ceil((end - start) / most) + more
        cuts: list[float] = []
        for place in range(1, number):
            before = cuts[-1] if cuts else start
            lowest, highest = max(before + 4, end - (number - place) * most), min(before + most, end - 4)
            even = before + (end - before) / (number - place + 1)
            steps = max(1, int((highest - lowest) * 2))
            tries = [lowest + (highest - lowest) * n / steps for n in range(steps + 1)]
            cuts.append(min(tries, key=lambda at: (_cost(layout, things, at, upright) + 0.05 * abs(at - even), at)))
        hits = sum(low < at < high for at in cuts for low, high in things)
        found.append((hits, cuts))
        if not hits:
            break
    return min(found, key=lambda one: one[0])[1]


def _cost(layout: Layout, things: list[tuple[float, float]], at: float, upright: bool) -> float:
    cost = _HIT * sum(low - 0.3 < at < high + 0.3 for low, high in things)
    axis = 0 if upright else 1
    for drawn in layout.wires:
        for s in drawn.stretches:
            if s.level == upright:
                cost += s.start[axis] < at < s.end[axis]
            elif abs(s.start[axis] - at) < 0.8:
                cost += _NEAR
    return cost


def _with_crossings(layout: Layout, boxes: list[Box]) -> list[Window]:
    """The boxes as windows, with a sign on both sides of a cut for each line that crosses it."""
    places: dict[tuple[bool, float], list[tuple[Point, int, int]]] = {}
    for i, one in enumerate(boxes):
        for j, other in enumerate(boxes):
            for upright, axis in ((True, 0), (False, 1)):
                low, high = max(one[1 - axis], other[1 - axis]), min(one[3 - axis], other[3 - axis])
                if one[axis + 2] == other[axis] and low < high:
                    places.setdefault((upright, other[axis]), []).extend(
                        (place, i, j) for place in _crossing(layout, other[axis], low, high, upright))
    found: list[list[Crossing]] = [[] for _ in boxes]
    for number, ((upright, _), crossed) in enumerate(places.items()):
        for place, ((x, y), i, j) in enumerate(sorted(crossed, key=lambda one: (one[0][1], one[0][0])), 1):
            label = f"{_letter(number)}{place}"
            found[i].append(Crossing(x, y, "right" if upright else "low", label, j))
            found[j].append(Crossing(x, y, "left" if upright else "top", label, i))
    return [Window(box, tuple(crossings)) for box, crossings in zip(boxes, found)]


def _crossing(layout: Layout, at: float, low: float, high: float, upright: bool) -> list[tuple[float, float]]:
    """Where lines cross a cut at `at` between two places along it."""
    axis = 0 if upright else 1
    places = {
        ((at, s.start[1]) if upright else (s.start[0], at))
        for drawn in layout.wires for s in drawn.stretches
        if s.level == upright and s.start[axis] < at < s.end[axis] and low <= s.start[1 - axis] < high
    }
    return sorted(places, key=lambda place: (place[1], place[0]))


def _letter(number: int) -> str:
    return chr(ord("A") + number % 26)
