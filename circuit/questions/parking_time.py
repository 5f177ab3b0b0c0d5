"""How soon every spring is fully on when the parking brake is put on, without a leak and with each single one.

What happens
------------
Whoever parks on a slope and lets the pedal up rolls before the springs hold.

Mend
----
Let the air of the springs out nearer to them, by a quick-release or relay valve.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.sorts import single_service_leaks
from circuit.judging.limits import time as limit_of
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by, fell_short
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.sim import Script, Variant
from circuit.studies.effort import FULLY_ON
from circuit.studies.once import simulate_many
from circuit.studies.parking import control_of, pots, stored

WATCHED = 4
"""How many times the limit a spring is watched; our choice."""


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    control, leaks = control_of(circuit), single_service_leaks(circuit)
    if control is None:
        return
    within = limit_of(clause.limit, "within")
    script = Script(control.on(0.0), pressures=stored(control, clause), rigs=pots(circuit, clause))
    variants = [Variant("with no leak"), *(Variant(f"with {fault.name}", fault.parts) for fault in leaks)]
    traces = simulate_many(circuit, script, variants, WATCHED * within)
    if not all(trace.complete for trace in traces):
        yield fell_short(clause)
        return
    rows = [(trace.first_time(circuit.spring_space(spring), FULLY_ON, rising=False), number, spring.name)
            for number, trace in enumerate(traces) for spring in circuit.having(Trait.SPRING_ACTUATOR)]
    for time, number, name in rows:
        if time is None:
            yield by(clause, -1.0, name, f"{traces[number].label} the spring of {name} is not on within {WATCHED * within:g} s")
            return
    time, number, name = max(((t, n, s) for t, n, s in rows if t is not None), key=lambda row: (row[0], -row[1]))
    figure = Figure(f"{name} fully on", time, within, "time", at_least=False)
    yield by(clause, figure.margin, name, f"{name} is the last spring to be fully on, {traces[number].label}, the slowest of "
             f"{len(traces)} runs", figure)


QUESTION = Question("parking-time", "how soon the springs are fully on", answer)
