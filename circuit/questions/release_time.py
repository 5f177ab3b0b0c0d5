"""How soon each brake is off, from the first movement of the control."""

from functools import partial

from circuit.judging.question import Question
from circuit.studies.timing import predicted

QUESTION = Question("release-time", "how soon each brake is off", partial(predicted, does="lets go", at_coupling=False))
