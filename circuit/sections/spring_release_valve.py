"""The spring release valve cut open: a button that is held in, a plunger and two seats; let go, the springs send it out."""

from circuit.declaring.section import Pose
from circuit.sections.of_knobs import control

SECTION = control(((2.6, -6), (2.6, -4)))._replace(
    poses=(
        Pose("held in", {"1": 7, "2": 3}, {"held": 1}), Pose("held, filled", {"1": 7, "2": 7}, {"held": 1}),
        Pose("let go", {"1": 7, "2": 5}, {"held": 0}), Pose("at rest", {"1": 7}),
    ),
    note="The springs are stronger than the delivered air over the plate: it stays in only while it is held",
)
