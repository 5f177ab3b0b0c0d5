"""What the control line loses between its input and its output, pressure rising and falling.

What happens
------------
Each vehicle brakes with less than the one before it, and along a train the difference adds up.

Mend
----
Shorten or widen the control line that goes through, and take fittings out of it: airwright respond tells what each
part of the way costs.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.judging.evidence import Evidence
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by, fell_short
from circuit.model.circuit import Circuit
from circuit.studies.band import assumed_of
from circuit.studies.control_line import difference
from circuit.studies.hands import fed_heads, tail_heads


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    worst = difference(circuit, clause)
    if worst is None:
        return
    if not worst.complete:
        yield fell_short(clause)
        return
    yield by(clause, worst.figure.margin, tail_heads(circuit, "control")[0].name,
             "control line at its input against its output, pressure rising and falling", worst.figure,
             assumed_of(circuit, _on_the_line(circuit)))


def _on_the_line(circuit: Circuit) -> set[str]:
    """The parts by which the control line's air goes from the head in front to the one behind."""
    air = Evidence(circuit).braking
    fed = air.fed_by_any(circuit.store(head) for head in fed_heads(circuit, "control"))
    line = air.leading_to((circuit.store(head) for head in tail_heads(circuit, "control")), fed)
    return {way.device.name for way in circuit.ways if way.start in line and way.end in line}


QUESTION = Question("control-line-difference", "what the control line loses on its way to the vehicle behind", answer)
