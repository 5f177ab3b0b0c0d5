"""The hand-set load control valve cut open: a lever sets how much of the signal's piston counts."""

from circuit.declaring.section import Move, Pose, Spot, box, disc, look, outline
from circuit.sections.of_limits import stepped

SECTION = stepped("1", "1", (
    *look("steel", outline((9.4, 4.6), (15.2, 3), (15.2, 1.8), (9.4, 3.4), move="lever")),
    *look("ink", disc(15.4, 2.4, 0.8, "lever")), *look("steel", disc(9.4, 4, 1.3)),
    *look("steel", outline((3.6, 3.7), (9, 3.6), (9, 4.4), (3.6, 4.3)), box(3.2, 3.4, 4.2, 4.6, "cam"))),
    {"lever": Move({"load": 1.0}, turn=(9.4, 4, -45), low=0.0), "cam": Move({"load": 1.0}, dy=-0.8, low=0.0)})._replace(
    words=(("lever", Spot(13, 5.6)),),
    poses=(
        Pose("empty, held", {"1": 5, "2": 1.55}, {"load": 0}), Pose("half, braking", {"1": 5, "2": 1.5}, {"load": 0.5}),
        Pose("full, braking", {"1": 5, "2": 3}), Pose("releasing", {"1": 0.5, "2": 3}),
    ),
    note="What the lever does to the balance is drawn as a cam only",
)
