"""What the trailer gets with each loss of air that lets all the springs on.

What happens
------------
What is parked in front does not hold what is towed.

Mend
----
Let the trailer control valve give air, or let it out, as the springs come on.
"""

from circuit.clauses import Clause
from circuit.faults.asking import LOST, Asked, Found, of_faults
from circuit.faults.effect import LESS, in_line
from circuit.faults.sorts import holes
from circuit.judging.limits import pressure


def answer(asked: Asked, clause: Clause) -> Found | None:
    faults = [effect for effect in asked.study.effects if any(a.sprung for a in effect.axles)
              and all(a.springs > LESS for a in effect.axles if a.sprung) and holes(asked.circuit, effect.fault)]
    if not faults or not asked.study.whole.rear_heads:
        return None
    for effect in faults:
        if in_line(effect, "control") < LOST and in_line(effect, "supply") > pressure(clause.limit, "brakes_itself"):
            return Found(False, effect, f"with {effect.fault.name} the springs come on and the trailer is not braked")
    return Found(True, faults[0], f"each of {len(faults)} losses that let the springs on brakes the trailer too, as "
                 f"{faults[0].fault.name}")


QUESTION = of_faults("trailer-braked-by-the-springs", "whether springs that come on by themselves brake the trailer too", answer)
