"""With the supply line gone the reservoirs leak away: when the fullest has fallen to a pressure each spring is fully on, or
from then on falls with it.

What happens
------------
When the service brakes are used up, no spring takes their place.

Mend
----
Let the springs off only by the air that the service brakes have in store.
"""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.limits import as_written, pressure
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, by, fell_short
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.sim import Action, leak, uncouple
from circuit.studies.effort import FULLY_ON
from circuit.studies.hands import fed_heads, standing
from circuit.studies.leak_down import hole_for
from circuit.studies.once import simulate

IN_STEP = 0.3e5
"""Pa that springs may stand above the reserve they are to fall with; our choice."""
LEAKS, RATE, WATCHED = 10.0, 5e3, 600.0
"""s at which the leaks begin, Pa/s by which the reservoirs fall at first, and s that are played; our choice."""
LOOKS = 50
"""How often springs and reserve are compared on the way; our choice."""


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    heads, springs = fed_heads(circuit, "supply"), circuit.having(Trait.SPRING_ACTUATOR)
    tanks = circuit.reservoirs_for("service")
    if not heads or not springs or not tanks:
        return
    fed, level = pressure(clause.procedure, "start"), pressure(clause.procedure, "reserve")
    actions: list[Action] = [uncouple(head.name, 0.0) for head in heads]
    actions += [leak(tank.name, hole_for(float(tank.settings["volume"]), fed, RATE), LEAKS) for tank in tanks]
    trace = simulate(circuit, standing(circuit, fed, *actions), WATCHED)
    times = [trace.first_time(circuit.store(tank), level, rising=False) for tank in tanks]
    if not trace.complete or None in times:
        yield fell_short(clause)
        return
    since = max(time for time in times if time is not None)
    left, name, space = max((trace.pressure(circuit.spring_space(s), since), s.name, circuit.spring_space(s))
                            for s in springs)
    figure = Figure(f"air left in {name}", left, FULLY_ON, "pressure", at_least=False)
    then = f"with the reserve at {as_written(clause.procedure, 'reserve')} and no supply line"
    if figure.margin >= 0:
        yield by(clause, figure.margin, name, f"{then} every spring is fully on", figure)
        return
    later = [since + (trace.end - since) * number / LOOKS for number in range(LOOKS + 1)]
    reserve = [max(trace.pressure(circuit.store(tank), time) for tank in tanks) for time in later]
    above = max(held - own for held, own in zip(trace.curve(space, later), reserve))
    figure = Figure(f"{name} above the reserve as both fall", above, IN_STEP, "difference", at_least=False)
    yield by(clause, figure.margin, name, f"{then} {name} is not fully on"
             + (", and comes on in step with the reserve" if figure.margin >= 0 else ""), figure)


QUESTION = Question("springs-follow-the-reserve", "whether the springs come on as the reserve leaks away", answer)
