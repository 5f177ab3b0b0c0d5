"""How soon the signal is gone from the coupling to a vehicle behind, from the first movement of the control.

What happens
------------
The brakes of what is towed drag after those of what tows it have let go.

Mend
----
Let the air out nearer to it, by a quick-release or relay valve: airwright respond tells what each part of the way
costs.
"""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("release-time-at-coupling", "how soon the signal is gone from the coupling to a vehicle behind",
                    partial(predicted, does="lets go", at_coupling=True))
