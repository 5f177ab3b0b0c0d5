"""How fast the air builds up, as the study of charging plays it. A count by volumes bounds the same from the drawing.

What happens
------------
The driver waits for air longer than is asked, and may run out of it where the brakes are used hard.

Mend
----
Fit a larger compressor or give it less volume to fill: airwright charge tells what fills when.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.studies.charge import Charge, charge
from circuit.studies.hands import CannotAsk
from circuit.studies.holding import predicted
from circuit.studies.spread import Spread
from circuit.units import shown


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    try:
        found = charge(circuit, (clause.set_name,))
    except CannotAsk:
        return
    if found.trace.complete:
        yield from (each for each in _every(found) if each.clause.key == clause.key)


def _every(found: Charge) -> Iterator[Predicted]:
    if found.clause is not None and found.limit is not None and found.build is not None:
        yield _build_up(found, found.clause, found.build, found.limit)
    slowest = found.slowest
    if found.filling_clause is not None and slowest is not None:
        for part, time, limit in zip((found.part, 1.0), (slowest.share, slowest.whole), found.limits):
            if limit is not None:
                figure = None if time is None else Figure("time to fill", time, limit, "time", at_least=False)
                yield by(found.filling_clause, -1.0 if figure is None else figure.margin, slowest.name,
                         f"{slowest.name} has {100 * part:.0f} % of the declared pressure {_when(time)}", figure, found.assumed)
    yield from (predicted(held, found.circuit, found.assumed) for held in found.held)


def _build_up(found: Charge, clause: Clause, build: Spread, limit: float) -> Predicted:
    figure = None if build.value is None else Figure("time to build up", build.value, limit, "time", at_least=False)
    return by(clause, -1.0 if figure is None else figure.margin, found.circuit.vehicle.name,
              f"every supply and service reservoir goes from {found.between} {_when(build.value)}", figure, found.assumed,
              0.0 < (found.kept_by or 0.0) < 1.0)


def _when(time: float | None) -> str:
    return "never" if time is None else f"in {shown(time, 'time')}"


QUESTION = Question("air-builds-slowly", "how fast the compressor brings the air back", answer)
