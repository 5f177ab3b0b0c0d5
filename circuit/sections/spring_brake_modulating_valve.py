"""The spring-brake modulating valve cut open: a set spring, and a plate between the primary's and the secondary's air."""

from circuit.declaring.section import Hole, Pose, Section, air, box, coil, look, mirrored, part, rings
from circuit.sections.of_stages import crown, delivery, hollow_valve, moves, seats, stem

SECTION = Section(
    body=(-9, -1, 9, 30),
    moves=moves("1>2", "2>3", back=("2>1",)),
    marks=(*air("42", box(-6.4, 0.4, 6.4, 3, lower="piston")), *air("41", box(-6.4, 4.2, 6.4, 6.4, upper="piston")),
           *air("", box(-6, 7.6, 6, 11, lower="piston")), *delivery(12.2, 19, "2", 6, upper="piston"),
           *hollow_valve(19, 30, "1", "3"), *part(box(-0.9, 4.2, 0.9, 11, "piston"), box(-6.4, 3, 6.4, 4.2, "piston")),
           *rings(6.4, 3.6, move="piston", size=0.6), *mirrored(look("rubber", box(-1.5, 6.7, -0.9, 7.3))),
           *mirrored(coil(3.4, 7.6, 11, 1.5, lower="piston", turns=2)), *stem(12, 19, "3"), *crown(11, 6, 1.2)),
    seats=seats(19, 30, ("1>2", "2>1"), "2>3", 14.6),
    holes=(Hole("42", "left", 1.5, -6.4), Hole("41", "left", 5.6, -6.4, 0.8), Hole("1", "left", 23, -5.6),
           Hole("2", "right", 14.6, 6), Hole("3", "bottom", 0, 29, 1.9)),
    poses=(
        Pose("filling the springs", {"1": 8, "42": 7, "2": 4}), Pose("driving, springs held off", {"1": 8, "42": 7, "2": 6.6}),
        Pose("primary lost, pedal down", {"1": 8, "41": 3, "2": 5}), Pose("park control out", {"42": 7, "2": 5}),
    ),
    note="In principle: with air at 42 the plate carries what 41 does",
)
