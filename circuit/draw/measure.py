"""Counting what makes a drawing hard to read: crossings, lines through bodies, lines on lines, text on things."""

from collections.abc import Iterable, Iterator

from circuit.draw.tree import Drawn, Stretch

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def _pairs(wires: Iterable[Drawn]) -> Iterator[tuple[Stretch, Stretch]]:
    """A level and an upright stretch of different wires that could meet."""
    levels = [(s, d) for d in wires for s in d.stretches if s.level]
    uprights = [(s, d) for d in wires for s in d.stretches if not s.level]
    for a, of_a in levels:
        for b, of_b in uprights:
            if of_a is not of_b and a.start[0] <= b.start[0] <= a.end[0] and b.start[1] <= a.start[1] <= b.end[1]:
                yield a, b


def crossings(wires: list[Drawn]) -> int:
    """How often lines of two wires meet."""
    return sum(1 for _ in _pairs(wires))


def touching(wires: list[Drawn]) -> int:
    """How often a line of one wire ends or bends on a line of another, or lies on it."""
    ends = sum(
        b.start[0] in (a.start[0], a.end[0]) or a.start[1] in (b.start[1], b.end[1]) for a, b in _pairs(wires)
    )
    shared = 0
    for level in (True, False):
        rows: dict[float, list[tuple[float, float, int]]] = {}
        for drawn in wires:
            for s in drawn.stretches:
                if s.level == level:
                    key, low, high = ((s.start[1], s.start[0], s.end[0]) if level
                                      else (s.start[0], s.start[1], s.end[1]))
                    rows.setdefault(key, []).append((low, high, drawn.wire.number))
        for spans in rows.values():
            spans.sort()
            shared += sum(a[2] != b[2] and b[0] <= a[1] for i, a in enumerate(spans) for b in spans[i + 1:])
    return ends + shared


def through(wires: list[Drawn], boxes: Iterable[Box]) -> int:
    """How many stretches run through the inside of a box."""
    return sum(line_meets(stretch, box) for box in boxes for wire in wires for stretch in wire.stretches)


def line_meets(stretch: Stretch, box: Box) -> bool:
    """Whether a stretch has a point inside a box."""
    left, top, right, bottom = box
    (x0, y0), (x1, y1) = stretch.start, stretch.end
    return x0 < right and x1 > left and y0 < bottom and y1 > top


def boxes_meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def overlaps(boxes: list[Box]) -> int:
    """How many pairs of boxes overlap."""
    return sum(boxes_meet(a, b) for i, a in enumerate(boxes) for b in boxes[:i])
