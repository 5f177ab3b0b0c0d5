"""What valves keep in the supply line with each leak of the trailer's service brakes.

At rest: the flow of the rig that feeds the line, which the clause does not say, can only add to it.

What happens
------------
One failure of what is towed empties the supply line, and the towing vehicle with it.

Mend
----
Put a check valve or a protection valve between what fails and what is to be kept: airwright faults tells what each
failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults
from circuit.faults.sorts import service_leaks
from circuit.judging.limits import pressure
from circuit.judging.rule import Figure
from circuit.studies.hands import fed_heads

ROUNDED = 100.0
"""Pa by which a closing pressure is found too low, and no valve is set so exactly; our choice."""


def answer(asked: Asked, clause: Clause) -> Found | None:
    faults = service_leaks(asked.study)
    if not fed_heads(asked.circuit, "supply") or not faults:
        return None
    lowest, place = min((asked.study.supply_kept(effect), place) for place, effect in enumerate(faults))
    figure = Figure("supply line at its head", lowest + ROUNDED, pressure(clause.limit, "supply"), "pressure")
    return Found(figure.margin >= 0, faults[place], f"the supply line keeps the least with {faults[place].fault.name}, "
                 "however little the rig feeds", figure)


QUESTION = of_faults("supply-line-with-a-leak", "what the supply line keeps, with a leak of the service brakes", answer)
