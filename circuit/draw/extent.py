"""How much room things take with their words and small parts. In U."""

from circuit.draw.layout import Layout
from circuit.draw.measure import Box
from circuit.draw.parts import Body

_WORDS = 1.3
"""Above and below a line, for its label."""


def of_body(body: Body) -> Box:
    """A body with its text and small parts."""
    return (body.x - body.before, body.y - body.top, body.x + body.width + body.after, body.y + body.height + body.bottom)


def extent(layout: Layout) -> Box:
    """Left, top, right, bottom of everything on a sheet or in a band, its frames included."""
    boxes = [of_body(body) for body in (*layout.bodies, *layout.wheels)]
    for drawn in layout.wires:
        boxes += [(s.start[0], s.start[1] - _WORDS, s.end[0], s.end[1] + _WORDS) if s.level else
                  (s.start[0] - 0.5, s.start[1], s.end[0] + 0.5, s.end[1]) for s in drawn.stretches]
    boxes += [(f.left, f.top, f.left + f.wide, f.top + f.high) for f in layout.frames]
    if not boxes:
        return 0, 0, 10, 10
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))
