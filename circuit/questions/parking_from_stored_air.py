"""Whether the parking brake is applied, released and applied again from what is stored, with each single leak there from
the start and a wait between.

What happens
------------
After a leak it can be neither moved out of the way nor parked once more.

Mend
----
Give the springs a store of their own, behind a check valve.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.faults.sorts import single_service_leaks
from circuit.judging.limits import pressure, time
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question
from circuit.model.circuit import Circuit
from circuit.sim import Script, Variant
from circuit.studies.once import simulate_many
from circuit.studies.parking import control_of, pots, springs_on, stored


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    control, leaks = control_of(circuit), single_service_leaks(circuit)
    if control is None or not leaks:
        return
    how = clause.procedure
    wait, looked = time(how, "wait"), time(how, "looked")
    actions = (*control.on(0.0), *control.off(wait, pressure(how, "start")), *control.on(2 * wait))
    script = Script(actions, pressures=stored(control, clause), rigs=pots(circuit, clause))
    variants = [Variant(fault.name, fault.parts) for fault in leaks]
    traces = simulate_many(circuit, script, variants, 2 * wait + 2 * looked)
    runs = [(f"with {fault.name}", trace) for fault, trace in zip(leaks, traces)]
    yield from springs_on(circuit, clause, runs, 2 * wait + looked, "applied, released and applied again")


QUESTION = Question("parking-from-stored-air", "whether the stored air parks twice and releases once, with a leak", answer)
