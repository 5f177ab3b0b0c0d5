"""The trailer hand valve cut open: the lever turns a cam, the cam presses a spring, the delivery presses back."""

from circuit.declaring.section import Hole, Move, Pose, Section, air, box, coil, disc, look, outline, part
from circuit.sections.of_stages import EMPTY, crown, delivery, hollow_valve, moves, seats, stem

SECTION = Section(
    body=(-9, -3, 9, 25),
    moves={**moves("1>2", "2>3"), "follower": Move({"lever": 1.0}, dy=2.2), "lever": Move({"lever": 1.0}, turn=(0, -5, 60))},
    marks=(*air("", box(-6, -1.6, 6, 5, lower="piston")), *delivery(6.4, 14, "2", 6, upper="piston"),
           *hollow_valve(14, 25, "1", "3"), *stem(6, 14, "3"), *crown(5, 6),
           *part(box(-4.5, -1.2, 4.5, 0, "follower"), box(-1.3, -3.4, 1.3, -1.2, "follower")),
           *coil(0, 0, 5, 2.6, upper="follower", lower="piston", turns=3),
           *look("steel", outline((-0.7, -6.4), (6.6, -8.2), (7.0, -7.0), (1.4, -4.6), (0.6, -3.4), (-1.2, -3.4), (-1.7, -5),
                                  move="lever")),
           *look("ink", disc(7.2, -7.7, 1.0, "lever"), disc(0, -5, 0.5))),
    seats=seats(14, 25, ("1>2",), "2>3", 9.5),
    holes=(Hole("1", "left", 18, -5.6), Hole("2", "right", 9.5, 6), Hole("3", "bottom", 0, 24, 1.9)),
    poses=(
        Pose("feeding", {"1": 8, "2": 1.4}, {"lever": 0.6}), Pose("held", {"1": 8, "2": 3.6}, {"lever": 0.6}),
        Pose("releasing", {"1": 8, "2": 2.5}, {"lever": 0.1}), Pose("lever back", {"1": 8}),
    ),
    note=EMPTY,
)
