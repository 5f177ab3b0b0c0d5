"""The quick release valve cut open: a flap whose rim is the inlet seat and whose middle is the exhaust seat."""

from circuit.declaring.section import Hole, Mark, Move, Pose, Seat, Section, Spot, air, box, flow, look, mirrored

RIM, MIDDLE = (("rim", 1.0),), (("middle", 1.0),)
FLAP = (Spot(0, 4.6, MIDDLE), Spot(1.9, 4.6, MIDDLE), Spot(3.4, 3.6, (("middle", 0.5), ("rim", 0.5))), Spot(5.2, 2.7, RIM))

SECTION = Section(
    body=(-9, -4, 9, 12),
    moves={"rim": Move({"1>2": 1.0}, dy=2.5), "middle": Move({"2>3": 1.0}, dy=-1.8)},
    marks=(*air("1", box(-5, -2, 5, 2.4)), *air("2", box(-6.4, 2.4, 6.4, 9)),
           *look("metal", box(-2.6, 5, -1.7, 12), box(1.7, 5, 2.6, 12)), *air("3", box(-1.7, 5, 1.7, 12)),
           *mirrored((Mark(FLAP, "membrane", closed=False),))),
    seats=(
        Seat(("1>2",), "inlet", Spot(5.3, 2.4), Spot(5.3, 2.4, RIM), "right",
             (flow((2, 0), (4.4, 1.2), (5.9, 3.6), (5.9, 6.6), (9.4, 6.6)),
              flow((-9, -0.4), (-3.6, -0.4), (-5.9, 3.6), (-5.9, 7.6)))),
        Seat(("2>3",), "exhaust", Spot(-2.15, 5), Spot(-2.15, 5, MIDDLE), "left",
             (flow((9, 6.6), (3.8, 6.6), (3.8, 4.6), (0.7, 4.1), (0.7, 12.4)),
              flow((-5.6, 7), (-3.8, 4.4), (-0.7, 4.1), (-0.7, 9)))),
    ),
    holes=(Hole("1", "left", -0.4, -5, 1.1), Hole("2", "right", 6.6, 6.4, 1.1), Hole("3", "bottom", 0, 11.5, 1.7)),
    poses=(Pose("feeding", {"1": 5.6, "2": 4.5}), Pose("held", {"1": 5.6, "2": 5.6}), Pose("releasing", {"1": 0.2, "2": 2.5})),
)
