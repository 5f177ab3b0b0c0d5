"""The service reservoirs when the first spring begins to lift, filled from nothing with the parking control released,
against the declared pressure of secondary braking.

What happens
------------
The springs let go before there is air to brake with, and it rolls.

Mend
----
Let the springs' air wait until the service reservoirs are filled, behind an overflow valve.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by, fell_short
from circuit.judging.rule import Figure, Result
from circuit.model.circuit import Circuit
from circuit.sim import Engine, Options, Script
from circuit.studies.effort import FULLY_ON
from circuit.studies.once import simulate

LACKS = "`secondary-at` on the vehicle, the chamber pressure of secondary braking"


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    asks = circuit.vehicle.declared.get("secondary-at")
    springs, tanks = circuit.having(Trait.SPRING_ACTUATOR), circuit.reservoirs_for("service")
    if not springs or not tanks or not circuit.having(Trait.COMPRESSES):
        return
    if asks is None:
        yield Predicted(clause, Result.UNDECIDED, "", LACKS, None)
        return
    trace = simulate(circuit, Script(), 600.0, start="empty", engine=Engine(True), options=Options())
    lifts = [(time, spring.name) for spring in springs
             if (time := trace.first_time(circuit.spring_space(spring), FULLY_ON)) is not None]
    if not trace.complete:
        yield fell_short(clause)
    if not trace.complete or not lifts:
        return
    time, name = min(lifts)
    lowest = min(trace.pressure(circuit.store(tank), time) for tank in tanks)
    figure = Figure("lowest service reservoir then", lowest, asks, "pressure")
    yield by(clause, figure.margin, name, f"filled from nothing, {name} is the first to be lifted, after {time:.0f} s", figure)


QUESTION = Question("springs-held-while-filling", "what the service brakes can give when the first spring lifts", answer)
