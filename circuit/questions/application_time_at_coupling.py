"""How soon the signal is at the coupling to a vehicle behind, from the first movement of the control."""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("application-time-at-coupling", "how soon the signal is at the coupling to a vehicle behind",
                    partial(predicted, does="comes on", at_coupling=True))
