"""The springs that still come on with each leak of the service brakes.

What happens
------------
One failure keeps springs off, and the parked vehicle rolls.

Mend
----
Let no air of another system hold the springs off: airwright faults tells what each failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, assumed_of_springs, of_faults, springs_that
from circuit.faults.sorts import service_leaks


def answer(asked: Asked, clause: Clause) -> Found | None:
    found = springs_that(service_leaks(asked.study), lambda e: min(a.parks for a in e.axles if a.sprung), "still come on")
    return found and found._replace(leans_on=assumed_of_springs(asked.circuit))


QUESTION = of_faults("parking-with-a-leak", "the springs that still come on, with a leak", answer)
