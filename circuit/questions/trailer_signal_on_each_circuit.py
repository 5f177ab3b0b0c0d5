"""The trailer's signal with each service reserve lost.

What happens
------------
With one circuit lost what is towed is not braked by the pedal.

Mend
----
Bring the signal to the coupling from both circuits: airwright faults tells what each failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import LOST, Asked, Found, of_faults
from circuit.faults.effect import Effect
from circuit.faults.sorts import losses_of
from circuit.units import ATMOSPHERE


def answer(asked: Asked, clause: Clause) -> Found | None:
    faults = [effect for effect in losses_of(asked.study, "service") if effect.heads]
    if not faults:
        return None
    worst = min(faults, key=_rise)
    return Found(_rise(worst) >= LOST - ATMOSPHERE, worst, f"the pedal raises the trailer's signal by "
                 f"{_rise(worst) / 1e5:.1f} bar with {worst.fault.name}")


def _rise(effect: Effect) -> float:
    """Pa by which the pedal raises the control line."""
    return max((head.braking - head.driving for head in effect.heads if head.line == "control"), default=0.0)


QUESTION = of_faults("trailer-signal-on-each-circuit", "the trailer's signal with one circuit lost", answer)
