"""The dual foot valve cut open: two foot valves one above the other; the air of the upper works the lower."""

from circuit.declaring.section import Hole, Move, Pose, Section, air, box, coil, look, part, rings
from circuit.sections.of_stages import EMPTY, crown, delivery, hollow_valve, moves, seats, stem

LOWER = 22.0
"""U by which the lower half stands under the upper."""

SECTION = Section(
    body=(-9, -3, 9, 47),
    moves={**moves("11>21", "21>3"), **moves("12>22", "22>3", "lower-"), "pedal": Move({"pedal": 1.0}, dy=2.4)},
    marks=(*air("", box(-6, -1.6, 6, 5, lower="piston")), *delivery(6.4, 14, "21", 6, upper="piston"),
           *air("21", box(-6, 25, 6, 28, lower="lower-piston"), box(6, 8.6, 8, 10.4), box(7, 9, 8, 26.9), box(6, 25.1, 8, 26.9)),
           *delivery(29.2, 36, "22", 6, upper="lower-piston"), *hollow_valve(14, 47, "11", "3"),
           *look("rubber", box(-2.5, 24, -1.9, 24.6), box(1.9, 24, 2.5, 24.6)),
           *hollow_valve(36, 47, "12", "3", "lower-"), *stem(6, 14, "3"), *crown(5, 6),
           *part(box(-2.9, 26, -1.9, 36, "lower-piston"), box(1.9, 26, 2.9, 36, "lower-piston"),
                 box(-6, 28, -1.9, 29.2, "lower-piston"), box(1.9, 28, 6, 29.2, "lower-piston")),
           *rings(6, 28.6, move="lower-piston", size=0.6),
           *part(box(-4.5, -1.4, 4.5, -0.2, "pedal"), box(-1.3, -6.5, 1.3, -1.4, "pedal")),
           *coil(0, -0.2, 5, 2.6, upper="pedal", lower="piston", turns=3), *look("steel", box(-3, -7.4, 3, -6.5, "pedal"))),
    seats=(*seats(14, 47, ("11>21",), "21>3", 9.5), *seats(36, 47, ("12>22",), "22>3", 31.6, "lower-")),
    holes=(Hole("11", "left", 18, -5.6), Hole("21", "right", 9.5, 6), Hole("12", "left", 40, -5.6), Hole("22", "right", 31.6, 6),
           Hole("3", "bottom", 0, 46, 1.9)),
    poses=(
        Pose("feeding", {"11": 8, "12": 8, "21": 2.4, "22": 2.2}, {"pedal": 0.4}),
        Pose("held", {"11": 8, "12": 8, "21": 4.0, "22": 3.87}, {"pedal": 0.4}),
        Pose("releasing", {"11": 8, "12": 8, "21": 3.5, "22": 3.3}, {"pedal": 0.1}),
        Pose("upper lost", {"12": 8, "22": 2}, {"pedal": 0.4}), Pose("pedal up", {"11": 8, "12": 8}),
    ),
    note=f"With 11 lost the pedal works the lower half by a rod, which is not drawn. {EMPTY}",
)
