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
from circuit.faults.asking import Asked, Found, assumed_of_springs, brakes_left, of_faults
from circuit.faults.sorts import service_leaks


def answer(asked: Asked, clause: Clause) -> Found | None:
    faults = service_leaks(asked.study)
    found = brakes_left(faults)
    return found and found._replace(
        says=f"{found.says}, the worst of {len(faults)} failures of lines, reservoirs, diaphragms and fittings; a valve's "
             "body is read as common to the circuits and left out", leans_on=assumed_of_springs(asked.circuit))


QUESTION = of_faults("braking-with-a-leak", "the brakes that are left, with a leak", answer)
