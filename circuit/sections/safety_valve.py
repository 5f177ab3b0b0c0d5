"""The safety valve cut open: a spring set by a screw holds a disc on its seat."""

from circuit.declaring.section import Hole, Move, Pose, Seat, Section, Spot, air, box, coil, flow, look, part

SECTION = Section(
    body=(-6, -12, 6, 5),
    settings={"opens-at": "10.3 bar"},
    moves={"disc": Move({"1>3": 1.0}, dy=-1.8)},
    marks=(*air("3", box(-3.8, -9.4, 3.8, 0)), *look("rubber", box(-2.6, -0.7, 2.6, 0, "disc")),
           *part(box(-2.6, -2, 2.6, -0.7, "disc")), *look("steel", box(-0.5, -6.5, 0.5, -2, "disc")),
           *look("steel", box(-2.8, -9, 2.8, -8.2), box(-1.3, -14, 1.3, -9), box(-2.3, -13.2, 2.3, -12)),
           *coil(0, -8.2, -2, 2, lower="disc", turns=4)),
    seats=(Seat(("1>3",), "seat", Spot(-2.1, 0), Spot(-2.1, 0, (("disc", 1.0),)), "left",
                (flow((0.7, 5.6), (0.7, 0.4), (1.9, -0.8), (3.2, -0.8), (3.2, -4), (6.8, -4)),)),),
    holes=(Hole("3", "right", -4, 3.8, 1.2), Hole("1", "bottom", 0, 0, 1.6)),
    words=(("set screw", Spot(0, -14.6)),),
    poses=(Pose("shut", {"1": 8.2}), Pose("blowing", {"1": 10.5})),
)
