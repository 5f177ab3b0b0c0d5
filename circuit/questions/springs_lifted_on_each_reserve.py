"""Whether the springs, once let on, can be lifted with each service reserve lost.

What happens
------------
With one reservoir lost the springs cannot be let off.

Mend
----
Feed the springs from both circuits: airwright faults tells what each failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults, springs_that
from circuit.faults.sorts import losses_of


def answer(asked: Asked, clause: Clause) -> Found | None:
    return springs_that(losses_of(asked.study, "service"), lambda e: min(a.lifts for a in e.axles if a.sprung), "can be lifted")


QUESTION = of_faults("springs-lifted-on-each-reserve", "the springs that can be lifted with one reserve lost", answer)
