"""Whether every spring is on at once when the supply line parts, and stays on without air.

What happens
------------
A trailer that has torn off is not held until somebody can chock it.

Mend
----
Mend what lets its air go, or put a check valve ahead of what holds it: airwright leak-down.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.limits import pressure, time
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by, fell_short
from circuit.model.circuit import Circuit
from circuit.sim import uncouple
from circuit.studies.effort import FULLY_ON
from circuit.studies.hands import fed_heads, standing
from circuit.studies.once import simulate


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    springs, heads = circuit.having(Trait.SPRING_ACTUATOR), fed_heads(circuit, "supply")
    if not springs or not heads:
        return
    stays = time(clause.limit, "stays")
    actions = [uncouple(head.name, 0.0) for head in heads]
    trace = simulate(circuit, standing(circuit, pressure(clause.procedure, "start"), *actions), stays)
    if not trace.complete:
        yield fell_short(clause)
        return
    for chamber in springs:
        space = circuit.spring_space(chamber)
        if trace.first_time(space, FULLY_ON, rising=False) is None or trace.last(space) > FULLY_ON:
            yield by(clause, -1.0, chamber.name, f"the spring of {chamber.name} is held off after the supply line has parted")
            return
    slowest = max(trace.first_time(circuit.spring_space(c), FULLY_ON, rising=False) or 0.0 for c in springs)
    yield by(clause, 0.0, springs[0].name, f"every spring is fully on {slowest:.2f} s after the supply line parts, and still "
             f"{stays / 60:g} minutes later, held without air")


QUESTION = Question("breaking-away", "whether the springs are on at once when the supply line parts, and stay on", answer)
