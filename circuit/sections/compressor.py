"""The compressor cut open: piston, inlet and discharge valves, and the unloader whose pins hold the inlet open."""

from circuit.declaring.section import (
    CYLINDER, PUMP, Hole, Move, Pose, Seat, Section, Spot, air, box, coil, flow, look, outline, part, rings,
)

INLET, DISCHARGE = (("inlet", 1.0),), (("discharge", 1.0),)

SECTION = Section(
    moves={"inlet": Move({PUMP[0]: 1.0}, dy=1.5), "discharge": Move({PUMP[1]: 1.0}, dy=-1.5),
           "pin": Move({"rests": 1.0}, dy=2.2), "piston": Move({"stroke": 1.0}, dy=9.5)},
    marks=(
        *look("metal", outline((-9, -12), (9, -12), (9, 0), (-9, 0)), outline((-9, 0), (-6.4, 0), (-6.4, 19), (-9, 19)),
              outline((6.4, 0), (9, 0), (9, 19), (6.4, 19))),
        *air("4", box(-5.2, -11, -2.2, -9.6, lower="pin")), *air("0", box(-6.2, -6.6, -1.2, -2.4), box(-4.6, -2.4, -2.8, 0)),
        *air("2", box(1.2, -6.6, 6.2, -1.6)), *air(CYLINDER, box(-6.4, 0, 6.4, 1.9, lower="piston"), box(2.8, -1.6, 4.6, 0)),
        *air("", box(-6.4, 2, 6.4, 19, upper="piston")),
        *part(box(-5.2, -9.6, -2.2, -8.4, "pin")), *rings(1.5, -9, move="pin", size=0.5, x=-3.7),
        *look("steel", box(-4.0, -8.4, -3.4, -2.2, "pin")), *coil(-3.7, -8.4, -6.6, 1.1, upper="pin", turns=2),
        *look("steel", box(-5.6, 0, -1.8, 0.6, "inlet")), *look("steel", box(1.9, -2.2, 5.5, -1.6, "discharge")),
        *coil(3.7, -6.6, -2.2, 1.1, lower="discharge", turns=2),
        *part(outline((-6.4, 2), (6.4, 2), (6.4, 8), (5, 8), (5, 4.4), (-5, 4.4), (-5, 8), (-6.4, 8), move="piston")),
        *rings(6.4, 3, 4.8, move="piston", size=0.6),
        *look("steel", outline((-1, 4.4), (1, 4.4), (1.25, 14.5), (-1.25, 14.5), move="piston")),
        *look("ink", outline((-0.5, 5.1), (0.5, 5.1), (0.5, 6.1), (-0.5, 6.1), move="piston")),
    ),
    seats=(
        Seat((PUMP[0],), "inlet", Spot(-4.9, 0), Spot(-4.9, 0, INLET), "left",
             (flow((-9.6, -4.5), (-2.2, -4.5), (-2.2, -1.4), (-4.2, -1.4), (-4.2, -0.3), (-1.2, 1), (-1.2, 3.4)),)),
        Seat((PUMP[1],), "discharge", Spot(4.9, -1.6), Spot(4.9, -1.6, DISCHARGE), "right",
             (flow((0.6, 1.1), (3.7, 1.1), (3.7, -1.8), (5.8, -2.6), (5.8, -4.5), (9.6, -4.5)),)),
    ),
    holes=(Hole("4", "top", -3.7, -11, 0.8), Hole("0", "left", -4.5, -6.2, 1.1), Hole("2", "right", -4.5, 6.2, 1.1)),
    poses=(
        Pose("loaded, taking in", {"2": 7.9}, {"cycle": 0.3}), Pose("loaded, delivering", {"2": 7.9}, {"cycle": 0.85}),
        Pose("unloaded", {"2": 7.9, "4": 8.5}, {"cycle": 0.7}),
    ),
    settings={"displacement": "12 cfm"},
    note="Stroke and cylinder pressure are an illustration: the model has neither. Some machines have intake ports in the "
         "cylinder's wall instead of the inlet valve",
)
