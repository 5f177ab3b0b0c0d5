"""How soon each brake is on, from the first movement of the control.

What happens
------------
The brake comes on late: at 80 km/h every tenth of a second is 2.2 m of road.

Mend
----
Shorten the line to it or take a wider one, or put a relay valve nearer: airwright respond tells what each part of the
way costs.
"""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("application-time", "how soon each brake is on", partial(predicted, does="comes on", at_coupling=False))
