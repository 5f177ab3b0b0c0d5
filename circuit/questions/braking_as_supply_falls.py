"""The supply line when the first brake of a towed vehicle begins, as the line falls evenly.

What happens
------------
A supply line that leaks or tears brakes what is towed too late, or without a need.

Mend
----
Choose an emergency valve that acts within the pressures that are asked for.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.gas.chamber import PUSHES_OUT
from circuit.judging.limits import pressure, rate
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by, fell_short
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.sim import feed
from circuit.studies.hands import fed_heads, standing
from circuit.studies.once import simulate
from circuit.units import ATMOSPHERE

BEGINS, AFTER = 1.0, 2.0
"""s at which the line begins to fall, and that are watched when it is empty; our choice."""


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    heads = fed_heads(circuit, "supply")
    if not heads:
        return
    fed, falls = pressure(clause.procedure, "start"), rate(clause.procedure, "falls")
    over = (fed - ATMOSPHERE) / falls
    actions = [feed(head.name, ATMOSPHERE, BEGINS, over) for head in heads]
    trace = simulate(circuit, standing(circuit, fed, *actions), BEGINS + over + AFTER)
    if not trace.complete:
        yield fell_short(clause)
        return
    begins = [(time, device.name) for device, space, level, rising in _brakes(circuit)
              if (time := trace.first_time(space, level, rising, BEGINS)) is not None]
    if not begins:
        yield by(clause, -1.0, heads[0].name, "no brake begins while the supply line falls to nothing")
        return
    time, name = min(begins)
    figure = Figure("supply line then", trace.pressure(heads[0].name, time), pressure(clause.limit, "by"), "pressure")
    yield by(clause, figure.margin, name,
             f"as the supply line falls by {falls / 1e3:.0f} kPa/s, {name} is the first brake to begin", figure)


def _brakes(circuit: Circuit):  # type: ignore[no-untyped-def]
    """Each brake's space with the absolute Pa at which it begins, and whether that is reached rising."""
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        yield chamber, circuit.service_space(chamber), ATMOSPHERE + PUSHES_OUT, True
    for chamber in circuit.having(Trait.SPRING_ACTUATOR):
        yield chamber, circuit.spring_space(chamber), chamber.settings["holds-off-at"], False


QUESTION = Question("braking-as-supply-falls", "at which pressure of its supply line a towed vehicle begins to brake", answer)
