"""A small vocabulary for symbols: strokes on a unit grid, x to the right, y downwards, one unit (U) 10 px on a screen.

The ideas are those of ISO 1219-1 (circle, square, diamond, capsule, dashed pilot, open triangle); the geometry is ours.
Everything here is plain data and cheap to build, because each kind builds its symbol when it is imported.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

Point = tuple[float, float]

THIN, BOLD = 0.17, 0.3
"""Line weights inside a symbol, U."""


class Stroke(NamedTuple):
    """A polyline or a closed shape. fill: "none", "white" or "black". dash: "", "pilot" or "chain". weight: U."""

    points: tuple[Point, ...]
    closed: bool = False
    fill: str = "none"
    dash: str = ""
    weight: float = THIN


class Ring(NamedTuple):
    """A circle. centre, radius: U."""

    centre: Point
    radius: float
    fill: str = "white"
    weight: float = THIN


class Curve(NamedTuple):
    """A quadratic curve through its first and last point, pulled towards the middle one."""

    points: tuple[Point, Point, Point]
    weight: float = THIN


Shape = Stroke | Ring | Curve


class Symbol(NamedTuple):
    """How a kind looks. A kind without one is drawn as a plain box with its ports.

    width, height: the body, even numbers of U where it grows. ports: number to a place on the body's edge, in whole U
    and at least 2 U from the next; an exhaust among them gets an open triangle while it is open. marks: what is drawn,
    in order, over the body. body: "box", "round", "capsule", "bar" or "none".
    grows: the port whose lines each get a place of their own, the body growing with them; both: on its left edge too.
    flips: may be turned upside down for a shorter line. inside: the name goes inside the body where it fits.
    equal: ports that may change places where that makes lines shorter, because the marks treat them alike. faces: where
    the head of another vehicle is coupled.
    joint: a dot where its lines meet is enough. turned_by: a setting and the word for which left and right change
    places. stages: a setting and the columns its words ask for, instead of the kind's stage.
    """

    width: int
    height: int
    ports: Mapping[str, Point] = MappingProxyType({})
    marks: tuple[Shape, ...] = ()
    body: str = "box"
    grows: str = ""
    both: bool = False
    flips: bool = False
    inside: bool = False
    equal: tuple[str, ...] = ()
    faces: Point | None = None
    joint: bool = False
    turned_by: tuple[str, str] = ("", "")
    stages: tuple[str, Mapping[str, int]] = ("", {})


def line(*points: Point) -> Stroke:
    """An inner line."""
    return Stroke(points)


def pilot(*points: Point) -> Stroke:
    """An inner line that only carries a signal, dashed."""
    return Stroke(points, dash="pilot")


def thick(*points: Point) -> Stroke:
    """A moving part, drawn bold."""
    return Stroke(points, weight=BOLD)


def plate(*points: Point) -> Stroke:
    """A closed shape that hides what is under it."""
    return Stroke(points, True, "white")


def solid(*points: Point) -> Stroke:
    """A closed black shape."""
    return Stroke(points, True, "black", weight=0.05)


def diamond(x: float, y: float, half: float) -> Stroke:
    """A square on its corner round (x, y); half: U from its centre to a corner."""
    return plate((x, y - half), (x + half, y), (x, y + half), (x - half, y))


def arrow(start: Point, end: Point) -> tuple[Stroke, Stroke]:
    """A line with a filled head at its end."""
    (x0, y0), (x1, y1) = start, end
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    bx, by = x1 - 0.75 * ux, y1 - 0.75 * uy
    return (
        Stroke((start, (round(bx, 2), round(by, 2)))),
        solid(end, (round(bx - 0.32 * uy, 2), round(by + 0.32 * ux, 2)),
              (round(bx + 0.32 * uy, 2), round(by - 0.32 * ux, 2))),
    )


def spring(x0: float, x1: float, y: float, half: float = 0.45) -> Stroke:
    """A zigzag along x. half: its half height, U."""
    step = (x1 - x0) / 6
    return Stroke(tuple(
        (round(x0 + i * step, 2), y if i in (0, 6) else round(y + (half if i % 2 else -half), 2)) for i in range(7)
    ))


def upright_spring(x: float, y0: float, y1: float, half: float = 0.45) -> Stroke:
    """A zigzag along y."""
    return Stroke(tuple((b, a) for a, b in spring(y0, y1, x, half).points))
