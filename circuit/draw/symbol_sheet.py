"""A kind's symbol by itself: as large as its page allows, each port with its number and what it is for.

Lengths are px; 10 px of a symbol are one U, before it is enlarged.
"""

from collections.abc import Iterator

from circuit.declaring.kind import Kind, Port
from circuit.declaring.symbol import Point, Ring, Symbol
from circuit.declaring.traits import Role
from circuit.draw import glyphs, palette
from circuit.draw.text import FAMILY, in_lines, width

WIDE, HIGH = 1000.0, 620.0
FIELD = (40.0, 105.0, 590.0, 375.0)
"""Left, top, width and height of the room for the symbol and the words at its ports."""
WORDS_X, LETTER = 650.0, 15.0
STUB = 1.5
"""U by which a line goes on from a port."""
AROUND = (95.0, 45.0)
"""px kept free beside and above the symbol for the words at its ports."""
LARGEST = 6.0
"""How many times a symbol is enlarged at the most, so that a small one keeps its line widths in proportion."""
WEIGHT = 1.2
"""px of a line before it is enlarged: finer than in a schematic, as the symbol is so much larger."""

Place = tuple[str, Point, Point]
"""A port's number, where it is on the body and the way out of it, U."""


def symbol_sheet(kind: Kind) -> str:
    """The page as SVG text."""
    symbol = kind.symbol
    assert symbol is not None
    places = tuple(_places(kind, symbol))
    x0, y0, x1, y1 = _extent(symbol, places)
    enlarged = min(LARGEST, (FIELD[2] - 2 * AROUND[0]) / ((x1 - x0) * 10), (FIELD[3] - 2 * AROUND[1]) / ((y1 - y0) * 10))
    left = FIELD[0] + FIELD[2] / 2 - (x0 + x1) / 2 * 10 * enlarged
    top = FIELD[1] + FIELD[3] / 2 - (y0 + y1) / 2 * 10 * enlarged
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE:g}" height="{HIGH:g}" viewBox="0 0 {WIDE:g} {HIGH:g}" '
        f'font-family="{FAMILY}" fill="{palette.INK}" role="img"><title>{glyphs.escape(kind.title)}: symbol and ports</title>',
        f'<desc>{glyphs.escape(kind.behaviour)}</desc>',
        f'<rect width="{WIDE:g}" height="{HIGH:g}" fill="{palette.PAPER}"/>',
        _words(FIELD[0], 58, kind.title, 26, bold=True),
        *(_words(FIELD[0], 82 + 16 * number, row, 13, colour=palette.QUIET)
          for number, row in enumerate(in_lines(", ".join((kind.name, *kind.aliases)), 13, FIELD[2]))),
        f'<g transform="translate({left:.1f} {top:.1f}) scale({enlarged:.3f})" fill="none" stroke="{palette.INK}" '
        f'stroke-width="{WEIGHT}" stroke-linecap="round" stroke-linejoin="round">',
        *(_stub(kind, place) for place in places), *glyphs.plain(symbol), *_rail(symbol, places), "</g>",
        *_named(kind, places, left, top, enlarged * 10), *_listed(kind), *_told(kind), "</svg>",
    ]
    return "\n".join(rows) + "\n"


def _places(kind: Kind, symbol: Symbol) -> Iterator[Place]:
    """Every port with its place; one that grows on the middle of its edge, one that no place is given for at a free one."""
    free = [(0, symbol.height / 2), (symbol.width, symbol.height / 2), (symbol.width / 2, symbol.height)]
    free = [place for place in free if place not in symbol.ports.values()]
    for port in kind.ports:
        if port.number in symbol.ports:
            at = symbol.ports[port.number]
        elif port.number == symbol.grows:
            at = (0 if symbol.both else symbol.width, symbol.height / 2)
        elif len(kind.ports) == 1 and kind.small:
            at = (symbol.width / 2, symbol.height)
        else:
            at = next(iter(free), (symbol.width, symbol.height / 2))
        if at in free:
            free.remove(at)
        yield port.number, at, _outward(at, symbol)


def _extent(symbol: Symbol, places: tuple[Place, ...]) -> tuple[float, float, float, float]:
    """Left, top, right and lower end of the body, its marks and the lines at its ports, U."""
    points = [(0.0, 0.0), (float(symbol.width), float(symbol.height))]
    for mark in symbol.marks:
        points += mark.points if not isinstance(mark, Ring) else [
            (mark.centre[0] + sign * mark.radius, mark.centre[1] + sign * mark.radius) for sign in (-1, 1)]
    points += [(x + STUB * dx, y + STUB * dy) for _, (x, y), (dx, dy) in places]
    return (min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points))


def _outward(at: Point, symbol: Symbol) -> Point:
    x, y = at
    if x <= 0:
        return -1, 0
    if x >= symbol.width:
        return 1, 0
    return (0, -1) if y <= 0 else (0, 1)


def _rail(symbol: Symbol, places: tuple[Place, ...]) -> Iterator[str]:
    """The inner line from which a box's growing port goes out."""
    if symbol.grows and symbol.body == "box":
        for number, (x, y), _ in places:
            if number == symbol.grows:
                meets = [p for mark in symbol.marks for p in getattr(mark, "points", ()) if p[0] == symbol.width - 1]
                ys = sorted({y, *(p[1] for p in meets[:1])})
                yield glyphs.path([(x - 1, each) for each in ys] + [(x - 1, y), (x, y)]).join(('<path d="', '"/>'))


def _stub(kind: Kind, place: Place) -> str:
    number, (x, y), (dx, dy) = place
    port = kind.port(number)
    if port is not None and port.role is Role.EXHAUST and dy:
        return glyphs.exhaust(x, y, dy > 0)
    inner = {"bar": kind.symbol.width / 2, "capsule": 1.0}.get(kind.symbol.body, 0.0) if kind.symbol else 0.0
    return f'<path d="{glyphs.path([(x - inner * dx, y), (x + STUB * dx, y + STUB * dy)])}"/>'


def _named(kind: Kind, places: tuple[Place, ...], left: float, top: float, unit: float) -> Iterator[str]:
    """Number and role at the end of every port's line."""
    for number, (x, y), (dx, dy) in places:
        port = kind.port(number)
        assert port is not None
        ex, ey = left + (x + STUB * dx) * unit, top + (y + STUB * dy) * unit
        role = port.role.name.lower()
        if dx:
            anchor = "end" if dx < 0 else "start"
            yield _words(ex + 8 * dx, ey - 2, number, 19, bold=True, anchor=anchor)
            yield _words(ex + 8 * dx, ey + 15, role, 13, colour=palette.QUIET, anchor=anchor)
        else:
            down = dy > 0
            yield _words(ex, ey + (22 if down else -22), number, 19, bold=True, anchor="middle")
            yield _words(ex, ey + (38 if down else -8), role, 13, colour=palette.QUIET, anchor="middle")


def _listed(kind: Kind) -> Iterator[str]:
    """The ports as a list: what each may be called, and how many lines it takes."""
    yield _words(WORDS_X, 58, "Ports", 16, bold=True)
    y = 86.0
    step = min(42.0, 360.0 / len(kind.ports))
    for port in kind.ports:
        yield _words(WORDS_X, y, port.number, LETTER, bold=True)
        said = [port.role.name.lower(), *(word for word in port.words if word != port.role.name.lower()), *_takes(port)]
        for number, row in enumerate(in_lines(", ".join(said), 13, WIDE - WORDS_X - 90)[:2 if step > 34 else 1]):
            yield _words(WORDS_X + 60, y + 16 * number, row, 13)
        y += step


def _takes(port: Port) -> tuple[str, ...]:
    lines = "any number of lines" if port.holes == 0 or port.holes_from else f"{port.holes} lines" if port.holes > 1 else ""
    left = "open to the air unless it is joined" if port.role is Role.EXHAUST else "" if port.required else "may be left out"
    return tuple(word for word in (lines, left) if word)


def _told(kind: Kind) -> Iterator[str]:
    """What it is for and does, and what such a picture is."""
    y = 500.0
    for words, colour in ((kind.purpose, palette.INK), (kind.behaviour, palette.INK)):
        for row in in_lines(words, 13, WIDE - 2 * FIELD[0]):
            yield _words(FIELD[0], y, row, 13, colour=colour)
            y += 18
    yield _words(FIELD[0], HIGH - 14, "Symbol after the ideas of ISO 1219-1, port numbers by ISO 6786; it shows no state and "
                 "no pressure.", 12, colour=palette.QUIET)


def _words(x: float, y: float, words: str, size: float, bold: bool = False, colour: str = palette.INK,
           anchor: str = "start") -> str:
    weight = ' font-weight="bold"' if bold else ""
    fits = size * min(1.0, (WIDE - 20) / max(width(words, size, bold), 1))
    return (f'<text x="{x:.1f}" y="{y:.1f}" font-size="{fits:.1f}" fill="{colour}" text-anchor="{anchor}"{weight}>'
            f'{glyphs.escape(words)}</text>')
