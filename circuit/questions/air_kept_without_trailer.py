"""What the service reservoirs keep when a hose to the trailer, or both, are open. A clause that asks it has no floor.

What happens
------------
A trailer that tears off takes the towing vehicle's air with it.

Mend
----
Choose a protection that shuts above what is to be kept.
"""

from circuit.clauses import Clause
from circuit.faults.asking import LOST, Asked, Found, of_faults
from circuit.studies.hands import PSI
from circuit.units import ATMOSPHERE


def answer(asked: Asked, clause: Clause) -> Found | None:
    found = asked.least(asked.hoses)
    if found is None:
        return None
    tank, effect = found
    return Found(tank.kept >= LOST, effect, f"{tank.name} keeps the least with {effect.fault.name}, "
                 f"{(tank.kept - ATMOSPHERE) / PSI:.0f} psi")


QUESTION = of_faults("air-kept-without-trailer", "what the service reservoirs keep when the trailer is lost", answer)
