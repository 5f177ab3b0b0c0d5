"""What a question is that a simulation, or the study of faults, can be asked. Knows no particular one, and no standard."""

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Result
from circuit.model.circuit import Circuit


class Question(NamedTuple):
    """name: as clauses ask it, equal to the file's name with hyphens. title: what is found out. answer: yields what is
    predicted for a circuit and a clause that asks, for one place or several; nothing where the circuit has nothing that the
    question is about. of_faults: what answers it for a study of single faults; None where it is about none."""

    name: str
    title: str
    answer: Callable[[Circuit, Clause], Iterator[Predicted]]
    of_faults: Callable[[Any, Clause], Any] | None = None


def by(clause: Clause, margin: float, thing: str, says: str, figure: Figure | None = None,
       leans_on: tuple[Assumed, ...] = (), turns: bool = False) -> Predicted:
    """Met or not, by the sign of what there is to spare. turns: whether it is not met at an end of what was assumed."""
    result = Result.NOT_MET if margin < 0 else Result.TURNS if turns else Result.MET
    return Predicted(clause, result, thing, says, figure, leans_on)


def fell_short(clause: Clause) -> Predicted:
    """What is said of a clause when a run that decides it did not reach its end with the accuracy asked for."""
    return Predicted(clause, Result.UNDECIDED, "", "a simulation of it that reaches its end: this one fell short", None)
