"""The automatic front-axle limiting valve cut open: the signal on a small piston against the delivery on a large one."""

from circuit.declaring.section import Pose
from circuit.sections.of_limits import stepped

SECTION = stepped("1", "1")._replace(
    poses=(
        Pose("light braking", {"1": 2, "2": 0.5}), Pose("held at its share", {"1": 2, "2": 1.02}),
        Pose("full braking", {"1": 6, "2": 4}), Pose("releasing", {"1": 0.5, "2": 2}),
    ),
    note="The spring that brings all of the signal through at hard braking is not drawn",
)
