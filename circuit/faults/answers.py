"""What single faults say of the clauses that speak of one failure, for a check that is asked to simulate.

From pressures alone: whether it brakes, parks and keeps its air, not how soon it stops. A design may not say enough: then
an answer is neither met nor not met and says what is missing. `fault_clauses_us` and `fault_clauses_europe` hold the
clauses.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

from circuit.clauses import Clause, clause
from circuit.faults.effect import Effect, Tank
from circuit.faults.study import Study, study
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Result
from circuit.model.circuit import Circuit, Device
from circuit.model.trace import Trace
from circuit.sim import Engine, Options, Script, Variant, simulate_many
from circuit.studies.holding import fell_short, holding
from circuit.units import ATMOSPHERE

LOST = ATMOSPHERE + 0.5e5
"""Absolute Pa below which a reservoir, a chamber or a signal is taken as gone; our choice."""


Runs = list[tuple[Effect, Trace]] | None
"""Faults with what happens in each; None where there are none."""


class FellShort(Exception):
    """A simulation did not reach its end with the accuracy asked for: it decides nothing."""


class Found(NamedTuple):
    """met: whether every fault that the clause speaks of leaves what it asks; None where this file cannot tell. worst:
    the fault that leaves the least. says: why, or what is missing, lower case."""

    met: bool | None
    worst: Effect | None
    says: str
    figure: Figure | None = None


class Asked:
    """A study with what several clauses ask of it."""

    def __init__(self, found: Study) -> None:
        self.study, self.circuit = found, found.circuit
        self._done: dict[object, Runs] = {}

    def once(self, work: Callable[["Asked"], Runs]) -> Runs:
        """Simulations that several clauses look at, played once."""
        if work not in self._done:
            self._done[work] = work(self)
        return self._done[work]

    @cached_property
    def tanks(self) -> tuple[Device, ...]:
        """The service reservoirs that are filled."""
        return tuple(tank for tank in self.circuit.reservoirs_for("service")
                     if self.study.whole.full.is_charged(self.circuit.store(tank)))

    def kept(self, effect: Effect, *names: str) -> Iterator[Tank]:
        """Service reservoirs, or those named, with what a fault leaves them."""
        wanted = names or tuple(tank.name for tank in self.tanks)
        return (tank for tank in effect.tanks if tank.name in wanted)

    def best_axle(self, effect: Effect) -> tuple[float, str]:
        """The absolute Pa that the pedal still gives both ends of an axle, and the axle that has the most."""
        air = self.study.left(effect.fault).at("braking")
        axles: dict[str, list[float]] = {}
        for wheel in self.study.whole.wheels:
            pressure = air.level.get(self.circuit.service_space(wheel), ATMOSPHERE)
            axles.setdefault(wheel.settings["axle"], []).append(pressure)
        return max(((min(found), axle) for axle, found in axles.items()), default=(ATMOSPHERE, "no axle"))

    def least(self, faults: Iterable[Effect]) -> tuple[Tank, Effect] | None:
        """The service reservoir that keeps the least over some faults."""
        rows = [(tank.kept, place, tank, effect) for place, effect in enumerate(faults) for tank in self.kept(effect)]
        return min(rows)[2:] if rows else None


Answering = Callable[[Asked], Found | None]
"""The answer for one clause; None where the design has nothing that it speaks of."""


def clauses_answered() -> Mapping[str, Answering]:
    """Clause key to what answers it."""
    from circuit.faults import answers_europe, answers_us

    return {**answers_us.ANSWERS, **answers_europe.ANSWERS}


def answers(found: Study, keys: Iterable[str] | None = None) -> dict[str, Found]:
    """The answer for every clause that holds for this vehicle, or those of `keys`; none for a combination."""
    asked, all_ = Asked(found), clauses_answered()
    circuit = found.circuit
    given: dict[str, Found] = {}
    for key in all_ if keys is None else keys:
        if circuit.is_combination or not clause(key).holds(circuit.vehicle.vehicle_class, circuit.tows):
            continue
        try:
            answer = all_[key](asked)
        except FellShort:
            answer = Found(None, None, fell_short(clause(key)).says)
        if answer is not None:
            given[key] = answer
    return given


def predicted(circuit: Circuit, sets: tuple[str, ...]) -> Iterator[Predicted]:
    """What the study says under some rule sets; UNDECIDED with what is missing where the file does not tell."""
    asked: dict[str, Clause] = {key: one for key in clauses_answered() if (one := holding(circuit, key, sets)) is not None}
    if not asked or circuit.is_combination:
        return
    for key, answer in answers(study(circuit), asked).items():
        result = {True: Result.MET, False: Result.NOT_MET, None: Result.UNDECIDED}[answer.met]
        thing = answer.worst.fault.device if answer.worst else ""
        yield Predicted(asked[key], result, thing, answer.says, answer.figure)


def played(asked: Asked, faults: Iterable[Effect], script: Script, until: float,
           running: bool = False) -> list[tuple[Effect, Trace]]:
    """What happens with each of some faults from the start. running: whether the compressors do."""
    faults = list(faults)
    traces = simulate_many(asked.circuit, script, [Variant(e.fault.name, e.fault.parts) for e in faults], until,
                           engine=Engine(running), options=Options())
    if not all(trace.complete for trace in traces):
        raise FellShort
    return list(zip(faults, traces))


def keeps(effect: Effect, tank: Tank, floor: float) -> Found:
    """What a reservoir keeps against a floor, absolute Pa."""
    figure = Figure(f"{tank.name} keeps", tank.kept, floor, "pressure")
    return Found(figure.margin >= 0, effect, f"{tank.name} keeps the least with {effect.fault.name}", figure)
