"""The pressure protection valve cut open: a diaphragm that a set spring presses on the feed's nozzle."""

from circuit.declaring.section import Hole, Move, Pose, Section, Spot, air, box, look
from circuit.sections.of_diaphragms import protected, protected_seat

SECTION = Section(
    body=(-9, -10, 9, 8),
    moves={"disc": Move({"1>2": 1.0}, dy=-1.6)},
    marks=(*air("1", box(-1.6, 4, 1.6, 6.8), box(-9, 4.6, 1.6, 6.8)), *protected("1", "2", "disc"),
           *look("steel", box(-1.2, -12.4, 1.2, -7.4), box(-2.2, -11.4, 2.2, -10))),
    seats=(protected_seat(("1>2",), "disc", "seat"),),
    holes=(Hole("1", "left", 5.7, -8), Hole("2", "right", 2, 5.4)),
    words=(("screw", Spot(-4.6, -11)),),
    poses=(
        Pose("shut below opening", {"1": 5.5}, {"open": 0}), Pose("filling", {"1": 7, "2": 3}, {"open": 1}),
        Pose("filled", {"1": 7, "2": 7}, {"open": 1}), Pose("delivery burst", {"1": 5.0}, {"open": 0}),
    ),
    note="The check that keeps air from coming back is not drawn: its way counts as shut",
)
