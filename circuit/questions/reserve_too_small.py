"""What applications leave of the stored air, as the study of stored air plays them. A count by volumes bounds the same from
the drawing.

What happens
------------
With the engine stopped fewer applications brake than are asked for.

Mend
----
Fit a larger reservoir or smaller chambers: airwright reserve tells what each application leaves.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question
from circuit.model.circuit import Circuit
from circuit.studies.hands import CannotAsk
from circuit.studies.holding import predicted
from circuit.studies.reserve import reserve


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    try:
        found = reserve(circuit, (clause.set_name,))
    except CannotAsk:
        return
    if found.trace.complete:
        yield from (predicted(held, circuit, found.assumed) for held in found.held if held.clause.key == clause.key)


QUESTION = Question("reserve-too-small", "what applications leave of the stored air", answer)
