"""The service brake chamber cut open, and what it works: diaphragm, rod, slack adjuster, S-cam and shoes."""

from circuit.declaring.section import Hole, Pose, Section, Spot
from circuit.sections.of_wheels import STROKE, housing, moves, pressure_half, wheel

SECTION = Section(
    settings={"type": "30", "stroke": "2.5 in", "axle": "rear", "side": "left"},
    courses={"stroke": STROKE},
    moves=moves({"stroke": 1.0}),
    marks=(*housing(), *pressure_half("1"), *wheel()),
    seats=(),
    holes=(Hole("1", "left", 0, -2.9, 0.9),),
    words=(("chamber", Spot(1, 9)), ("slack adjuster", Spot(12.2, 13.4)), ("drum, shoes and S-cam", Spot(27.6, 20))),
    poses=(Pose("released", {}), Pose("taking up", {"1": 0.5}), Pose("applied", {"1": 6.2})),
    note="Clearance enlarged; adjuster and drum are two views of one shaft",
)
