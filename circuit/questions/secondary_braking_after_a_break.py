"""The pedal's best axle with each break of a part that is no brake, and each loss of a reserve.

Springs that a lever works by degrees may do as well.

What happens
------------
One part that breaks leaves too little to stop with.

Mend
----
Keep what has to remain apart from what fails, or feed it from both: airwright faults tells what each failure takes
and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults


def answer(asked: Asked, clause: Clause) -> Found | None:
    return asked.secondary(asked.breaks, springs=True)


QUESTION = of_faults("secondary-braking-after-a-break", "what a break of any part leaves of secondary braking", answer)
