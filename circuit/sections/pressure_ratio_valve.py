"""The pressure ratio valve cut open: the signal on a small piston against the delivery on a large one."""

from circuit.declaring.section import Pose
from circuit.sections.of_limits import stepped

SECTION = stepped("1", "1")._replace(
    settings={"ratio": "0.7", "knee": "4 bar"},
    poses=(
        Pose("below the knee", {"1": 3, "2": 1}), Pose("held at its share", {"1": 3, "2": 2.15}),
        Pose("above the knee", {"1": 7, "2": 4}), Pose("releasing", {"1": 0.5, "2": 2}),
    ),
    note="What lets 2 catch up above the knee is not drawn",
)
