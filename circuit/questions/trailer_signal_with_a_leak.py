"""What the pedal still does to a line to the trailer with each leak of the service brakes.

What happens
------------
With one circuit lost what is towed cannot be braked by degrees.

Mend
----
Bring the signal to the coupling from both circuits: airwright faults tells what each failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults
from circuit.faults.sorts import service_leaks

CHANGES = 0.5e5
"""Pa by which a line has to change with the pedal to count as modulated; our choice."""


def answer(asked: Asked, clause: Clause) -> Found | None:
    faults = [e for e in service_leaks(asked.study) if e.heads]
    if not faults:
        return None
    worst = min(faults, key=lambda e: e.signal)
    has = worst.signal >= CHANGES
    return Found(has, worst, f"the pedal {'still changes the' if has else 'changes no'} pressure in a line to the trailer with "
                 f"{worst.fault.name}")


QUESTION = of_faults("trailer-signal-with-a-leak", "what the pedal does to a line to the trailer, with a leak", answer)
