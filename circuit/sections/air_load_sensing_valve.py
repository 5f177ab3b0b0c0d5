"""The load-sensing valve piloted by air bags cut open: the bags' air shifts how much of the signal's piston counts."""

from circuit.declaring.section import Course, Hole, Move, Pose, air, across, box, look, lying, part
from circuit.sections.of_limits import stepped

PLAIN = stepped("4", "1", (
    *part(box(8.6, 3, 9.8, 6.4, "load")), *look("steel", box(4, 4.3, 8.6, 5.1, "load")),
    *lying(6.6, 8.6, 4.7, 1.2, right="load", turns=2)),
    {"load": Move({"left": 0.5, "right": 0.5}, dx=-1.6, low=0.0)})

SECTION = PLAIN._replace(
    body=(-9.4, 0, 13.4, 25),
    marks=(*air("", box(6.6, 3, 8.6, 6.4)), *air("41", across(9.8, 3, 12, 6.4, left="load")), *PLAIN.marks),
    holes=(*PLAIN.holes, Hole("41", "right", 3.9, 11.6, 0.7), Hole("42", "right", 21.6, 11, 0.7)),
    courses={"left": Course("41", ((0.5, 0.0), (5.0, 1.0))), "right": Course("42", ((0.5, 0.0), (5.0, 1.0)))},
    poses=(
        Pose("empty, held", {"1": 8, "4": 5, "41": 0.6, "42": 0.6, "2": 1.85}),
        Pose("laden, braking", {"1": 8, "4": 5, "41": 5, "42": 5, "2": 3}),
        Pose("laden, releasing", {"1": 8, "4": 1, "41": 5, "42": 5, "2": 4}),
    ),
    note="The piston of 42 lies behind that of 41; what the bags do to the balance is drawn as a bolt only",
)
