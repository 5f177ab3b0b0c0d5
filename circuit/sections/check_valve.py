"""The check valve cut open: a disc that a light spring holds on its seat."""

from circuit.declaring.section import Hole, Move, Pose, Seat, Section, Spot, air, box, flow, look, lying, part

SECTION = Section(
    body=(-9, -6, 9, 6),
    moves={"disc": Move({"1>2": 1.0}, dx=1.8)},
    marks=(*air("2", box(-2, -4.2, 7, 4.2)), *look("rubber", box(-2, -2.9, -1.3, 2.9, "disc")),
           *part(box(-1.3, -2.4, 0, 2.4, "disc"), box(0, -0.6, 3.4, 0.6, "disc")),
           *look("metal", box(4.6, -4.2, 7, -1.8), box(4.6, 1.8, 7, 4.2)), *lying(0, 7, 0, 1.6, left="disc", turns=4)),
    seats=(Seat(("1>2",), "seat", Spot(-2, -2.3), Spot(-2, -2.3, (("disc", 1.0),)), "left",
                (flow((-9, -0.8), (-2.6, -0.8), (-1.1, -2), (-1.1, -3.4), (3.8, -3.4), (3.8, -0.9), (9.4, -0.9)),)),),
    holes=(Hole("1", "left", 0, -2, 1.7), Hole("2", "right", 0, 7, 1.7)),
    poses=(Pose("feeding", {"1": 7.2, "2": 6.9}), Pose("shut", {"2": 6.9}), Pose("held", {"1": 6.9, "2": 6.9})),
)
