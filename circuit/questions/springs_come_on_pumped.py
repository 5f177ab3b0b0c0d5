"""The fullest service reservoir when the first spring is fully on, the pedal being pumped with the engine off.

What happens
------------
The springs come on while there is still air to brake with, or so late that there is none.

Mend
----
Choose a control that comes out by itself within the pressures that are asked for.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.limits import pressure
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by, fell_short
from circuit.judging.rule import Figure
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.sim import Action, Script
from circuit.studies.effort import FULLY_ON
from circuit.studies.hands import FOOT, PSI, apply, let_go, pedals
from circuit.studies.once import simulate
from circuit.studies.parking import control_of
from circuit.units import ATMOSPHERE

STROKES, STROKE = 80, 2.0
"""How often a pedal is pumped at most, and s of each stroke, half of them down; our choice."""


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    tanks = circuit.reservoirs_for("service")
    if control_of(circuit) is None or not pedals(circuit) or not tanks:
        return
    actions: list[Action] = []
    for number in range(STROKES):
        actions += [*apply(circuit, number * STROKE, None, FOOT), *let_go(circuit, (number + 0.5) * STROKE, FOOT)]
    script = Script(tuple(actions), pressures={"reservoirs": full_pressure(circuit)})
    trace = simulate(circuit, script, STROKES * STROKE)
    if not trace.complete:
        yield fell_short(clause)
        return
    found = [(time, spring.name) for spring in circuit.having(Trait.SPRING_ACTUATOR)
             if (time := trace.first_time(circuit.spring_space(spring), FULLY_ON, rising=False)) is not None]
    if not found:
        left = max(trace.last(circuit.store(tank)) for tank in tanks)
        yield by(clause, -1.0, tanks[0].name, f"no spring is fully on after {STROKES} strokes of the pedal, with "
                 f"{(left - ATMOSPHERE) / PSI:.0f} psi left in the fullest service reservoir")
        return
    time, name = min(found)
    level = max(trace.pressure(circuit.store(tank), time) for tank in tanks)
    least, most = pressure(clause.limit, "least"), pressure(clause.limit, "most")
    high = most - level < level - least
    figure = Figure("fullest service reservoir then", level, most if high else least, "pressure", at_least=not high)
    yield by(clause, min(level - least, most - level), name, f"pumping the pedal lets the first spring, {name}, fully on",
             figure)


QUESTION = Question("springs-come-on-pumped", "at which pressure the springs come on by themselves, the pedal pumped", answer)
