"""How soon the signal is at the coupling to a vehicle behind, from the first movement of the control.

What happens
------------
What is towed brakes later than what tows it, and pushes it.

Mend
----
Shorten the line to it or take a wider one, or put a relay valve nearer: airwright respond tells what each part of the
way costs.
"""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("application-time-at-coupling", "how soon the signal is at the coupling to a vehicle behind",
                    partial(predicted, does="comes on", at_coupling=True))
