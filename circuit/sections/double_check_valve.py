"""The double check valve cut open: a shuttle between two seats, pushed on to the side of the lower pressure."""

from circuit.declaring.section import Hole, Move, Pose, Seat, Section, Spot, air, box, disc, flow, look

THROW = 2.89
"""U from the middle to where the shuttle of radius 2.2 rests on the edges of a seat 3 wide."""
SHUTTLE = (("shuttle", 1.0),)

SECTION = Section(
    body=(-8, -9, 8, 9),
    moves={"shuttle": Move({"11>2": 1.0, "12>2": -1.0}, dy=THROW)},
    marks=(*air("2", box(-3.2, -4.5, 3.2, 4.5)), *air("11", box(-1.5, -7.6, 1.5, -4.5)), *air("12", box(-1.5, 4.5, 1.5, 7.6)),
           *look("rubber", disc(0, 0, 2.2, "shuttle"))),
    seats=(
        Seat(("11>2", "2>11"), "11", Spot(1.5, -4.5), Spot(1.5, -4.5 + THROW, SHUTTLE), "right",
             (flow((-8, -6.6), (0, -6.6), (0, -4.6), (2.5, -3), (2.5, -0.4), (8.6, -0.4)),)),
        Seat(("12>2", "2>12"), "12", Spot(1.5, 4.5), Spot(1.5, 4.5 - THROW, SHUTTLE), "right",
             (flow((-8, 6.6), (0, 6.6), (0, 4.6), (2.5, 3), (2.5, 0.4), (8.6, 0.4)),)),
    ),
    holes=(Hole("11", "left", -6.6, -1.5), Hole("12", "left", 6.6, -1.5), Hole("2", "right", 0, 3.2, 1.3)),
    poses=(
        Pose("fed by 11", {"11": 8.1, "12": 7.0, "2": 7.6}), Pose("fed by 12", {"11": 0.2, "12": 7.0, "2": 6.6}),
        Pose("half way", {"11": 7, "12": 7, "2": 7}), Pose("giving back", {"11": 2, "12": 0.5, "2": 5}),
    ),
)
