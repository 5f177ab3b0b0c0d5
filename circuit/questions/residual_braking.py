"""The pedal's best axle with each failure of a part of the service transmission; secondary braking is more than is asked."""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults


def answer(asked: Asked, clause: Clause) -> Found | None:
    return asked.secondary(asked.breaks)


QUESTION = of_faults("residual-braking", "what the pedal gives with a part of the transmission failed", answer)
