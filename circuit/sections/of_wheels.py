"""What a brake chamber works: push rod, slack adjuster, and the S-cam that parts the shoes in the drum.

Two views on one shaft. The cam is a spiral by the angle, the shoes turn about their anchor; clearance and travel are drawn
some twenty times too large.
"""

from math import asin, cos, degrees, pi, radians, sin

from circuit.declaring.section import (
    Course, Mark, Move, Outline, Spot, air, box, coil, disc, look, lying, membrane, outline, part,
)

ROD, ARM = 5.0, 9.2
"""U: travel of the rod, length of the slack adjuster."""
SWING = 2 * degrees(asin(ROD / 2 / ARM))
SHAFT, DRUM, CAM = (12.2, ARM), (27.6, ARM), 5.4
"""U: the shaft in the view from the side, the middle of the drum, how far from it the same shaft stands."""
PARTS = 4.2
"""Degrees by which a shoe turns."""
STROKE = Course("1", ((0.25, 0.0), (0.7, 0.79), (6.2, 1.0)))
"""The travel as a share of the working stroke: where `gas.chamber` has the rod start, the clearance taken up (1.18 of
1.5 in), and the working stroke measured."""


def moves(by: dict[str, float]) -> dict[str, Move]:
    """The rod, and what it turns; by: the share of its travel."""
    return {
        "rod": Move(by, dx=ROD, low=0.0), "arm": Move(by, turn=(*SHAFT, SWING), low=0.0),
        "cam": Move(by, turn=(DRUM[0] + CAM, DRUM[1], SWING), low=0.0),
        "upper": Move(by, turn=(DRUM[0] - 5.4, DRUM[1] - 1.1, -PARTS), low=0.0),
        "lower": Move(by, turn=(DRUM[0] - 5.4, DRUM[1] + 1.1, PARTS), low=0.0),
    }


def _round(radius: float, first: float, last: float, steps: int = 14) -> list[tuple[float, float]]:
    """An arc round the drum's middle, angles in degrees clockwise from above."""
    angles = [radians(first + (last - first) * step / steps) for step in range(steps + 1)]
    return [(DRUM[0] + radius * sin(a), DRUM[1] - radius * cos(a)) for a in angles]


def _cam() -> Outline:
    """Two spirals, so that what is parted grows evenly with the angle."""
    rise = 0.8 / SWING
    points = []
    for half in (0.0, pi):
        for step in range(9):
            turned = -50 + 10 * step
            radius = 0.9 + rise * (30 - turned)
            points.append((radius, radians(turned) + half))
        points += [(0.9, radians(each) + half) for each in (60, 90, 115)]
    return outline(*((DRUM[0] + CAM + r * sin(a), DRUM[1] - r * cos(a)) for r, a in points), move="cam")


def _shoe(move: str, sign: float) -> tuple[Mark, ...]:
    """A shoe with its lining and its roller; sign: 1 for the upper one."""
    def turned(points: list[tuple[float, float]]) -> Outline:
        return outline(*((x, DRUM[1] + sign * (y - DRUM[1])) for x, y in points), move=move)

    roller = (DRUM[0] + CAM, DRUM[1] - sign * 2.45)
    return (*look("rubber", turned([*_round(7.05, -58, 52), *_round(6.2, 52, -58)])),
            *look("steel", turned([*_round(6.2, -76, 58), *_round(4.9, 58, -72), (DRUM[0] - 5.9, DRUM[1] - 0.6)]),
                  disc(*roller, 0.8, move)))


def wheel() -> tuple[Mark, ...]:
    """Slack adjuster, shaft, drum, shoes and cam."""
    top = (SHAFT[0] - ARM * sin(radians(SWING / 2)), SHAFT[1] - ARM * cos(radians(SWING / 2)))
    bar = [(-0.8, -ARM - 0.9), (0.8, -ARM - 0.9), (1.6, -1.6), (1.9, 1), (0.8, 2.1), (-0.8, 2.1), (-1.9, 1), (-1.6, -1.6)]
    c, s = cos(radians(-SWING / 2)), sin(radians(-SWING / 2))
    leant = [(SHAFT[0] + x * c - y * s, SHAFT[1] + x * s + y * c) for x, y in bar]
    return (
        *look("axis", outline((SHAFT[0] - 3, SHAFT[1]), (DRUM[0] + CAM + 4, DRUM[1])), closed=False),
        *look("metal", disc(*DRUM, 8.7, sides=48)), *look("paper", disc(*DRUM, 7.6, sides=48)),
        *_shoe("upper", 1.0), *_shoe("lower", -1.0), *look("steel", disc(DRUM[0] - 5.4, DRUM[1] - 1.1, 0.5),
                                                          disc(DRUM[0] - 5.4, DRUM[1] + 1.1, 0.5)),
        *_return_spring(), Mark(_cam(), "part"), *look("ink", disc(DRUM[0] + CAM, DRUM[1], 0.35)),
        *look("steel", outline(*leant, move="arm")), *look("part", disc(*SHAFT, 1.1, "arm")),
        *look("ink", disc(top[0], top[1] + 0.28, 0.45, "arm")),
    )


def _return_spring() -> tuple[Mark, ...]:
    """The spring that draws the shoes together."""
    return coil(DRUM[0] + 2.2, DRUM[1] - 4.4, DRUM[1] + 4.4, 0.7, upper="upper", lower="lower", turns=4)


def pressure_half(port: str) -> tuple[Mark, ...]:
    """The chamber round y = 0: housing, diaphragm, plate, rod and return spring, under what comes on top of them."""
    rim, near = 5.9, 4.0
    left = (Spot(0, -rim), Spot(-2.2, -5.4), Spot(-2.9, -3.2), Spot(-2.9, 3.2), Spot(-2.2, 5.4), Spot(0, rim))
    right = (Spot(0, -rim), Spot(4.4, -5.4), Spot(5.1, -3.6), Spot(5.1, 3.6), Spot(4.4, 5.4), Spot(0, rim))
    flap = (Spot(-1.9, near, (("rod", 1.0),)), Spot(-1.9, -near, (("rod", 1.0),)))
    return (
        *air(port, (*left, *flap)), *air("", (*right, *flap)), *air("", box(5, -1, 6.2, 1)),
        *membrane((0, -6.4, ""), (0, -5.8, ""), (-1.7, -near, "rod"), (-1.7, near, "rod"), (0, 5.8, ""), (0, 6.4, "")),
        *lying(-0.6, 5.1, 2.3, 0.9, left="rod"), *lying(-0.6, 5.1, -2.3, 0.9, left="rod"),
        *part(box(-1.4, -3.4, -0.6, 3.4, "rod")), *look("steel", box(-0.6, -0.55, 10.2, 0.55, "rod")),
        *look("steel", box(8.8, -1, 11, 1, "rod")),
    )


def housing() -> tuple[Mark, ...]:
    """The metal of the two halves, to go under everything."""
    return look("metal", outline((0, -6.9), (-2.8, -6.2), (-3.8, -3.8), (-3.8, 3.8), (-2.8, 6.2), (0, 6.9), (4.8, 6.2),
                                 (6, 4), (6, -4), (4.8, -6.2)))
