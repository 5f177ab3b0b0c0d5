"""The drain cock cut open: a plug with a bore, turned by a lever."""

from circuit.declaring.section import Hole, Mark, Move, Pose, Seat, Section, Spot, box, disc, flow, look, outline, space

TURN = (("plug", 1.0),)

SECTION = Section(
    body=(-6, -6, 6, 6),
    moves={"plug": Move({"1>3": 1.0}, turn=(0, 0, 90))},
    marks=(*look("metal", box(-6, -6, 6, 6)), *look("paper", disc(0, 0, 3.4)),
           Mark(disc(0, 0, 3.2, "plug", 32), "part"), *space("1", box(-3.1, -0.9, 3.1, 0.9, "plug")),
           *look("line", outline((-3.1, -0.9), (3.1, -0.9), move="plug"),
                 outline((-3.1, 0.9), (3.1, 0.9), move="plug"), closed=False)),
    seats=(Seat(("1>3",), "cock", Spot(0, -3.2), Spot(-3.2, 0, TURN), "left", (flow((0, -6.8), (0, 6.8)),), slides=True),),
    holes=(Hole("1", "top", 0, -3.2, 0.9), Hole("3", "bottom", 0, 3.2, 0.9)),
    poses=(Pose("shut", {"1": 8}, {"open": 0}), Pose("open", {"1": 6}, {"open": 1})),
    note="The lever stands before the plug, along its bore, and is not drawn",
)
