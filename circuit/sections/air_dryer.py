"""The air dryer cut open: up round the cartridge, down through the desiccant, out by the outlet check; below it the purge."""

from circuit.declaring.section import (
    Hole, Move, Pose, Seat, Section, Spot, air, box, coil, flow, look, lying, outline, part, rings, space, with_move,
)

UP = ((-8.1, -2), (-8.1, -15.6), (0, -15.6), (0, 2), (3, 6))

SECTION = Section(
    moves={"check": Move({"1>21": 1.0}, dx=1.6), "purge": Move({"1>3": 1.0}, dy=1.7)},
    marks=(
        *look("metal", box(-10.4, -18, 10.4, 2), box(-12, 1, 12, 19)),
        *air("1", box(-9.2, -16.8, 9.2, 0.4), box(-8.6, 0, -7.2, 11.2), box(-8.6, 8.6, -1.8, 12.4), box(-5.9, 12.3, -1.9, 13.4),
             box(-1.1, 0, 1.1, 7.2), box(-1.1, 5, 3, 7.2), box(-0.4, 7, 0.4, 11.4), box(0, 10.9, 5, 11.4)),
        *air("21", box(3, 3.4, 9, 8.8)), *air("22", box(5, 10, 9, 12.4)), *air("4", box(-5.8, 3, -1.8, 4.4, lower="purge")),
        *air("3", box(-7.4, 13.4, -0.4, 18)), *air("", box(-5.8, 5.6, -1.8, 7.4, upper="purge")),
        *look("paper", box(-7, -14.4, 7, -0.2)), *look("bed", box(-6.2, -13.2, 6.2, -3)),
        *look("line", outline((-7, -13.8), (7, -13.8)), outline((-6.2, -2.4), (6.2, -2.4)), closed=False),
        *space("1", box(-6.2, -2.2, 6.2, -0.4), box(-1.1, -0.6, 1.1, 1)),
        *space("4", box(-13, 3.1, -5.4, 4.3)), *look("line", outline((-12, 3.1), (-5.8, 3.1)), outline((-12, 4.3), (-5.8, 4.3)),
                                                     closed=False),
        *part(box(-5.8, 4.4, -1.8, 5.6, "purge")), *rings(2, 5, move="purge", size=0.5, x=-3.8),
        *look("steel", box(-4.2, 5.6, -3.4, 13.6, "purge")), *look("rubber", box(-4.6, 7.5, -4.2, 8.1), box(-3.4, 7.5, -3, 8.1)),
        *coil(-5, 5.6, 7.4, 0.5, upper="purge", turns=2), *coil(-2.6, 5.6, 7.4, 0.5, upper="purge", turns=2),
        *look("rubber", box(-6.6, 13.4, -1.2, 14, "purge")), *part(box(-6.6, 14, -1.2, 15, "purge")),
        *look("rubber", box(3, 4.2, 3.6, 8, "check")), *part(box(3.6, 4.6, 4.6, 7.6, "check")),
        *lying(4.6, 9, 6.1, 1.2, left="check"),
    ),
    seats=(
        Seat(("1>21",), "outlet check", Spot(3, 4.7), Spot(3, 4.7, with_move("check")), "right",
             (flow((-11, -2), *UP, (3.8, 3.8), (7.2, 3.8), (8.2, 5.6), (12.8, 5.6)),)),
        Seat(("1>3",), "purge valve", Spot(-6.2, 13.4), Spot(-6.2, 13.4, with_move("purge")), "left",
             (flow((-11, -2), (-7.9, -2), (-7.9, 10.6), (-5.4, 10.6), (-5.4, 13.6), (-7, 14.2), (-7, 16.4), (-3.9, 16.4),
                   (-3.9, 19.6)),)),
        Seat(("1>22",), "", Spot(0, 8), Spot(0, 8), "right", (flow((0, 8), (0, 11.15), (12.8, 11.15)),)),
    ),
    holes=(Hole("1", "left", -2, -9, 1.1), Hole("4", "left", 3.7, -11, 0.6), Hole("21", "right", 6.1, 8.8, 1.2),
           Hole("22", "right", 11.2, 8.8, 0.7), Hole("3", "bottom", -3.9, 17.6, 1.6)),
    words=(("desiccant", Spot(3, -8)),),
    poses=(
        Pose("loaded, drying", {"1": 8, "21": 7.4, "22": 5}), Pose("purging", {"1": 0.2, "21": 8, "22": 5, "4": 8}),
        Pose("at rest", {"1": 8, "21": 8, "22": 8}),
    ),
)
