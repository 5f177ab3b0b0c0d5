"""The relay valve cut open: the signal on a wide piston, the reservoir's air under a seat."""

from circuit.declaring.section import Hole, Pose, Section
from circuit.sections.of_stages import above, crown, delivery, hollow_valve, moves, seats, stem

SECTION = Section(
    body=(-9, 0, 9, 25),
    moves=moves("1>2", "2>3"),
    marks=(*above("4", 1, 5, 7), *delivery(6.4, 14, "2", 7, upper="piston"), *hollow_valve(14, 25, "1", "3"),
           *stem(6, 14, "3"), *crown(5, 7)),
    seats=seats(14, 25, ("1>2",), "2>3", 9.5),
    holes=(Hole("4", "left", 2.2, -7), Hole("1", "left", 18, -5.6), Hole("2", "right", 9.5, 7), Hole("3", "bottom", 0, 24, 1.9)),
    poses=(
        Pose("feeding", {"1": 8, "4": 5, "2": 3.2}), Pose("held", {"1": 8, "4": 5, "2": 4.8}),
        Pose("releasing", {"1": 8, "4": 1, "2": 3.5}), Pose("at rest", {"1": 8}),
    ),
)
