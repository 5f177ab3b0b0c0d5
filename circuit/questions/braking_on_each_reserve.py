"""The pedal's best axle with each service reserve lost.

What happens
------------
With one reservoir lost the others do not stop it.

Mend
----
Keep what has to remain apart from what fails, or feed it from both: airwright faults tells what each failure takes
and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults
from circuit.faults.sorts import losses_of


def answer(asked: Asked, clause: Clause) -> Found | None:
    return asked.secondary(losses_of(asked.study, "service"))


QUESTION = of_faults("braking-on-each-reserve", "what the pedal gives on each reserve alone", answer)
