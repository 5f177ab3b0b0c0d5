"""The antilock relay valve cut open: a relay valve with two coils over its signal."""

from circuit.declaring.section import Hole, Mark, Move, Outline, Pose, Section, Spot, air, box, look, outline
from circuit.sections.of_stages import above, crown, delivery, hollow_valve, moves, seats, stem


def _coil(x: float, move: str) -> tuple[Mark, ...]:
    """A winding round an armature."""
    def cross(x0: float, x1: float) -> tuple[Outline, Outline]:
        return outline((x0, -6.4), (x1, -2.8)), outline((x1, -6.4), (x0, -2.8))

    return (*look("metal", box(x - 3, -7.2, x + 3, 0)), *air("4", box(x - 0.8, -6.6, x + 0.8, 0)),
            *(mark for x0, x1 in ((x - 2.6, x - 0.9), (x + 0.9, x + 2.6))
              for mark in (*look("paper", box(x0, -6.4, x1, -2.8)), *look("line", *cross(x0, x1), closed=False))),
            *look("steel", box(x - 0.6, -5.6, x + 0.6, -1.6, move)))


SECTION = Section(
    body=(-9, 0, 9, 25),
    moves={**moves("1>2", "2>3"), "hold": Move({"hold": 1.0}, dy=1.6), "release": Move({"release": 1.0}, dy=-0.9)},
    marks=(*_coil(-4.4, "hold"), *_coil(4.4, "release"), *above("4", 1, 5, 7), *delivery(6.4, 14, "2", 7, upper="piston"),
           *hollow_valve(14, 25, "1", "3"), *stem(6, 14, "3"), *crown(5, 7)),
    seats=seats(14, 25, ("1>2",), "2>3", 9.5),
    holes=(Hole("4", "left", 2.2, -7), Hole("1", "left", 18, -5.6), Hole("2", "right", 9.5, 7), Hole("3", "bottom", 0, 24, 1.9)),
    words=(("hold", Spot(-4.4, -7.8)), ("release", Spot(4.4, -7.8))),
    poses=(
        Pose("feeding", {"1": 8, "4": 5, "2": 3.2}), Pose("lapped", {"1": 8, "4": 5, "2": 4.8}),
        Pose("holding", {"1": 8, "4": 6, "2": 3.2}, {"hold": 1}),
        Pose("releasing", {"1": 8, "4": 6, "2": 3.2}, {"hold": 1, "release": 1}),
    ),
    note="The coils take the signal off the piston or keep it; over the piston the pressure of 4 is drawn all the same",
)
