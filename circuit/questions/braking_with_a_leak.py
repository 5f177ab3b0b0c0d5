"""The brakes that are left with each leak of the service brakes.

What happens
------------
One part that bursts takes more of the brakes than may be lost.

Mend
----
Keep what has to remain apart from what fails, or feed it from both: airwright faults tells what each failure takes
and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, brakes_left, of_faults
from circuit.faults.sorts import service_leaks


def answer(asked: Asked, clause: Clause) -> Found | None:
    return brakes_left(service_leaks(asked.study))


QUESTION = of_faults("braking-with-a-leak", "the brakes that are left, with a leak", answer)
