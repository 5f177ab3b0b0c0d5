"""The trailer emergency relay valve cut open: as the supply line falls, its spring presses on the relay's piston."""

from circuit.declaring.section import Course, Pose
from circuit.sections.of_emergency import emergency

SECTION = emergency({"fallen": 1.0}, ())._replace(
    courses={"fallen": Course("1", ((1.75, 1.0), (3.5, 0.0)))},
    poses=(
        Pose("filling the reservoir", {"1": 7, "1-2": 5}), Pose("service braking", {"1": 7, "1-2": 7, "4": 4, "2": 2.5}),
        Pose("held", {"1": 7, "1-2": 7, "4": 4, "2": 3.8}), Pose("line falling", {"1": 2.5, "1-2": 7, "2": 2}),
    ),
)
