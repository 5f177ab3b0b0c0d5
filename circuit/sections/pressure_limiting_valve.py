"""The pressure limiting valve cut open: a set spring holds the inlet open until the delivery balances it."""

from circuit.declaring.section import Pose, Spot
from circuit.sections.of_limits import with_spring

SECTION = with_spring(("2>1",))._replace(
    settings={"limits-to": "5.5 bar"},
    words=(("screw", Spot(-4.8, -2)),),
    poses=(
        Pose("feeding", {"1": 8, "2": 3}), Pose("limited", {"1": 8, "2": 5.5}), Pose("relieving", {"1": 8, "2": 6.2}),
        Pose("emptied from 1", {"1": 1, "2": 4}),
    ),
)
