"""The two-knob dash module cut open: a shuttle for the higher source, and a plunger with two seats for each knob."""

from circuit.declaring.section import (
    Course, Hole, Mark, Move, Pose, Section, air, box, coil, disc, look, mirrored, reflected, shifted,
)
from circuit.sections.of_knobs import knob
from circuit.sections.of_stages import above, beside, crown, delivery, hollow_valve, moves, seats, stem

APART = 7.0
SUPPLY = "the higher"
THROW = 2.89


def _half(port: str, prefix: str, head: tuple[tuple[float, float], ...]) -> tuple[Mark, ...]:
    """The plunger of one knob, on its own axis."""
    piston = f"{prefix}piston"
    return (*above(port, 1, 5, 5, piston), *air(port, box(5.2, 1.2, 6, 10.6), box(4.9, 1.2, 5.3, 2.8)),
            *delivery(6.4, 14, port, 5, upper=piston), *hollow_valve(14, 23.4, SUPPLY, "3", prefix, 5),
            *mirrored(coil(3.6, 6.4, 11.8, 0.9, upper=piston)), *stem(6, 14, "3", prefix), *crown(5, 5, prefix=prefix),
            *knob(head, piston))


SECTION = Section(
    body=(-13.8, -1, 13.8, 33),
    higher={SUPPLY: ("11", "12")},
    courses={"first": Course("11", ((0, 0), (10, 40))), "second": Course("12", ((0, 0), (10, 40)))},
    moves={**moves("11>21", "21>3", "yellow-", ("12>21", "21>11", "21>12")),
           **moves("11>22", "22>3", "red-", ("12>22", "22>11", "22>12")),
           "shuttle": Move({"first": 1.0, "second": -1.0}, dx=THROW)},
    marks=(*air(SUPPLY, box(-2.2, 17, 2.2, 18.6), box(-0.8, 17, 0.8, 27), box(-4.5, 25.8, 4.5, 32)),
           *air("11", box(-13.8, 27.4, -4.5, 30.4)), *air("12", box(4.5, 27.4, 13.8, 30.4)),
           *shifted(reflected(_half("21", "yellow-", ((0, -8.6), (2.9, -6.2), (0, -3.8)))), -APART, 0),
           *shifted(_half("22", "red-", ((1.1, -8.6), (2.7, -7), (2.7, -5.4), (1.1, -3.8))), APART, 0),
           *look("rubber", disc(0, 28.9, 2.2, "shuttle"))),
    seats=(*beside(seats(14, 23, ("11>21", "12>21", "21>11", "21>12"), "21>3", 9.5, "yellow-"), -APART),
           *beside(seats(14, 23, ("11>22", "12>22", "22>11", "22>12"), "22>3", 9.5, "red-"), APART)),
    holes=(Hole("21", "left", 9.5, -12), Hole("22", "right", 9.5, 12), Hole("11", "left", 28.9, -13, 1.5),
           Hole("12", "right", 28.9, 13, 1.5), Hole("3", "left", 22.8, -5.1, 0.8), Hole("3", "right", 22.8, 5.1, 0.8)),
    poses=(
        Pose("both pushed in", {"11": 8, "12": 7.5, "21": 4, "22": 5}),
        Pose("driving", {"11": 8, "12": 7.5, "21": 8, "22": 8}),
        Pose("parked", {"11": 8, "12": 7.5, "21": 4, "22": 4}, {"pushed": 0, "trailer-pushed": 0}),
        Pose("red out", {"11": 8, "12": 7.5, "21": 8, "22": 4}, {"trailer-pushed": 0}),
        Pose("fed by 12", {"11": 2, "12": 7.5, "21": 5, "22": 5}),
    ),
    note="Left the yellow knob, right the red one; that yellow takes red along is not drawn",
)
