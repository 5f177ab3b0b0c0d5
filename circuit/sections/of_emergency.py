"""A trailer's relay with an emergency side: the supply line's air holds a spring off the relay's piston.

The supply line comes to the reservoir through a check beside the relay.
"""

from circuit.declaring.section import (
    Hole, Mark, Move, Seat, Section, Spot, air, box, coil, flow, look, mirrored, outline, part, rings,
)
from circuit.sections.of_stages import above, crown, delivery, hollow_valve, moves, seats, stem

CHECK = (("check", 1.0),)


def emergency(by: dict[str, float], back: tuple[str, ...]) -> Section:
    """The pieces. by: what lets the emergency spring go. back: further ways through the check."""
    spring: tuple[Mark, ...] = (
        *air("", box(-5, -12, 5, -7, lower="emergency")), *air("1", box(-5, -5.8, 5, -1.8, upper="emergency")),
        *air("1", box(5, -3.2, 8.4, -1.8), box(7.2, -3.2, 8.4, 23.6)),
        *part(box(-5, -7, 5, -5.8, "emergency"), box(-0.8, -5.8, 0.8, 3.4, "emergency")),
        *rings(5, -6.4, move="emergency", size=0.5), *mirrored(coil(2.6, -12, -7, 1.2, lower="emergency")),
        *look("rubber", box(-1.4, -1, -0.8, -0.4), box(0.8, -1, 1.4, -0.4)),
        *look("line", outline((7.2, 8.6), (8.4, 8.6)), outline((7.2, 10.4), (8.4, 10.4)), closed=False),
    )
    check: tuple[Mark, ...] = (
        *air("1-2", box(-13.6, 16, -9.4, 21), box(-9.5, 16.4, -5.5, 18.4)), *air("1", box(-12.7, 21, -10.3, 23.6)),
        *air("1", box(-12.7, 22, 8.4, 23.6)),
        *look("rubber", box(-13, 20.4, -10, 21, "check")), *part(box(-13, 19.4, -10, 20.4, "check")),
        *coil(-11.5, 16, 19.4, 0.9, lower="check", turns=2),
    )
    relay = (*above("4", 1, 5, 6.4), *delivery(6.4, 14, "2", 6.4, upper="piston"), *hollow_valve(14, 27, "1-2", "3"),
             *stem(6, 14, "3"), *crown(5, 6.4))
    inlet, exhaust = seats(14, 27, ("1-2>2",), "2>3", 9.5)
    return Section(
        body=(-15, -13.2, 9.6, 27),
        moves={**moves("1-2>2", "2>3"), "check": Move({"1>1-2": 1.0, **dict.fromkeys(back, 1.0)}, dy=-1.5),
                  "emergency": Move(by, dy=3.2)},
        marks=(*spring, *check, *relay),
        seats=(inlet._replace(flows=inlet.flows[:1]), exhaust,
                  Seat(("1>1-2", *back), "check", Spot(-12.9, 21), Spot(-12.9, 21, CHECK), "left",
                       (flow((-11.5, 23.4), (-11.5, 21.3), (-9.8, 20.2), (-9.8, 17.4), (-6.2, 17.4)),))),
        holes=(Hole("4", "left", 2.2, -6.4), Hole("1-2", "left", 17.4, -13.6), Hole("1", "left", 22.8, -12.7, 0.8),
               Hole("2", "right", 9.5, 6.4), Hole("3", "bottom", 0, 26, 1.9)),
        words=(("emergency spring", Spot(0, -13.7)),),
        poses=(),
    )
