"""How soon each brake is off, from the first movement of the control.

What happens
------------
The brake drags after the pedal is up: it heats, wears, and is hot when it is needed next.

Mend
----
Let the air out nearer to it, by a quick-release or relay valve: airwright respond tells what each part of the way
costs.
"""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("release-time", "how soon each brake is off", partial(predicted, does="lets go", at_coupling=False))
