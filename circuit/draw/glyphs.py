"""SVG text of single things: symbols, wheels, tags, flags, plugs. Arguments are in U, output in px."""

from circuit.draw import palette
from circuit.draw.parts import Body
from circuit.draw.text import LETTER
from circuit.declaring.symbol import BOLD, THIN, Curve, Point, Ring, Symbol

_DASHES = {"": "", "pilot": "3 2", "chain": "10 3 2 3"}
_FILLS = {"none": "none", "white": palette.PAPER, "black": palette.INK}


def px(value: float) -> str:
    """A length in U as px, at most two decimals."""
    text = f"{value * 10:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def escape(words: str) -> str:
    """Text for XML; characters XML cannot hold become a replacement mark."""
    kept = "".join(
        c if c in "\t\n" or (ord(c) >= 32 and not 0xD800 <= ord(c) < 0xE000 and ord(c) not in (0xFFFE, 0xFFFF))
        else "\ufffd" for c in words
    )
    return kept.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def path(points: list[Point] | tuple[Point, ...], closed: bool = False) -> str:
    """The `d` of a polyline."""
    return "M" + "L".join(f"{px(x)} {px(y)}" for x, y in points) + ("Z" if closed else "")


def symbol_id(body: Body) -> str:
    """One name for every form a kind's symbol takes on this sheet."""
    turn = ("f" if body.flipped else "") + ("t" if body.turned else "")
    return f"symbol-{body.device.kind.name}-{px(body.width)}x{body.height * 10}{turn}"


def symbol(body: Body) -> list[str]:
    """The rows of a symbol's drawing, as the body stands: grown, turned, flipped."""
    own = body.symbol
    rows = _outline(own, body.width, body.height)
    if own.grows and own.body == "box":
        places = [slot.y for slot in body.slots if slot.grows]
        if len(places) > 1:
            rail = body.width - 1
            rows.append(_stroke([(rail, min(places)), (rail, max(places))]))
        rows += [_stroke([(body.width - 1, y), (body.width, y)]) for y in sorted(places)]
    if own.body in ("capsule", "bar"):
        rows += [_stroke([(slot.x, slot.y), (_inner(own, body, slot.x, slot.y), slot.y)])
                 for slot in body.slots if slot.grows]

    if body.shift:  # a grown body: from the marks on to the ports of its upper and lower edge
        for number, (x, y) in own.ports.items():
            if y in (0, own.height) and number in body.ports:
                edge = body.ports[number]
                inner = body.shift if edge[1] == 0 else body.height - body.shift
                rows.append(_stroke([edge, (edge[0], inner)]))

    def at(point: Point) -> Point:
        x, y = point[0], point[1] + body.shift
        return (body.width - x if body.turned else x, body.height - y if body.flipped else y)

    for mark in own.marks:
        if isinstance(mark, Ring):
            rows.append(_ring(at(mark.centre), mark.radius, mark.fill, mark.weight))
        elif isinstance(mark, Curve):
            (x0, y0), (x1, y1), (x2, y2) = (at(p) for p in mark.points)
            rows.append(f'<path d="M{px(x0)} {px(y0)}Q{px(x1)} {px(y1)} {px(x2)} {px(y2)}"'
                        f'{_weight(mark.weight)}/>')
        else:
            rows.append(_stroke([at(p) for p in mark.points], mark.closed, mark.fill, mark.dash, mark.weight))
    return rows


def plain(own: Symbol) -> list[str]:
    """The rows of a symbol as declared, for a small part."""
    rows = _outline(own, own.width, own.height) if own.body != "none" else []
    for mark in own.marks:
        if isinstance(mark, Ring):
            rows.append(_ring(mark.centre, mark.radius, mark.fill, mark.weight))
        elif isinstance(mark, Curve):
            (x0, y0), (x1, y1), (x2, y2) = mark.points
            rows.append(f'<path d="M{px(x0)} {px(y0)}Q{px(x1)} {px(y1)} {px(x2)} {px(y2)}"{_weight(mark.weight)}/>')
        else:
            rows.append(_stroke(list(mark.points), mark.closed, mark.fill, mark.dash, mark.weight))
    return rows


def _inner(own: Symbol, body: Body, x: float, y: float) -> float:
    """Where a stub at height y meets the outline of a capsule or bar."""
    left = x == 0
    if own.body == "bar":
        return body.width / 2
    radius = min(body.height / 2, 3.0)
    off = max(0.0, abs(y - body.height / 2) - (body.height / 2 - radius))
    depth: float = 0.3 + radius - max(0.0, radius**2 - off**2) ** 0.5
    return depth if left else body.width - depth


def _outline(own: Symbol, width: float, height: float) -> list[str]:
    if own.body == "none":
        return []
    if own.body == "bar":
        return [f'<rect x="{px(width / 2 - 0.4)}" y="0" width="8" height="{px(height)}" fill="#d9dde2"/>']
    radius = {"box": 0.0, "round": min(1.0, height / 2), "capsule": min(height / 2, 3.0)}[own.body]
    inset = 0.3 if own.body == "capsule" else 0.0
    corner = f' rx="{px(radius)}"' if radius else ""
    return [f'<rect x="{px(inset)}" y="0" width="{px(width - 2 * inset)}" height="{px(height)}"{corner} '
            f'fill="{palette.PAPER}"/>']


def _weight(weight: float) -> str:
    return "" if weight == THIN else f' stroke-width="{px(weight)}"'


def _stroke(points: list[Point], closed: bool = False, fill: str = "none", dash: str = "", weight: float = THIN) -> str:
    filled = f' fill="{_FILLS[fill]}"' if fill != "none" else ""
    dashed = f' stroke-dasharray="{_DASHES[dash]}"' if dash else ""
    return f'<path d="{path(points, closed)}"{filled}{dashed}{_weight(weight)}/>'


def _ring(centre: Point, radius: float, fill: str, weight: float) -> str:
    filled = f' fill="{_FILLS[fill]}"' if fill != "none" else ""
    return f'<circle cx="{px(centre[0])}" cy="{px(centre[1])}" r="{px(radius)}"{filled}{_weight(weight)}/>'


def exhaust(x: float, y: float, down: bool) -> str:
    """An open exhaust at a port: a short stub and an open triangle."""
    s = 1 if down else -1
    return (_stroke([(x, y), (x, y + 0.5 * s)])
            + _stroke([(x - 0.6, y + 0.5 * s), (x + 0.6, y + 0.5 * s), (x, y + 1.5 * s)], True, "white"))


def plug(x: float, y: float, dx: float, dy: float) -> str:
    """A plug in a port, with the outward direction."""
    ex, ey = x + 0.6 * dx, y + 0.6 * dy
    return (_stroke([(x, y), (ex, ey)])
            + _stroke([(ex - 0.55 * dy, ey - 0.55 * dx), (ex + 0.55 * dy, ey + 0.55 * dx)], weight=BOLD + 0.05))


def loose(x: float, y: float, dx: float, dy: float) -> str:
    """A port that is joined to nothing: a stub with an open ring."""
    return _stroke([(x, y), (x + 0.5 * dx, y + 0.5 * dy)]) + _ring((x + 0.8 * dx, y + 0.8 * dy), 0.3, "white", THIN)


_TAG_SHAPES = {
    "square": ((-1, -1), (1, -1), (1, 1), (-1, 1)),
    "diamond": ((0, -1.3), (1.3, 0), (0, 1.3), (-1.3, 0)),
    "hexagon": ((-0.6, -1.05), (0.6, -1.05), (1.2, 0), (0.6, 1.05), (-0.6, 1.05), (-1.2, 0)),
    "pentagon": ((0, -1.25), (1.2, -0.35), (0.75, 1.05), (-0.75, 1.05), (-1.2, -0.35)),
}
TAG = 0.92
"""Half the size of a tag, U."""


def tag(x: float, y: float, shape: str, colour: str, number: int) -> str:
    """A circuit's number in its shape, on a line."""
    if shape == "circle":
        frame = (f'<circle cx="{px(x)}" cy="{px(y)}" r="{px(TAG * 1.1)}" fill="{palette.PAPER}" stroke="{colour}" '
                 'stroke-width="1.3"/>')
    else:
        points = [(x + TAG * a, y + TAG * b) for a, b in _TAG_SHAPES[shape]]
        frame = f'<path d="{path(points, True)}" fill="{palette.PAPER}" stroke="{colour}" stroke-width="1.3"/>'
    return (f'{frame}<text x="{px(x)}" y="{px(y + 0.4)}" font-size="{LETTER:g}" font-weight="bold" text-anchor="middle">'
            f'{number}</text>')


def flag(x: float, y: float, severity: str, words: str) -> str:
    """A numbered mark: a filled circle for an error or what has failed, a triangle for a warning, a square for a note."""
    if severity in ("error", "fault"):
        shape = f'<circle cx="{px(x)}" cy="{px(y)}" r="11" fill="{palette.ERROR}" stroke="#fff" stroke-width="1.2"/>'
        ink, low = "#ffffff", 0.4
    elif severity == "warning":
        points = [(x, y - 1.3), (x + 1.4, y + 1.0), (x - 1.4, y + 1.0)]
        shape = (f'<path d="{path(points, True)}" fill="{palette.WARNING}" stroke="{palette.INK}" stroke-width="1" '
                 'stroke-linejoin="round"/>')
        ink, low = palette.INK, 0.8
    else:
        points = [(x - 1, y - 1), (x + 1, y - 1), (x + 1, y + 1), (x - 1, y + 1)]
        shape = f'<path d="{path(points, True)}" fill="{palette.NOTE}" stroke="#fff" stroke-width="1.2"/>'
        ink, low = "#ffffff", 0.4
    return (f'{shape}<text x="{px(x)}" y="{px(y + low)}" font-size="{LETTER:g}" font-weight="bold" text-anchor="middle" '
            f'fill="{ink}">{escape(words)}</text>')
