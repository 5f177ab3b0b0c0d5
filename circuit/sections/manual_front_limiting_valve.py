"""The manual front-axle limiting valve cut open: the knob sets whether all of the signal's piston counts or a part."""

from circuit.declaring.section import Move, Pose, Spot, box, look
from circuit.sections.of_limits import stepped

SECTION = stepped("1", "1", (*look("steel", box(3.6, 3.6, 10.6, 4.4, "knob"), box(10.6, 2.8, 12, 5.2, "knob")),),
          {"knob": Move({"slippery": 1.0}, dx=2.2, low=0.0)})._replace(
    words=(("knob", Spot(13, 7)),),
    poses=(
        Pose("dry road, braking", {"1": 5, "2": 2}, {"slippery": 0}), Pose("dry road, held", {"1": 5, "2": 5}, {"slippery": 0}),
        Pose("slippery road, held", {"1": 5, "2": 2.55}, {"slippery": 1}), Pose("releasing", {"1": 0.5, "2": 3}, {"slippery": 0}),
    ),
    note="What the knob does to the balance is drawn as a bolt only",
)
