"""The spring brake chamber cut open: behind the service chamber a spring that air at 12 holds back."""

from circuit.declaring.section import Course, Hole, Move, Pose, Section, Spot, air, box, look, lying, membrane, outline, part
from circuit.sections.of_wheels import ROD, STROKE, housing, moves, pressure_half, wheel

OFF = Course("12", ((1.5, 0.0), (4.8, 1.0)))
"""How far air holds the spring off: from where `gas.chamber` has it begin to the typical hold-off pressure."""
NEAR = 4.2
PLATE = (("spring", 1.0),)

SECTION = Section(
    settings={"type": "30/30", "stroke": "2.5 in", "axle": "rear", "side": "left"},
    courses={"stroke": STROKE._replace(port="11"), "off": OFF, "on": OFF._replace(knots=((1.5, 1.0), (4.8, 0.0)))},
    moves={**moves({"stroke": 1.0, "on": 1.0}), "spring": Move({"off": 1.0}, dx=-ROD)},
    marks=(
        *look("metal", outline((-3, -6.6), (-15.4, -6.6), (-16.6, -5), (-16.6, 5), (-15.4, 6.6), (-3, 6.6))), *housing(),
        *air("", (Spot(-9.4, -5.8), Spot(-15, -5.8), Spot(-15.8, -4.6), Spot(-15.8, 4.6), Spot(-15, 5.8), Spot(-9.4, 5.8),
                  Spot(-6.9, NEAR, PLATE), Spot(-6.9, -NEAR, PLATE))),
        *air("12", (Spot(-9.4, -5.8), Spot(-5, -5.8), Spot(-5, 5.8), Spot(-9.4, 5.8), Spot(-6.9, NEAR, PLATE),
                    Spot(-6.9, -NEAR, PLATE))),
        *membrane((-9.4, -6.3, ""), (-9.4, -5.7, ""), (-6.7, -NEAR, "spring"), (-6.7, NEAR, "spring"),
                  (-9.4, 5.7, ""), (-9.4, 6.3, "")),
        *lying(-15.8, -7.8, 2.5, 1.4, right="spring", turns=4), *lying(-15.8, -7.8, -2.5, 1.4, right="spring", turns=4),
        *part(box(-7.8, -3.9, -7, 3.9, "spring")), *look("steel", box(-19.4, -0.4, -14.6, 0.4), box(-17.8, -1, -16.6, 1)),
        *pressure_half("11"), *look("steel", box(-6.4, -0.6, 3.2, 0.6, "spring")),
        *look("rubber", box(-4.7, -1.2, -4.1, -0.6), box(-4.7, 0.6, -4.1, 1.2)), *wheel(),
    ),
    seats=(),
    holes=(Hole("11", "top", -1.6, -5.2, 0.7), Hole("12", "top", -7, -5.6, 0.7)),
    words=(("caging bolt", Spot(-17, 8.6)), ("slack adjuster", Spot(12.2, 13.4)), ("drum, shoes and S-cam", Spot(27.6, 20))),
    poses=(
        Pose("released", {"12": 8}), Pose("service brake", {"11": 6, "12": 8}), Pose("springs half on", {"12": 3}),
        Pose("parked", {}),
    ),
    note="Clearance enlarged; adjuster and drum are two views of one shaft",
)
