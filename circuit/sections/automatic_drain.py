"""The automatic drain cut open: a pulse at 4 lifts a disc off the sump's outlet for a moment."""

from circuit.declaring.section import (
    Hole, Move, Pose, Seat, Section, Spot, air, box, coil, flow, look, outline, part, rings, with_move,
)

SECTION = Section(
    body=(-8, 0, 8, 20),
    moves={"disc": Move({"1>3": 1.0}, dy=-1.7)},
    marks=(*air("1", box(-1.1, 0, 1.1, 2), box(-6.4, 1.6, 6.4, 3.2), box(-6.4, 1.6, -4.4, 13), box(4.4, 1.6, 6.4, 13),
                box(-6.4, 10.4, 6.4, 14)),
           *air("", box(-3, 4, 3, 6.8, lower="disc")), *air("4", box(-3, 8, 3, 9.2, upper="disc"), box(-8, 8.3, -3, 9.2)),
           *look("line", outline((-6.4, 8.3), (-4.4, 8.3)), outline((-6.4, 9.2), (-4.4, 9.2)), closed=False),
           *air("3", box(-1.4, 14, 1.4, 20)), *part(box(-3, 6.8, 3, 8, "disc"), box(-0.7, 8, 0.7, 12.2, "disc")),
           *rings(3, 7.4, move="disc", size=0.5), *coil(0, 4, 6.8, 1.8, lower="disc", turns=2),
           *look("rubber", box(-1.3, 9.5, -0.7, 10.1), box(0.7, 9.5, 1.3, 10.1), box(-2.6, 13.3, 2.6, 14, "disc")),
           *part(box(-2.6, 12.2, 2.6, 13.3, "disc"))),
    seats=(Seat(("1>3",), "outlet", Spot(2, 14), Spot(2, 14, with_move("disc")), "right",
                (flow((0, -0.6), (0, 2.4), (5.4, 2.4), (5.4, 11.6), (3.6, 13.2), (0, 14), (0, 20.6)),)),),
    holes=(Hole("1", "top", 0, 1.6, 1.1), Hole("4", "left", 8.75, -7, 0.45), Hole("3", "bottom", 0, 19, 1.4)),
    poses=(Pose("shut", {"1": 8}, {"open": 0}), Pose("spitting", {"1": 8, "4": 8}, {"open": 1})),
    note="A drain that answers a fall of pressure, without 4, has its piston joined to the sump",
)
