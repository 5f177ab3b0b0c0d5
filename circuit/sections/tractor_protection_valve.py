"""The tractor protection valve cut open: the supply line's air on a piston holds the control line's seat open."""

from circuit.declaring.section import Hole, Move, Pose, Seat, Section, Spot, air, box, coil, flow, look, mirrored, part, rings

VALVE = (("valve", 1.0),)

SECTION = Section(
    body=(-9, -1, 9, 25),
    moves={"valve": Move({"11>21": 1.0}, dy=1.7)},
    marks=(*air("1", box(-9, 1, 0, 3.4), box(-6, 3, 6, 5, lower="valve")), *air("2", box(0, 1, 9, 3.4)),
           *air("", box(-6, 6.4, 6, 10.6, upper="valve")), *air("21", box(-6, 12, 6, 15.4), box(-2.6, 15.4, 2.6, 17)),
           *air("11", box(-6, 17, 6, 23.6)),
           *mirrored(coil(4, 6.4, 10.6, 1.1, upper="valve", turns=2)),
           *part(box(-6, 5, 6, 6.4, "valve"), box(-1.2, 6.4, 1.2, 17, "valve")), *rings(6, 5.7, move="valve", size=0.6),
           *look("rubber", box(-1.8, 11, -1.2, 11.6), box(1.2, 11, 1.8, 11.6), box(-3.9, 17, 3.9, 17.7, "valve")),
           *part(box(-3.9, 17.7, 3.9, 18.9, "valve")), *coil(0, 18.9, 23.6, 1.8, upper="valve")),
    seats=(
        Seat(("11>21",), "control line", Spot(3.2, 17), Spot(3.2, 17, VALVE), "right",
             (flow((-9.6, 20.5), (-4.8, 20.5), (-4.8, 17.9), (-1.9, 17.9), (-1.9, 13.7), (9.6, 13.7)),
              flow((4.8, 21), (4.8, 17.9), (1.9, 17.9), (1.9, 14.6)))),
        Seat(("1>2",), "", Spot(0, 2.2), Spot(0, 2.2), "right", (flow((-9.6, 2.2), (9.6, 2.2)),)),
    ),
    holes=(Hole("1", "left", 2.2, -8, 1.2), Hole("2", "right", 2.2, 8, 1.2), Hole("11", "left", 20.5, -6, 1.2),
           Hole("21", "right", 13.7, 6, 1.2)),
    poses=(
        Pose("coupled, braking", {"1": 7.5, "2": 7.5, "11": 4, "21": 3}, {"open": 1}),
        Pose("coupled, at rest", {"1": 7.5, "2": 7.5}, {"open": 1}),
        Pose("charging", {"1": 2.4, "2": 1.2}, {"open": 0}), Pose("torn off, braking", {"11": 5}, {"open": 0}),
    ),
)
