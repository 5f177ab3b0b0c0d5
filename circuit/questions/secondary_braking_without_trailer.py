"""The pedal's best axle with the hoses to the trailer open, one and both.

What happens
------------
A trailer that has torn off leaves the towing vehicle too little to stop with.

Mend
----
Put a check valve or a protection valve between what fails and what is to be kept: airwright faults tells what each
failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults


def answer(asked: Asked, clause: Clause) -> Found | None:
    return asked.secondary(asked.hoses)


QUESTION = of_faults("secondary-braking-without-trailer", "what is left of secondary braking when the trailer is lost", answer)
