"""The brakes that are left with both hoses to the trailer open.

What happens
------------
When both hoses are torn off, the pedal of what tows does not stop it.

Mend
----
Shut the lines to what is towed off before the air of the towing vehicle is gone.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, brakes_left, of_faults
from circuit.faults.sorts import hoses_lost


def answer(asked: Asked, clause: Clause) -> Found | None:
    return brakes_left(hoses_lost(asked.study, "control", "supply"))


QUESTION = of_faults("braking-without-hoses", "the brakes that are left with both hoses to the trailer open", answer)
