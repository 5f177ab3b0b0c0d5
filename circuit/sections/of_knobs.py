"""A knob that a hand pushes in and that a spring sends out again: the park control and the trailer's supply control.

In, its lip stands on the valve and lifts it off the inlet seat; the delivered air over the plate holds it there.
"""

from circuit.declaring.section import Hole, Mark, Pose, Section, air, box, coil, look, mirrored, outline
from circuit.sections.of_stages import above, crown, delivery, hollow_valve, moves, seats, stem

POSES = (
    Pose("pushed in", {"1": 8, "2": 5}, {"pushed": 1}), Pose("in", {"1": 8, "2": 8}, {"pushed": 1}),
    Pose("pulled", {"1": 8, "2": 6}, {"pushed": 0}), Pose("popped out", {"1": 1.5, "2": 1.5}, {"pushed": 0}),
)


def knob(corners: tuple[tuple[float, float], ...], move: str = "piston") -> tuple[Mark, ...]:
    """The rod and the head of a knob, which travel with a piston; corners: the outline of the right half of the head."""
    left = tuple((-x, y) for x, y in reversed(corners))
    return (*look("steel", box(-0.8, -4, 0.8, 5, move)), *look("ink", outline(*corners, *left, move=move)))


def control(head: tuple[tuple[float, float], ...]) -> Section:
    """A valve with one knob."""
    return Section(
        body=(-9.4, -1, 9.4, 25),
        moves=moves("1>2", "2>3"),
        marks=(*above("2", 1, 5, 6.4), *air("2", box(-8.2, 1.2, -6.4, 10.6), box(-8.2, 9, -6.4, 10.6), box(-6.5, 1.2, -6.3, 2.8)),
               *delivery(6.4, 14, "2", 6.4, upper="piston"), *hollow_valve(14, 25, "1", "3"),
               *mirrored(coil(4.4, 6.4, 11.8, 1.1, upper="piston")), *stem(6, 14, "3"), *crown(5, 6.4),
               *look("rubber", box(-1.4, -0.6, -0.8, 0.2), box(0.8, -0.6, 1.4, 0.2)), *knob(head)),
        seats=seats(14, 25, ("1>2",), "2>3", 9.5),
        holes=(Hole("1", "left", 18, -5.6), Hole("2", "right", 9.5, 6.4), Hole("3", "bottom", 0, 24, 1.9)),
        poses=POSES,
        note="The delivered air stands over the plate too and so holds the knob in, against the springs",
    )
