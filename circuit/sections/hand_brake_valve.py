"""The graduated hand brake valve cut open: released, the lever presses both springs; drawn, it lets them go."""

from circuit.declaring.section import (
    Hole, Mark, Move, Pose, Section, air, box, coil, disc, look, outline, part, reflected, shifted,
)
from circuit.sections.of_stages import EMPTY, beside, crown, delivery, hollow_valve, moves, seats, stem

APART = 7.0


def _half(port: str, prefix: str) -> tuple[Mark, ...]:
    """One of the two valves, on its own axis."""
    piston = f"{prefix}piston"
    return (*air("", box(-5, -1.6, 5, 5, lower=piston)), *delivery(6.4, 14, port, 5, upper=piston),
            *hollow_valve(14, 25, "1", "3", prefix, 5), *stem(6, 14, "3", prefix), *crown(5, 5, prefix=prefix),
            *part(box(-4, -1.2, 4, 0, "follower"), box(-1.2, -3.4, 1.2, -1.2, "follower")),
            *coil(0, 0, 5, 2.4, upper="follower", lower=piston))


SECTION = Section(
    body=(-13.4, -3, 13.4, 27),
    moves={**moves("1>21", "21>3", "spring-"), **moves("1>22", "22>3", "trailer-"),
           "follower": Move({"lever": -1.0}, dy=2.2, high=0.0), "lever": Move({"lever": 1.0}, turn=(0, -6.6, 70), low=0.0)},
    marks=(*air("1", box(-2.2, 17, 2.2, 19)), *shifted(reflected(_half("21", "spring-")), -APART, 0),
           *shifted(_half("22", "trailer-"), APART, 0), *air("3", box(-APART - 1.9, 24.4, APART + 1.9, 25.8)),
           *look("steel", box(-9, -4.6, 9, -3.4, "follower"),
                 outline((-1, -7.4), (-8.6, -11.2), (-9.2, -10), (-2, -5.6), (-1.6, -4.6), (1.6, -4.6), (1.6, -7.4),
                         move="lever")),
           *look("ink", disc(-9.4, -10.9, 1, "lever"), disc(0, -6.6, 0.5))),
    seats=(*beside(seats(14, 25, ("1>21",), "21>3", 9.5, "spring-"), -APART),
           *beside(seats(14, 25, ("1>22",), "22>3", 9.5, "trailer-"), APART)),
    holes=(Hole("21", "left", 9.5, -12), Hole("22", "right", 9.5, 12), Hole("1", "left", 19.4, -12, 0.8),
           Hole("3", "bottom", 0, 25, 1.4)),
    poses=(
        Pose("released, filling", {"1": 8.5, "21": 5, "22": 5}), Pose("released", {"1": 8.5, "21": 8.5, "22": 8.5}),
        Pose("half drawn", {"1": 8.5, "21": 7, "22": 6}, {"lever": 0.5}), Pose("parked", {"1": 8.5}, {"lever": 1}),
        Pose("test position", {"1": 8.5, "22": 6}, {"lever": 1, "test": 1}),
    ),
    note="Left the springs' valve, right the trailer's. The detent of the test position is not drawn. " + EMPTY,
)
