"""The pedal's best axle with each failure of a part of the service transmission; secondary braking is more than is asked.

What happens
------------
With one circuit lost the wheels that remain do not stop it.

Mend
----
Keep what has to remain apart from what fails, or feed it from both: airwright faults tells what each failure takes
and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults


def answer(asked: Asked, clause: Clause) -> Found | None:
    return asked.secondary(asked.breaks)


QUESTION = of_faults("residual-braking", "what the pedal gives with a part of the transmission failed", answer)
