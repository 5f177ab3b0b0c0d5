"""With either hose open the trailer is braked by its signal, or by itself as its supply line falls.

What happens
------------
A torn hose goes unnoticed until the next application brakes nothing behind.

Mend
----
Choose a trailer control valve that lets the supply line down when the control line is open.
"""

from circuit.clauses import Clause
from circuit.faults.asking import LOST, Asked, Found, of_faults
from circuit.faults.effect import in_line
from circuit.faults.sorts import hoses_lost
from circuit.judging.limits import pressure
from circuit.units import ATMOSPHERE


def answer(asked: Asked, clause: Clause) -> Found | None:
    faults = [*hoses_lost(asked.study, "supply"), *hoses_lost(asked.study, "control")]
    for effect in faults:
        supply = in_line(effect, "supply", braking=True)
        if in_line(effect, "control", braking=True) < LOST and supply > pressure(clause.limit, "brakes_itself"):
            return Found(False, effect, f"with {effect.fault.name} the trailer gets no signal, and its supply line keeps "
                         f"{(supply - ATMOSPHERE) / 1e5:.1f} bar while the pedal is down")
    if not faults:
        return None
    return Found(True, faults[-1], f"with {' and with '.join(e.fault.name for e in faults)} the pedal's signal or the fall "
                 "of its supply line brakes the trailer")


QUESTION = of_faults("trailer-braked-with-a-hose-broken", "whether the trailer is braked with either hose broken", answer)
