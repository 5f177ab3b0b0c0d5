"""Each fault played by the simulation as one script: driving, braking, let go, parked and released again.

The vehicle stands charged and the fault is there from the start; a burst has BURST seconds to run out and a leak LEAK,
then the pedal goes down. Played with the engine off or on and with any pedal, and read as the graph's answer is, so that
the two can be held against each other. Times are s, pressures absolute Pa.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.faults.effect import Effect
from circuit.faults.failing import failing
from circuit.faults.reading import Reading, spoilt
from circuit.faults.single import Fault
from circuit.faults.sorts import is_sudden
from circuit.faults.study import Study, likeness
from circuit.model.air import Air, full_pressure
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Action, Engine, Options, Script, Variant, pull, push, simulate, simulate_many, uncouple
from circuit.studies.hands import apply, fed_heads, let_go
from circuit.units import ATMOSPHERE

BURST, LEAK = 60.0, 1800.0
"""s that a burst and a leak are given before the pedal goes down; our choice."""
STEP = 15.0
"""s for each thing that is done after that, so that all comes to rest; our choice."""


class Situation(NamedTuple):
    """running: whether the engine does. demand: absolute Pa asked of the pedal, None for all it gives."""

    running: bool = False
    demand: float | None = None

    @property
    def engine(self) -> Engine:
        return Engine(self.running)


PART = ATMOSPHERE + 3e5
"""Absolute Pa that a part pedal asks for, where nothing else is said; our choice."""


def situations(part: float = PART) -> tuple[Situation, ...]:
    """The engine off and on, each with a full and a part pedal."""
    return tuple(Situation(running, demand) for running in (False, True) for demand in (None, part))


class Played(NamedTuple):
    """effect: what the fault does, read from the run. trace: the run. pedal_at: s at which the pedal goes down."""

    effect: Effect
    trace: Trace
    pedal_at: float


class PlayedAir:
    """The moments of one run, as `reading.Leaves`. began: s at which the pedal went down."""

    def __init__(self, circuit: Circuit, trace: Trace, began: float, refills: frozenset[int]) -> None:
        self.circuit, self.trace, self.began, self._refills = circuit, trace, began, refills

    def _air(self, situation: str, steps: float) -> Air:
        time = min(self.began + steps * STEP, self.trace.end)
        return Air(self.circuit, situation, {}, levels(self.trace, time))

    @cached_property
    def driven(self) -> Air:
        return self._air("driving", 0)

    @cached_property
    def braked(self) -> Air:
        return self._air("braking", 1)

    @cached_property
    def released(self) -> Air:
        return self._air("driving", 2)

    @cached_property
    def park_applied(self) -> Air:
        return self._air("parked", 3)

    @cached_property
    def lifted(self) -> Air:
        return self.driven if self.circuit.is_towed else self._air("driving", 4)

    def at(self, situation: str) -> Air:
        return {"driving": self.driven, "braking": self.braked, "parked": self.park_applied}[situation]

    def floor(self, space: int, situation: str) -> float:
        return self.at(situation).level.get(space, ATMOSPHERE)

    def refills(self, space: int) -> bool:
        return space in self._refills


def play(study: Study, effects: Sequence[Effect], situation: Situation = Situation(),
         options: Options = Options()) -> list[Played]:
    """What happens with each of some faults, in batches; faults that are alike are played once.

    Raises CannotAsk where there is no pedal and no control head that is fed.
    """
    found: dict[int, Played] = {}
    for sudden in (True, False):
        chosen = [e for e in effects if is_sudden(study.circuit, e.fault) == sudden]
        if not chosen:
            continue
        began = BURST if sudden else LEAK
        script = script_of(study.circuit, began, situation)
        alike: dict[object, list[Effect]] = {}
        for effect in chosen:
            alike.setdefault(likeness(study.whole, effect.fault), []).append(effect)
        first = [same[0].fault for same in alike.values()]
        whole, *traces = _traces(study.circuit, [None, *first], script, began + 4 * STEP, situation, options)
        normal = PlayedAir(study.circuit, whole, began, frozenset(study.circuit.ports_of))
        full = normal.braked  # what a sound vehicle has left when the fault is looked at
        reading = Reading(study.circuit, full, normal, study.whole.zone, Air(study.circuit, "driving", {}, levels(whole, 0.0)))
        for same, trace in zip(alike.values(), traces):
            for effect in same:
                found[id(effect)] = Played(_read(reading, effect, trace, began), trace, began)
    return [found[id(effect)] for effect in effects]


def _read(reading: Reading, effect: Effect, trace: Trace, began: float) -> Effect:
    circuit = reading.circuit
    refills = frozenset(circuit.store(circuit.by_name[tank.name]) for tank in effect.tanks if tank.refilled)
    left, spoils = PlayedAir(circuit, trace, began, refills), spoilt(circuit, effect.fault)
    warned, unwarned = reading.warnings(left, spoils)
    return effect._replace(axles=reading.axles(left, spoils), tanks=reading.tanks(left), heads=reading.heads(left),
                           warned=warned, unwarned=unwarned, users=reading.users(left), seeps=())


def levels(trace: Trace, time: float) -> dict[int, float]:
    """Absolute Pa of every space at a time at which a step ends, before what then snaps over."""
    row = trace.pressures[min(bisect_left(trace.times, time), len(trace.times) - 1)]
    return {space: float(row[node]) for space, node in trace.node.items()}


def script_of(circuit: Circuit, began: float, situation: Situation) -> Script:
    """The pedal down, up, the park control out and in again; a trailer is uncoupled instead."""
    actions: list[Action] = [*apply(circuit, began, situation.demand, rig=situation.demand or full_pressure(circuit)),
                             *let_go(circuit, began + STEP)]
    controls = [device for device in circuit.having(Trait.PARK_CONTROL) if device.kind.when.get("parked")]
    if circuit.is_towed:
        actions += [uncouple(head.name, began + 2 * STEP) for head in fed_heads(circuit, "supply")]
    else:
        actions += [pull(device.name, began + 2 * STEP) for device in controls]
        actions += [push(device.name, began + 3 * STEP) for device in controls]
    return Script(tuple(actions))


def _traces(circuit: Circuit, faults: Iterable[Fault | None], script: Script, until: float, situation: Situation,
            options: Options) -> list[Trace]:
    """One run each: what kinds declare of a part in one batch, wrong lines and lost current each by itself."""
    faults, engine = list(faults), situation.engine
    simple = [f for f in faults if f is None or not f.exchanged and not f.holds]
    variants = [Variant(f.name, f.parts) if f else Variant("whole") for f in simple]
    runs = dict(zip(map(id, simple), simulate_many(circuit, script, variants, until, engine=engine, options=options)))
    for fault in faults:
        if fault is not None and id(fault) not in runs:
            wrong, _, _ = failing(circuit, fault, Air(circuit, "driving", {}, {}))
            start = _pressures(circuit, runs[id(None)])
            runs[id(fault)] = simulate(wrong, replace(script, pressures=start), until, engine=engine, options=options)
    return [runs[id(fault)] for fault in faults]


def _pressures(circuit: Circuit, whole: Trace) -> dict[str, float]:
    """The reservoirs as they stand at the start of a sound run."""
    return {tank.name: whole.pressure(tank.name, 0.0) for tank in circuit.reservoirs}
