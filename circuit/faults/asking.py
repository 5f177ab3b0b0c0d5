"""The study of single faults, asked what clauses ask of one failure.

From pressures alone: whether it brakes, parks and keeps its air, not how soon it stops. A design may not say enough: then
an answer is neither met nor not met and says what is missing. The pressure of secondary braking is the maker's to declare:
`secondary-at` on the vehicle. Without it only a loss of all braking is decided.
"""

from collections.abc import Callable, Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.effect import LESS, Effect, Tank
from circuit.faults.sorts import hoses_lost, is_sudden
from circuit.faults.study import Study, study
from circuit.judging.assumed import Assumed, said
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, fell_short
from circuit.judging.rule import Figure, Result
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.sim import Engine, Options, Script, Variant
from circuit.studies.effort import SOME
from circuit.studies.once import once, simulate_many
from circuit.units import ATMOSPHERE

LOST = ATMOSPHERE + 0.5e5
"""Absolute Pa below which a reservoir, a chamber or a signal is taken as gone; our choice."""
UNKNOWN = "the pressure of secondary braking: write `secondary-at` on the vehicle"

class NeedsRun(Exception):
    """An answer that a simulation of its own decides."""


Runs = list[tuple[Effect, Trace]] | None
"""Faults with what happens in each; None where there are none."""


class FellShort(Exception):
    """A simulation did not reach its end with the accuracy asked for: it decides nothing."""


class Found(NamedTuple):
    """met: whether every fault that the clause speaks of leaves what it asks; None where this file cannot tell. worst:
    the fault that leaves the least. says: why, or what is missing, lower case. leans_on: assumed values that it hangs on."""

    met: bool | None
    worst: Effect | None
    says: str
    figure: Figure | None = None
    leans_on: tuple[Assumed, ...] = ()


class Asked:
    """A study with what several questions ask of it."""

    def __init__(self, found: Study) -> None:
        self.study, self.circuit = found, found.circuit
        self._done: dict[object, Runs] = {}

    def once(self, work: Callable[["Asked", Clause], Runs], clause: Clause) -> Runs:
        """Simulations of a clause's procedure, played once for all clauses that have the same."""
        key = work, repr(sorted(clause.procedure.items()))
        if key not in self._done:
            self._done[key] = work(self, clause)
        return self._done[key]

    def needs_run(self) -> None:
        """Said before a simulation that is no `once`."""

    @cached_property
    def tanks(self) -> tuple[Device, ...]:
        """The service reservoirs that are filled."""
        return tuple(tank for tank in self.circuit.reservoirs_for("service")
                     if self.study.whole.full.is_charged(self.circuit.store(tank)))

    @cached_property
    def hoses(self) -> tuple[Effect, ...]:
        """The hoses to what is towed open, one and both."""
        return (*hoses_lost(self.study, "supply"), *hoses_lost(self.study, "control"),
                *hoses_lost(self.study, "control", "supply"))

    @cached_property
    def breaks(self) -> tuple[Effect, ...]:
        """Failures of one part of the service brakes that is no brake itself, slow leaks left out."""
        circuit, system = self.circuit, self.study.whole.service_system
        brakes = {device.name for device in self.study.whole.wheels}
        return tuple(effect for effect in self.study.effects if len(effect.fault.parts) == 1
                     and effect.fault.device not in brakes and is_sudden(circuit, effect.fault)
                     and any(space in system for _, space in circuit.spaces_of[effect.fault.device]))

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

    def secondary(self, faults: Iterable[Effect], springs: bool = False) -> Found | None:
        """What the pedal's best axle gets against secondary braking. springs: a lever that graduates them may do as well."""
        rows = [(*self.best_axle(effect), place, effect) for place, effect in enumerate(faults)]
        if not rows or not self.study.whole.wheels:
            return None
        pressure, axle, _, worst = min(rows, key=lambda row: (row[0], row[2]))
        if pressure < LOST:
            if (springs and self.circuit.having(Trait.GRADUATES_SPRINGS)
                    and any(a.sprung and a.parks >= LESS for a in worst.axles)):
                return Found(None, worst, f"whether the springs alone give secondary braking, with {worst.fault.name}")
            return Found(False, worst, f"the pedal brakes no axle at both its ends with {worst.fault.name}")
        asks = self.circuit.vehicle.declared.get("secondary-at")
        if asks is None:
            return Found(None, worst, UNKNOWN)
        figure = Figure(f"{axle} gets", pressure, asks, "pressure")
        return Found(figure.margin >= 0, worst, f"the pedal's best axle has the least with {worst.fault.name}", figure)


class AskedAtRest(Asked):
    """A study of which only that is answered that needs no further run."""

    def once(self, work: Callable[[Asked, Clause], Runs], clause: Clause) -> Runs:
        raise NeedsRun

    def needs_run(self) -> None:
        raise NeedsRun


Answering = Callable[[Asked, Clause], Found | None]
"""The answer to a question of single faults; None where the design has nothing that it speaks of."""


@once
def asked_of(circuit: Circuit) -> Asked:
    """The study of a circuit, worked out once for all questions."""
    return Asked(study(circuit))


def found_by(answer: Answering, asked: Asked, clause: Clause) -> Found | None:
    """What comes of a question under a clause."""
    try:
        return answer(asked, clause)
    except FellShort:
        return Found(None, None, fell_short(clause).says)


def of_faults(name: str, title: str, answer: Answering) -> Question:
    """A question of single faults; a combination is not asked, for each of its vehicles is from its own file."""

    def predicted(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
        found = None if circuit.is_combination else found_by(answer, asked_of(circuit), clause)
        if found is not None:
            result = {True: Result.MET, False: Result.NOT_MET, None: Result.UNDECIDED}[found.met]
            yield Predicted(clause, result, found.worst.fault.device if found.worst else "", found.says, found.figure,
                            found.leans_on)

    return Question(name, title, predicted, answer)


def played(asked: Asked, faults: Iterable[Effect], script: Script, until: float,
           running: bool = False) -> list[tuple[Effect, Trace]]:
    """What happens with each of some faults from the start. running: whether the compressors do."""
    faults = list(faults)
    traces = simulate_many(asked.circuit, script, [Variant(e.fault.name, e.fault.parts) for e in faults], until,
                           engine=Engine(running), options=Options())
    if not all(trace.complete for trace in traces):
        raise FellShort
    return list(zip(faults, traces))


def brakes_left(faults: tuple[Effect, ...]) -> Found | None:
    """The share of the wheels' brakes, springs that follow the pedal included, in the worst of some faults."""
    if not faults:
        return None
    worst = min(faults, key=lambda e: e.braking)
    return Found(worst.braking > SOME, worst, f"{worst.braking * 100:.0f} % of the brakes are left with {worst.fault.name}")


def assumed_of_springs(circuit: Circuit) -> tuple[Assumed, ...]:
    """The assumed values on which it hangs when springs come on: hold-off pressures, and those of what modulates them."""
    reads = [(spring.name, "holds-off-at") for spring in circuit.having(Trait.SPRING_ACTUATOR)]
    reads += [(valve.name, setting.name) for valve in circuit.having(Trait.MODULATES_SPRINGS)
              for setting in valve.kind.settings if setting.dimension in ("pressure", "difference")]
    return said(circuit, ((name, setting) for name, setting in reads if setting in (given := circuit.by_name[name].given)
                          and given[setting].assumed))


def springs_that(worst_of: Iterable[Effect], share: Callable[[Effect], float], says: str) -> Found | None:
    """The effect that leaves the springs of an axle the least share of something."""
    faults = [effect for effect in worst_of if any(axle.sprung for axle in effect.axles)]
    if not faults:
        return None
    worst = min(faults, key=share)
    return Found(share(worst) >= LESS, worst, f"{share(worst) * 100:.0f} % of an axle's springs {says} with {worst.fault.name}")


def least_spring(asked: Asked, runs: list[tuple[Effect, Trace]], spare: Callable[[Trace, Device], float], what: str,
                 says: Callable[[Effect], str]) -> Found:
    """The spring with the least to spare over what holds it off, in any of some runs. spare: Pa."""
    rows = [(spare(trace, spring), place, spring) for place, (_, trace) in enumerate(runs)
            for spring in asked.study.whole.springs]
    left, place, spring = min(rows, key=lambda row: row[:2])
    held = spring.settings["holds-off-at"]
    return Found(left >= 0, runs[place][0], says(runs[place][0]),
                 Figure(f"{spring.name} {what}", left + held, held, "pressure"))
