"""The quick release with double check cut open: a shuttle for the higher of two lines, a flap for the exhaust."""

from circuit.declaring.section import Course, Hole, Mark, Move, Pose, Seat, Section, Spot, air, box, disc, flow, look, mirrored

RIM, MIDDLE = (("rim", 1.0),), (("middle", 1.0),)
FLAP = (Spot(5, 4.6, MIDDLE), Spot(6.9, 4.6, MIDDLE), Spot(8.4, 3.6, (("middle", 0.5), ("rim", 0.5))), Spot(10.2, 2.7, RIM))
THROW = 2.89
OVER = ((-2, -0.6), (5.4, -0.6), (10.9, 3.7), (10.9, 6.8), (13, 6.8))

SECTION = Section(
    body=(-9.5, -9, 12.5, 12),
    higher={"the higher": ("1", "4")},
    courses={"park": Course("1", ((0, 0), (10, 40))), "service": Course("4", ((0, 0), (10, 40)))},
    moves={"rim": Move({"1>2": 1.0, "4>2": 1.0}, dy=2.5), "middle": Move({"2>3": 1.0}, dy=-1.8),
           "shuttle": Move({"park": -1.0, "service": 1.0}, dy=THROW)},
    marks=(*air("4", box(-6, -7.6, -3, -4.5)), *air("1", box(-6, 4.5, -3, 7.6)),
           *air("the higher", box(-7.7, -4.5, -1.3, 4.5), box(-1.4, -1.6, 1, 0.4), box(0, -2, 10, 2.4)),
           *air("2", box(-0.6, 2.4, 11.4, 9)), *look("metal", box(2.4, 5, 3.3, 12), box(6.7, 5, 7.6, 12)),
           *air("3", box(3.3, 5, 6.7, 12)), *mirrored((Mark(FLAP, "membrane", closed=False),), 5),
           *look("rubber", disc(-4.5, 0, 2.2, "shuttle"))),
    seats=(
        Seat(("1>2", "4>2"), "inlet", Spot(10.3, 2.4), Spot(10.3, 2.4, RIM), "right"),
        Seat(("1>2",), "", Spot(0, 0), Spot(0, 0), flows=(flow((-10, 6.6), (-4.5, 6.6), (-4.5, 4.6), (-2, 3), *OVER),)),
        Seat(("4>2",), "", Spot(0, 0), Spot(0, 0), flows=(flow((-10, -6.6), (-4.5, -6.6), (-4.5, -4.6), (-2, -3), *OVER),)),
        Seat(("2>3",), "exhaust", Spot(7.15, 5), Spot(7.15, 5, MIDDLE), "right",
             (flow((13, 6.8), (8.8, 6.8), (8.8, 4.6), (5.7, 4.1), (5.7, 12.4)), flow((0, 7), (1.2, 4.4), (4.3, 4.1), (4.3, 9)))),
    ),
    holes=(Hole("4", "left", -6.6, -6), Hole("1", "left", 6.6, -6), Hole("2", "right", 6.8, 11.4, 1.1),
           Hole("3", "bottom", 5, 11.5, 1.7)),
    poses=(
        Pose("springs filling", {"1": 7, "2": 4}), Pose("released, driving", {"1": 7, "2": 7}),
        Pose("parked, pedal down", {"4": 5, "2": 3}), Pose("parking", {"1": 0.2, "2": 5}),
    ),
)
