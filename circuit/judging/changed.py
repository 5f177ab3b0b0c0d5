"""Rows of a design that another row has changed: a finding shows the row in force beside the one that was written first."""

from circuit.judging.rule import Answer
from circuit.model.circuit import Circuit
from circuit.source import Span


def with_rows(circuit: Circuit, answer: Answer) -> Answer:
    """The answer with the rows in `also` that changed what it points at."""
    if not circuit.changed_rows:
        return answer
    also: list[tuple[Span, str]] = []
    for span, what in ((answer.at, ""), *answer.also):
        if what:
            also.append((span, what))
        also += circuit.changed_rows.get(span, ())
    return answer._replace(also=tuple(dict.fromkeys(also)))
