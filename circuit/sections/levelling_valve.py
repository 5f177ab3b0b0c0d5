"""The levelling valve cut open: the arm's eccentric presses or lifts a plunger over a hollow valve."""

from circuit.declaring.section import Hole, Move, Pose, Section, Spot, air, box, disc, look, mirrored, outline, part
from circuit.sections.of_stages import delivery, hollow_valve, moves, seats, stem

BACK = ("2>1",)

SECTION = Section(
    body=(-9, -1, 9, 25),
    moves={**moves("1>2", "2>3", back=BACK), "arm": Move({"1>2": 1.0, "2>1": 1.0, "2>3": -1.0}, turn=(0, 3.4, 22))},
    marks=(*air("", box(-4, 0.4, 4, 7)), *delivery(8.6, 14, "2", 6), *hollow_valve(14, 25, "1", "3"),
           *part(box(-2.6, 5.5, 2.6, 6.9, "piston")), *stem(6.9, 14, "3", half=2.0),
           *mirrored(look("rubber", box(-2.6, 7.5, -2, 8.1))),
           *look("steel", disc(0, 3.4, 2.4, "arm")), *look("ink", disc(1.5, 3.9, 0.4, "arm")),
           *look("steel", outline((-2, 2.6), (-15, 3), (-15, 4), (-2, 4.2), move="arm"), disc(-15, 3.5, 0.9, "arm"))),
    seats=seats(14, 25, ("1>2", *BACK), "2>3", 10.2, words=("inlet", "exhaust")),
    holes=(Hole("1", "left", 18, -5.6), Hole("2", "right", 10.2, 6), Hole("3", "bottom", 0, 24, 1.9)),
    words=(("arm to the axle", Spot(-13.4, -3.6)),),
    poses=(
        Pose("body low", {"1": 8, "2": 3}), Pose("at its height", {"1": 8, "2": 4}), Pose("body high", {"1": 8, "2": 5}),
    ),
    note="The check in the inlet is not drawn; the arm is drawn by what the valve does",
)
