"""The solenoid valve 3/2 cut open: a coil draws an armature, whose lip stands on a hollow valve."""

from circuit.declaring.section import Hole, Mark, Outline, Pose, Section, Spot, air, box, coil, look, mirrored, outline, part
from circuit.sections.of_stages import delivery, hollow_valve, moves, seats, stem


def _winding(x0: float, x1: float) -> tuple[Mark, ...]:
    """Half of a coil, crossed as in a symbol."""
    lines: tuple[Outline, Outline] = outline((x0, -5), (x1, 1)), outline((x1, -5), (x0, 1))
    return (*look("paper", box(x0, -5, x1, 1)), *look("line", *lines, closed=False))


SECTION = Section(
    body=(-9, 3, 9, 25),
    settings={"without-current": "shut"},
    moves=moves("1>2", "2>3"),
    marks=(*look("metal", box(-5.4, -7.4, 5.4, 3)), *air("", box(-1.7, -6.6, 1.7, 3.6), box(-1.7, 4.8, 1.7, 7)),
           *_winding(-4.6, -2), *_winding(2, 4.6), *delivery(8.6, 14, "2", 6), *hollow_valve(14, 25, "1", "3"),
           *look("steel", box(-0.6, -2.4, 0.6, 6.6, "piston"), box(-1.5, -4.8, 1.5, -2.4, "piston")),
           *coil(0, -2.4, 3.6, 1.3, upper="piston", turns=3), *part(box(-1.7, 6.6, 1.7, 7.4, "piston")),
           *stem(7.4, 14, "3", half=1.7),
           *mirrored(look("rubber", box(-2.3, 7.5, -1.7, 8.1)))),
    seats=seats(14, 25, ("1>2",), "2>3", 10.2),
    holes=(Hole("1", "left", 18, -5.6), Hole("2", "right", 10.2, 6), Hole("3", "bottom", 0, 24, 1.9)),
    words=(("coil", Spot(0, -8.2)),),
    poses=(
        Pose("with current, feeding", {"1": 8, "2": 4}, {"energised": 1}),
        Pose("with current", {"1": 8, "2": 8}, {"energised": 1}),
        Pose("without current", {"1": 8, "2": 5}, {"energised": 0}),
    ),
    note="Drawn as the normally shut valve; of a normally open one the coil draws the other way",
)
