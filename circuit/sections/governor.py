"""The governor cut open: a two-way piston between the sensed air and a spring that a screw sets.

Down, air pushes on the narrow seat alone; once up, on the whole piston. So it goes back only at a lower pressure.
"""

from circuit.declaring.section import (
    Hole, Move, Pose, Seat, Section, Spot, air, box, coil, flow, look, outline, part, rings, space,
)

UP = 3.5
PISTON = (("piston", 1.0),)

SECTION = Section(
    body=(-8, 0, 8, 22),
    settings={"cut-in": "7.2 bar", "cut-out": "8.6 bar"},
    moves={"piston": Move({"1>2": 1.0}, dy=-UP, low=0.0)},
    marks=(
        *air("3", box(-2.8, 1.6, 2.8, 7, lower="piston")),
        *air("1", box(-2.8, 17, 2.8, 17, upper="piston"), box(-1.6, 17, 1.6, 20.4)),
        *part(box(-2.8, 7, 2.8, 9.5, "piston"), box(-1.4, 9.5, 1.4, 13, "piston"), box(-2.8, 13, 2.8, 17, "piston")),
        *space("1", outline((-0.7, 17), (-0.7, 15.8), (-2.8, 15.8), (-2.8, 14.4), (2.8, 14.4), (2.8, 15.8), (0.7, 15.8),
                            (0.7, 17), move="piston")),
        *look("line", outline((-0.7, 17), (-0.7, 15.8), (-2.8, 15.8), move="piston"),
              outline((0.7, 17), (0.7, 15.8), (2.8, 15.8), move="piston"), outline((-2.8, 14.4), (2.8, 14.4), move="piston"),
              closed=False),
        *look("rubber", box(-2.6, 16.6, -0.9, 17, "piston"), box(0.9, 16.6, 2.6, 17, "piston")),
        *rings(2.8, 8.2, 13.7, move="piston", size=0.6),
        *coil(0, 2.8, 7, 2, lower="piston", turns=3), *look("steel", box(-2.4, 2, 2.4, 2.8), box(-1.2, -2.6, 1.2, 2),
                                                          box(-2.2, -1.4, 2.2, 0)),
    ),
    seats=(
        Seat(("1>2",), "1 to 2", Spot(-2.8, 11.6), Spot(-2.8, 11.6 + UP, PISTON), "left",
             (flow((8.6, 19), (0, 19), (0, 11.6), (-8.6, 11.6)),), slides=True),
        Seat(("2>3",), "2 to 3", Spot(2.8, 10.6), Spot(2.8, 10.6, PISTON), "right",
             (flow((-8.6, 11.6), (-2.1, 11.6), (-2.1, 10.2), (8.8, 10.2)),), slides=True),
    ),
    holes=(Hole("2", "left", 11.6, -2.8), Hole("1", "right", 19, 1.6), Hole("3", "right", 10.6, 2.8)),
    words=(("screw", Spot(-4.4, -1)),),
    poses=(
        Pose("loaded", {"1": 8.0}, {"unloading": 0}), Pose("at cut-out", {"1": 8.6, "2": 5.1}, {"unloading": 1}),
        Pose("still unloaded", {"1": 7.6, "2": 7.6}, {"unloading": 1}), Pose("at cut-in", {"1": 7.2, "2": 4}, {"unloading": 0}),
    ),
    note="The sensed air has the narrow seat below while the piston is down, all of it once it is up",
)
