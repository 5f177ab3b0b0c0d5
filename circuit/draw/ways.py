"""The ways through a part, drawn over its symbol for a page, which shows those that stand open. In U."""

from collections.abc import Mapping

from circuit.declaring.kind import Kind
from circuit.declaring.symbol import Point
from circuit.draw.glyphs import path, px

INSET, HALF = 0.25, 0.45
"""How far from its port a way begins, and half the block that is shown where all are shut; our choice."""


def way_rows(kind: Kind, ports: Mapping[str, Point], size: Point, corner: Point) -> list[str]:
    """A path for every two ports that passages join, and the block. ports, size: of the body; corner: its upper left.

    `data-ways` has the places of those passages among the kind's.
    """
    found: dict[frozenset[str], list[int]] = {}
    for place, passage in enumerate(kind.passages):
        if passage.start in ports and passage.end in ports and not passage.narrow:
            found.setdefault(frozenset((passage.start, passage.end)), []).append(place)
    rows = []
    for places in found.values():
        passage = kind.passages[places[0]]
        points = _way(ports[passage.start], ports[passage.end], size)
        there = [(corner[0] + x, corner[1] + y) for x, y in points]
        rows.append(f'<path class="inner" data-ways="{" ".join(map(str, places))}" d="{path(there)}"/>')
    if rows:
        x, y = corner[0] + size[0] / 2, corner[1] + size[1] / 2
        side = px(2 * HALF)
        rows.append(f'<rect class="lapped" x="{px(x - HALF)}" y="{px(y - HALF)}" width="{side}" height="{side}"/>')
    return rows


def _way(start: Point, end: Point, size: Point) -> list[Point]:
    """From port to port with square corners, inside the body."""
    (x0, y0), (x1, y1) = _inward(start, size), _inward(end, size)
    level = [x in (0, size[0]) for x, _ in (start, end)]
    if level[0] and level[1]:
        middle = size[0] / 2
        return [(x0, y0), (middle, y0), (middle, y1), (x1, y1)] if y0 != y1 else [(x0, y0), (x1, y1)]
    if level[0]:
        return [(x0, y0), (x1, y0), (x1, y1)]
    if level[1]:
        return [(x0, y0), (x0, y1), (x1, y1)]
    return [(x0, y0), (x0, size[1] / 2), (x1, size[1] / 2), (x1, y1)] if x0 != x1 else [(x0, y0), (x1, y1)]


def _inward(port: Point, size: Point) -> Point:
    """A little inside of a port on an edge."""
    x, y = port
    if x in (0, size[0]):
        return x + (INSET if x == 0 else -INSET), y
    return x, y + (INSET if y == 0 else -INSET)
