"""How soon the signal is gone from the coupling to a vehicle behind, from the first movement of the control."""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("release-time-at-coupling", "how soon the signal is gone from the coupling to a vehicle behind",
                    partial(predicted, does="lets go", at_coupling=True))
