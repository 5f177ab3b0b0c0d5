"""What a simulation, or the study of faults, says of a clause."""

from typing import NamedTuple

from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.judging.rule import Figure, Result


class Predicted(NamedTuple):
    """A clause decided from a simulation, which the pipeline hands in. thing: the place that decided it. leans_on: assumed
    values that the figure was played with. question: that was answered."""

    clause: Clause
    result: Result
    thing: str
    says: str
    figure: Figure | None
    leans_on: tuple[Assumed, ...] = ()
    question: str = ""
