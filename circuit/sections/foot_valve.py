"""The foot valve cut open: the pedal presses a spring, the spring a piston, and the delivery presses back."""

from circuit.declaring.section import Hole, Move, Pose, Section, air, box, coil, look, part
from circuit.sections.of_stages import EMPTY, crown, delivery, hollow_valve, moves, seats, stem

SECTION = Section(
    body=(-9, -3, 9, 25),
    moves={**moves("1>2", "2>3"), "pedal": Move({"pedal": 1.0}, dy=2.4)},
    marks=(*air("", box(-6, -1.6, 6, 5, lower="piston")), *delivery(6.4, 14, "2", 6, upper="piston"),
           *hollow_valve(14, 25, "1", "3"), *stem(6, 14, "3"), *crown(5, 6),
           *part(box(-4.5, -1.4, 4.5, -0.2, "pedal"), box(-1.3, -6.5, 1.3, -1.4, "pedal")),
           *coil(0, -0.2, 5, 2.6, upper="pedal", lower="piston", turns=3), *look("steel", box(-3, -7.4, 3, -6.5, "pedal"))),
    seats=seats(14, 25, ("1>2",), "2>3", 9.5),
    holes=(Hole("1", "left", 18, -5.6), Hole("2", "right", 9.5, 6), Hole("3", "bottom", 0, 24, 1.9)),
    poses=(
        Pose("feeding", {"1": 8, "2": 2.4}, {"pedal": 0.4}), Pose("held", {"1": 8, "2": 4.0}, {"pedal": 0.4}),
        Pose("releasing", {"1": 8, "2": 3.5}, {"pedal": 0.1}), Pose("pedal up", {"1": 8}),
    ),
    note=EMPTY,
)
