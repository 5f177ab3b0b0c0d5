"""The trailer spring brake valve cut open: a protected way to the tanks, a check to the springs, and what lets them on."""

from circuit.declaring.section import Hole, Move, Pose, Seat, Section, Spot, air, box, coil, flow, look, part, rings, with_move
from circuit.sections.of_diaphragms import protected, protected_seat

SECTION = Section(
    body=(-10, -10, 10, 21),
    moves={"disc": Move({"1>21": 1.0}, dy=-1.6), "check": Move({"1>22": 1.0}, dy=1.5), "vent": Move({"22>3": 1.0}, dy=-1.5)},
    marks=(*air("1", box(-1.6, 4, 1.6, 7), box(-10, 4.8, 7.6, 7), box(3, 7, 7.6, 8.6, lower="vent"), box(-5.4, 7, -2.4, 9)),
           *air("", box(3, 9.6, 7.6, 11.4, upper="vent")), *air("22", box(-7, 9, -0.8, 15.6), box(-0.9, 13, 8.4, 15.6)),
           *air("3", box(4, 15.6, 6.6, 20)), *protected("1", "21", "disc"),
           *look("rubber", box(-6, 9, -1.8, 9.6, "check")), *part(box(-6, 9.6, -1.8, 10.8, "check")),
           *coil(-3.9, 10.8, 15.6, 1.6, upper="check", turns=2),
           *part(box(3, 8.6, 7.6, 9.6, "vent"), box(4.8, 9.6, 5.8, 14.8, "vent")), *rings(2.3, 9.1, move="vent", size=0.5, x=5.3),
           *coil(3.9, 9.6, 11.4, 0.5, upper="vent", turns=2), *coil(6.7, 9.6, 11.4, 0.5, upper="vent", turns=2),
           *look("rubber", box(3.4, 14.8, 7.2, 15.6, "vent"))),
    seats=(
        protected_seat(("1>21",), "disc", "tanks' seat", out=10.6),
        Seat(("1>22",), "check", Spot(-5.7, 9), Spot(-5.7, 9, with_move("check")), "left",
             (flow((-10.6, 5.9), (-3.9, 5.9), (-3.9, 9.1), (-1.3, 9.9), (-1.3, 14.3), (10.6, 14.3)),)),
        Seat(("22>3",), "exhaust", Spot(6.9, 15.6), Spot(6.9, 15.6, with_move("vent")), "right",
             (flow((10.6, 14.6), (7.8, 14.6), (7.4, 15), (5.3, 15.2), (5.3, 21.6)),)),
    ),
    holes=(Hole("1", "left", 5.9, -9, 1.1), Hole("21", "right", 2, 5.4), Hole("22", "right", 14.3, 8.4, 1.1),
           Hole("3", "bottom", 5.3, 19, 1.3)),
    poses=(
        Pose("filling", {"1": 6, "21": 3, "22": 5}, {"filling": 1}), Pose("coupled", {"1": 7, "21": 7, "22": 7}, {"filling": 1}),
        Pose("springs first", {"1": 4.5, "22": 3}, {"filling": 0}), Pose("line lost", {"21": 7, "22": 5}, {"filling": 0}),
    ),
)
