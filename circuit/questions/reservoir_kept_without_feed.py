"""What each service reservoir keeps when the air ahead of it is lost.

What happens
------------
Air that is lost upstream takes a service reservoir along.

Mend
----
Put a check valve or a protection valve between what fails and what is to be kept: airwright faults tells what each
failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, of_faults
from circuit.faults.sorts import losses_ahead
from circuit.judging.limits import pressure
from circuit.judging.rule import Figure


def answer(asked: Asked, clause: Clause) -> Found | None:
    rows = [(tank.kept, place, tank, effect) for own in asked.tanks
            for place, effect in enumerate(losses_ahead(asked.study, own)) for tank in asked.kept(effect, own.name)]
    if not rows:
        return None
    _, _, tank, effect = min(rows)
    figure = Figure(f"{tank.name} keeps", tank.kept, pressure(clause.limit, "keeps"), "pressure")
    return Found(figure.margin >= 0, effect, f"{tank.name} keeps the least with {effect.fault.name}", figure)


QUESTION = of_faults("reservoir-kept-without-feed", "what a service reservoir keeps when the air ahead of it is lost", answer)
