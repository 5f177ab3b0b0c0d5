"""A small vocabulary for symbols: strokes on a unit grid, y downwards, one unit 10 pixels on a screen.

The ideas are those of ISO 1219-1 (circle, square, diamond, capsule, dashed pilot, open triangle); the geometry is ours.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A polyline or a closed shape. fill: "none", "white" or "black". dash: drawn dashed. weight: of the line, in U."""

    points: tuple[Point, ...]
    closed: bool = False
    fill: str = "none"
    dash: bool = False
    weight: float = 0.17


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle. centre, radius in U."""

    centre: Point
    radius: float
    fill: str = "none"
    weight: float = 0.17


@dataclass(frozen=True, slots=True)
class Curve:
    """A quadratic curve through its first and last point, pulled towards the middle one."""

    points: tuple[Point, Point, Point]
    fill: str = "none"
    weight: float = 0.17


@dataclass(frozen=True, slots=True)
class Symbol:
    """width, height: the body, in U. ports: number to its place on the edge. marks: what is drawn, in order.

    flips: may be turned upside down for a shorter line. grows: outlets that are spread along the right edge.
    """

    width: float
    height: float
    ports: Mapping[str, Point] = field(default_factory=dict)
    marks: tuple[Stroke | Ring | Curve, ...] = ()
    flips: bool = False
    grows: str = ""
