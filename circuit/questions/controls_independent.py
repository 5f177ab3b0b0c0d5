"""What each control leaves of the other's brake when it fails, slow leaks left out.

What happens
------------
One failure takes the service brake and the parking brake at once.

Mend
----
Keep what has to remain apart from what fails, or feed it from both: airwright faults tells what each failure takes
and leaves.
"""

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.asking import Asked, Found, of_faults
from circuit.faults.effect import LESS
from circuit.faults.sorts import failures_of, is_sudden


def answer(asked: Asked, clause: Clause) -> Found | None:
    circuit, study = asked.circuit, asked.study
    pedals, parks = circuit.having(Trait.SERVICE_CONTROL), circuit.having(Trait.PARK_CONTROL)
    sprung = [axle.name for axle in study.effects[0].axles if axle.sprung] if study.effects else []
    if not pedals or not parks or not sprung:
        return None
    rows = [(min(max(a.parks, a.stays) for a in e.axles if a.sprung), e, "of an axle's brakes are on when parked")
            for e in failures_of(study, pedals) if is_sudden(circuit, e.fault)]
    rows += [(e.force, e, "of the push-rod force comes with the pedal")
             for e in failures_of(study, parks) if is_sudden(circuit, e.fault)]
    if not rows:
        return None
    share, worst, what = min(rows, key=lambda row: row[0])
    return Found(share >= LESS, worst, f"{share * 100:.0f} % {what} with {worst.fault.name}")


QUESTION = of_faults("controls-independent", "what a control that fails leaves of the other's brake", answer)
