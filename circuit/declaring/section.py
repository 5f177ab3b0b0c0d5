"""A small vocabulary for section pictures: a part cut open, its pieces bound to how far its passages stand open.

Lengths in U of 10 px, x to the right, y downwards, the parts drawn with both seats touching. A picture is made of marks;
every spot of a mark may travel with a move, so that a piston, the spring under it and the air above it are one rule. A
move is a weighted sum of named values from 0 to 1: `1>2` is how far the passage from 1 to 2 is drawn open, any other
name is a state variable, a course of a port's pressure, or of a pump what PUMP names. Hatched metal, black rubber
and zigzag springs are drafting conventions (ideas of ISO 128, from memory); the geometry is ours.
"""

from collections.abc import Mapping
from math import cos, pi, sin
from types import MappingProxyType
from typing import NamedTuple

Moves = tuple[tuple[str, float], ...]
"""Names of moves and their weights."""

FIXED: Moves = ()

CYLINDER = "cylinder"
"""The space of a pump over its piston; it is no port, and its pressure in a picture is an illustration."""
CYCLE = "cycle"
"""Where a pump's shaft stands, 0 to 1, from the piston up: by picture only, the model has no crank."""
PUMP = (f"0>{CYLINDER}", f"{CYLINDER}>2", "rests", "stroke")
"""Further values of a pump: its inlet and discharge valve, its unloader, and its piston from 0 (up) to 1 (down)."""


class Spot(NamedTuple):
    """A point, and what it travels with."""

    x: float
    y: float
    moves: Moves = FIXED


Outline = tuple[Spot, ...]


class Move(NamedTuple):
    """How pieces travel. by: value to weight. dx, dy: U for 1 of the sum. turn: instead, a centre and the degrees for 1,
    clockwise. low, high: the sum is held between them."""

    by: Mapping[str, float]
    dx: float = 0.0
    dy: float = 0.0
    turn: tuple[float, float, float] | None = None
    low: float = -1.0
    high: float = 1.0


class Course(NamedTuple):
    """A value from a port's pressure. knots: gauge bar and value, rising in bar; level outside them."""

    port: str
    knots: tuple[tuple[float, float], ...]


LOOKS = ("metal", "air", "space", "part", "steel", "rubber", "membrane", "spring", "line", "axis", "paper", "bed", "ink")


class Mark(NamedTuple):
    """A shape. look: `metal` (fixed, hatched), `air` (under all pieces, outlined as one with its neighbours) and `space`
    (air painted in its turn) take the colour of `port`; `part` moves, `steel` is a plain rod, `rubber` seals, `membrane`
    is a thick line; `spring`, `line`, `axis`; `paper` is blank, `bed` desiccant, `ink` solid."""

    spots: Outline
    look: str
    port: str = ""
    closed: bool = True


class Hole(NamedTuple):
    """A port's channel through the body. side: where it leaves. at: its place along that side, U. depth: how far in it
    begins, an x for left and right, a y for top and bottom. half: half its width. word: what it is when it is no port."""

    port: str
    side: str
    at: float
    depth: float
    half: float = 0.9
    word: str = ""


class Seat(NamedTuple):
    """Where passages open. ways: as `1>2`. word: its name beside the picture, empty where a way has no seat that shuts.
    at, face: two spots that touch while it is shut, or, where it `slides`, while it is open. side: where the word stands.
    flows: the air's ways, from start to end of the first passage."""

    ways: tuple[str, ...]
    word: str
    at: Spot
    face: Spot
    side: str = "right"
    flows: tuple[Outline, ...] = ()
    slides: bool = False


class Pose(NamedTuple):
    """A state worth seeing. pressures: gauge bar by port. state: hands, coils and latches that stand otherwise than at
    rest. settings: texts of settings without a typical value."""

    title: str
    pressures: Mapping[str, float]
    state: Mapping[str, float] = MappingProxyType({})


class Section(NamedTuple):
    """A part cut open. body: left, top, right, bottom of the hatched block, or None where marks draw it. settings: what
    poses and pictures of the kind alone take for settings that have no typical value. words: labels in the picture, with
    the spot they stand at. note: what is drawn otherwise than it is built, or illustration only. higher: names of
    inner spaces, each with the ports of which it has the highest pressure."""

    marks: tuple[Mark, ...]
    seats: tuple[Seat, ...]
    holes: tuple[Hole, ...]
    poses: tuple[Pose, ...]
    moves: Mapping[str, Move] = MappingProxyType({})
    courses: Mapping[str, Course] = MappingProxyType({})
    body: tuple[float, float, float, float] | None = None
    settings: Mapping[str, str] = MappingProxyType({})
    words: tuple[tuple[str, Spot], ...] = ()
    note: str = ""
    higher: Mapping[str, tuple[str, ...]] = MappingProxyType({})


# --- outlines ------------------------------------------------------------------------------------------------------


def with_move(move: str) -> Moves:
    """The moves of a spot that travels with one move, or stands still."""
    return ((move, 1.0),) if move else FIXED


def outline(*points: tuple[float, float], move: str = "") -> Outline:
    """Spots that travel together."""
    return tuple(Spot(x, y, with_move(move)) for x, y in points)


def box(x0: float, y0: float, x1: float, y1: float, move: str = "", upper: str = "", lower: str = "") -> Outline:
    """A rectangle; upper, lower: moves of these edges alone."""
    high, low = with_move(upper or move), with_move(lower or move)
    return (Spot(x0, y0, high), Spot(x1, y0, high), Spot(x1, y1, low), Spot(x0, y1, low))


def across(x0: float, y0: float, x1: float, y1: float, left: str = "", right: str = "") -> Outline:
    """A rectangle whose left and right edges travel by themselves."""
    one, other = with_move(left), with_move(right)
    return (Spot(x0, y0, one), Spot(x1, y0, other), Spot(x1, y1, other), Spot(x0, y1, one))


def disc(x: float, y: float, radius: float, move: str = "", sides: int = 24) -> Outline:
    """A circle."""
    return outline(*((x + radius * cos(2 * pi * i / sides), y + radius * sin(2 * pi * i / sides)) for i in range(sides)),
                   move=move)


# --- marks ---------------------------------------------------------------------------------------------------------


def air(port: str, *outlines: Outline) -> tuple[Mark, ...]:
    """Spaces of a port under all pieces."""
    return tuple(Mark(each, "air", port) for each in outlines)


def part(*outlines: Outline) -> tuple[Mark, ...]:
    """Pieces that move."""
    return tuple(Mark(each, "part") for each in outlines)


def look(name: str, *outlines: Outline, closed: bool = True) -> tuple[Mark, ...]:
    """Shapes of any look."""
    return tuple(Mark(each, name, closed=closed) for each in outlines)


def space(port: str, *outlines: Outline) -> tuple[Mark, ...]:
    """Air painted over what comes before it."""
    return tuple(Mark(each, "space", port) for each in outlines)


def coil(x: float, y0: float, y1: float, half: float = 0.9, upper: str = "", lower: str = "", turns: int = 3,
         ) -> tuple[Mark, ...]:
    """A spring upright at x between two heights, each of which may travel."""
    return _zigzag([(x + (half if i % 2 else -half) * (0 < i < 2 * turns), y0 + (y1 - y0) * i / (2 * turns))
                    for i in range(2 * turns + 1)], upper, lower)


def lying(x0: float, x1: float, y: float, half: float = 0.9, left: str = "", right: str = "", turns: int = 3
          ) -> tuple[Mark, ...]:
    """A spring along x."""
    return _zigzag([(x0 + (x1 - x0) * i / (2 * turns), y + (half if i % 2 else -half) * (0 < i < 2 * turns))
                    for i in range(2 * turns + 1)], left, right)


def _zigzag(points: list[tuple[float, float]], first: str, last: str) -> tuple[Mark, ...]:
    end = len(points) - 1
    spots = []
    for place, (x, y) in enumerate(points):
        far = place / end
        spots.append(Spot(x, y, tuple((move, weight) for move, weight in ((first, 1 - far), (last, far)) if move and weight)))
    return (Mark(tuple(spots), "spring", closed=False),)


def membrane(*spots: tuple[float, float, str], width: str = "membrane") -> tuple[Mark, ...]:
    """A thick line through points, each with the move it travels with or an empty word."""
    return (Mark(tuple(Spot(x, y, with_move(move)) for x, y, move in spots), width, closed=False),)


def rings(half: float, *heights: float, move: str = "", size: float = 0.5, x: float = 0.0) -> tuple[Mark, ...]:
    """Sealing rings in the two sides of a piston; half: of its width."""
    return tuple(mark for y in heights for side in (x - half, x + half - size)
                 for mark in look("rubber", box(side, y - size / 2, side + size, y + size / 2, move)))


def mirrored(marks: tuple[Mark, ...], x: float = 0.0) -> tuple[Mark, ...]:
    """The marks and their images on the other side of an axis; moves along y only."""
    return marks + tuple(mark._replace(spots=tuple(spot._replace(x=2 * x - spot.x) for spot in mark.spots)) for mark in marks)


def reflected(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The images of marks on the other side of x = 0."""
    return mirrored(marks)[len(marks):]


def shifted(marks: tuple[Mark, ...], dx: float, dy: float) -> tuple[Mark, ...]:
    """The marks somewhere else."""
    return tuple(mark._replace(spots=tuple(spot._replace(x=spot.x + dx, y=spot.y + dy) for spot in mark.spots))
                 for mark in marks)


def flow(*points: tuple[float, float]) -> Outline:
    """A way of air through fixed points."""
    return tuple(Spot(x, y) for x, y in points)
