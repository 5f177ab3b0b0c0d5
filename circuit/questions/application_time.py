"""How soon each brake is on, from the first movement of the control."""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("application-time", "how soon each brake is on", partial(predicted, does="comes on", at_coupling=False))
