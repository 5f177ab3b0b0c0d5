"""The supply line with the control hose open and the pedal down, at the end of a pipe.

What happens
------------
With the control line torn the supply line stays full, and what is towed is not braked.

Mend
----
Choose a trailer control valve that lets the supply line down when the control line is open.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults, played
from circuit.faults.sorts import hoses_lost
from circuit.judging.limits import length, pressure, time
from circuit.judging.rule import Figure
from circuit.model.air import full_pressure
from circuit.sim import Rig, Script
from circuit.studies.hands import apply, tail_heads
from circuit.units import ATMOSPHERE

PEDAL_AT = 1.0
"""s; our choice."""


def answer(asked: Asked, clause: Clause) -> Found | None:
    faults, heads = hoses_lost(asked.study, "control"), tail_heads(asked.circuit, "supply")
    if not faults or not heads:
        return None
    circuit, how, within = asked.circuit, clause.procedure, time(clause.limit, "within")
    pipe = length(how, "pipe_bore"), length(how, "pipe_length")
    rigs = tuple(Rig(head.name, 0.0, *pipe, name=f"pipe on {head.name}") for head in heads)
    script = Script(apply(circuit, PEDAL_AT, over=time(how, "application"), rig=full_pressure(circuit)), rigs=rigs)
    until = PEDAL_AT + 2 * within
    asked.needs_run()
    ((_, trace),) = played(asked, faults[:1], script, until)
    times = [trace.first_time(rig.name, pressure(clause.limit, "supply"), rising=False) for rig in rigs]
    late = [head.name for head, reached in zip(heads, times) if reached is None]
    if late:
        return Found(False, faults[0], f"with {faults[0].fault.name} and the pedal down {late[0]} still has "
                     f"{(trace.last(late[0]) - ATMOSPHERE) / 1e5:.1f} bar after {until - PEDAL_AT:g} s")
    figure = Figure("supply line down", max(each for each in times if each is not None) - PEDAL_AT, within, "time",
                    at_least=False)
    return Found(figure.margin >= 0, faults[0], f"with {faults[0].fault.name} and the pedal down the supply line falls", figure)


QUESTION = of_faults("supply-falls-with-control-broken", "how soon the supply line falls with the control hose broken", answer)
