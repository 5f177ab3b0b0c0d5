"""The relay emergency valve cut open: a relay, a check to the reservoir, and a spring that the supply line holds off."""

from circuit.declaring.section import Pose
from circuit.sections.of_emergency import emergency

SECTION = emergency({"emergency": 1.0}, ("1-2>1",))._replace(
    poses=(
        Pose("filling the reservoir", {"1": 7, "1-2": 5}, {"emergency": 0}),
        Pose("service braking", {"1": 7, "1-2": 7, "4": 4, "2": 2.5}, {"emergency": 0}),
        Pose("held", {"1": 7, "1-2": 7, "4": 4, "2": 3.8}, {"emergency": 0}),
        Pose("line lost", {"1-2": 7, "2": 4}, {"emergency": 1}),
    ),
)
