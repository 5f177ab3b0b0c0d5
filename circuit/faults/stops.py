"""A stop with a fault, played: at rest with it, the pedal down and up, parked, released, and the pedal down once more.

Everything is full when the fault comes, at 0 s, and the engine stands; a towing vehicle outside the drawing goes on feeding
its supply line. Faults are played in batches. Times are s, pressures absolute Pa.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.faults.effect import GONE, Axle, Effect
from circuit.faults.play import levels
from circuit.faults.reading import Reading, mean, spoilt, spring_on
from circuit.faults.single import Fault
from circuit.faults.sorts import opens_a_way, parts_of
from circuit.faults.study import Study, differs
from circuit.faults.times import FAST, SLOW, is_slow
from circuit.model.air import Air
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.trace import Trace
from circuit.sim import Action, Engine, Options, Script, Variant, move, simulate_many
from circuit.studies.hands import apply, let_go, park, unpark
from circuit.units import ATMOSPHERE

PEDAL, UP, PARKED, RELEASED = 10.0, 5.0, 5.0, 10.0
"""s that the pedal is down, that it is up again, that the vehicle is parked, and that it is watched with its park
control released; our choice."""
WAITS = (5, 10, 15, 20, 30, 45, 60, 90, 120, 180, 300, 600, 900, 1200, 1800, 2700, 3600, 5400, 7200)
"""s from the fault to the pedal, the first that leaves the air at rest."""
MOVES = 0.1e5
"""Pa that a pressure may still change after it counts as at rest; our choice."""
PART = ATMOSPHERE + 3.0e5
"""Pa that a pedal pressed in part asks for; our choice, near the middle of what it can."""
DEMAND = ATMOSPHERE + 6.5e5
"""Pa that a towing vehicle outside the drawing puts on a control line; as (EU) 2015/68 has its coupling tested."""
BATCH = 40
"""Faults played together; our choice, a run holds every step of the places that are kept."""


class Acts(NamedTuple):
    """When the pedal goes down and up, when the vehicle is parked and released, and the end, when the pedal goes down once
    more until `last`."""

    pedal: float
    up: float
    park: float
    release: float
    end: float

    @classmethod
    def after(cls, waits: float, hold: float) -> "Acts":
        up, park = waits + hold, waits + hold + UP
        return cls(waits, up, park, park + PARKED, park + PARKED + RELEASED)

    @property
    def last(self) -> float:
        return self.end + self.up - self.pedal


class Run(NamedTuple):
    """trace: with the fault; sound: without it; the engine stands in both."""

    acts: Acts
    trace: Trace
    sound: Trace


def at_fault(circuit: Circuit, fault: Fault) -> Circuit:
    """The circuit as it is coupled with a fault."""
    return circuit.exchanged(*fault.exchanged) if fault.exchanged else circuit


def heads_off(circuit: Circuit, fault: Fault) -> frozenset[str]:
    """The heads that nothing is coupled to any more."""
    return frozenset(name for name, failure in fault.parts for f in circuit.by_name[name].kind.failures
                     if f.name == failure and f.stops and circuit.by_name[name].has(Trait.COUPLES_VEHICLES))


def held(fault: Fault) -> tuple[Action, ...]:
    return tuple(move(device, variable, value, 0.0) for device, variable, value in fault.holds)


def script_of(study: Study, acts: Acts, fault: Fault | None) -> Script:
    """What is done, with a fault or without one. Raises CannotAsk where nothing here brakes."""
    circuit, demand = study.circuit, study.whole.demand
    done: list[Action] = []
    for at in (acts.pedal, acts.end):
        done += apply(circuit, at, demand, rig=demand or DEMAND)
    done += (*let_go(circuit, acts.up), *park(circuit, acts.park), *unpark(circuit, acts.release))
    off = heads_off(circuit, fault) if fault else frozenset()
    kept = sorted((action for action in done if action.place not in off), key=lambda action: action.at)
    return Script((*(held(fault) if fault else ()), *kept))


def runs(study: Study, effects: Sequence[Effect], hold: float = PEDAL, options: Options = Options(),
         watch: Sequence[str] | None = None) -> Iterator[tuple[Effect, Run]]:
    """A run for each of some faults, those that take as long to come to rest together. hold: s that the pedal is down.
    watch: the places that are kept; None: all.

    Raises CannotAsk where nothing here brakes.
    """
    waits = [wait for some in _portions(effects) for wait in _waits(study, some, options, watch)]
    for wait in sorted(set(waits)):
        acts = Acts.after(wait, hold)
        sound: Trace | None = None
        for some in _portions([effect for effect, each in zip(effects, waits) if each == wait]):
            faults: list[Fault | None] = [effect.fault for effect in some]
            if sound is None:  # played with the first of them: some fault may do nothing in a stop
                sound, *traces = played(study, [None, *faults], acts, False, options, watch)
            else:
                traces = played(study, faults, acts, False, options, watch)
            yield from ((effect, Run(acts, trace, sound)) for effect, trace in zip(some, traces))


def _portions(effects: Sequence[Effect]) -> Iterator[Sequence[Effect]]:
    for first in range(0, len(effects), BATCH):
        yield effects[first: first + BATCH]


def played(study: Study, faults: Sequence[Fault | None], acts: Acts, running: bool, options: Options = Options(),
           watch: Sequence[str] | None = None) -> list[Trace]:
    """A stop with each of some faults, or without one. running: whether the engine does."""
    scripts: dict[object, Script] = {}

    def script(fault: Fault | None) -> Script:
        key = (fault.holds, heads_off(study.circuit, fault)) if fault else ((), frozenset())
        if key not in scripts:
            scripts[key] = script_of(study, acts, fault)
        return scripts[key]

    return _simulated(study, faults, [script(fault) for fault in faults], acts.last, running, options, watch)


def in_part(study: Study, faults: Sequence[Fault], acts: Acts, options: Options, watch: Sequence[str] | None) -> list[Trace]:
    """With each of some faults the pedal pressed in part and let up, until the vehicle would be parked."""
    circuit = study.circuit
    scripts = [Script((*held(fault), *apply(circuit, acts.pedal, PART, rig=PART), *let_go(circuit, acts.up))) for fault in faults]
    return _simulated(study, faults, scripts, acts.park, False, options, watch)


def _simulated(study: Study, faults: Sequence[Fault | None], scripts: Sequence[Script], until: float, running: bool,
               options: Options, watch: Sequence[str] | None) -> list[Trace]:
    """A run each, those of one circuit together."""
    groups: dict[object, list[int]] = {}
    for number, fault in enumerate(faults):
        groups.setdefault(fault.exchanged if fault else None, []).append(number)
    found: dict[int, Trace] = {}
    for numbers in groups.values():
        first = faults[numbers[0]]
        circuit = at_fault(study.circuit, first) if first else study.circuit
        variants = [Variant(fault.name, fault.parts, script=script) if fault else Variant("sound", script=script)
                    for fault, script in ((faults[number], scripts[number]) for number in numbers)]
        traces = simulate_many(circuit, Script(), variants, until, engine=Engine(running), options=options, watch=watch)
        found |= dict(zip(numbers, traces))
    return [found[number] for number in range(len(faults))]


# --- when all is at rest ---------------------------------------------------------------------------------------------


def _waits(study: Study, effects: Sequence[Effect], options: Options, watch: Sequence[str] | None) -> list[float]:
    """For each fault s until all reservoirs, lines to towed vehicles and springs are at rest with it, as one of WAITS."""
    found: dict[int, float] = {}
    for slow, ends in ((False, (FAST,)), (True, (SLOW, float(WAITS[-1])))):
        left = [e.fault for e in effects if bool(e.fault.parts and is_slow(study.circuit, e)) == slow
                and not only_shuts(study.circuit, e.fault)]
        for until in ends:
            scripts = {fault.holds: Script(held(fault)) for fault in left}
            traces = _simulated(study, left, [scripts[fault.holds] for fault in left], until, False, options, watch)
            for fault, trace in zip(left, traces):
                rests = max((rests_at(trace, space) for space in watched(at_fault(study.circuit, fault))), default=0.0)
                found[id(fault)] = rests
            left = [fault for fault in left if found[id(fault)] >= 0.9 * until]
    return [float(next((wait for wait in WAITS if wait >= found.get(id(e.fault), 0.0)), WAITS[-1])) for e in effects]


def only_shuts(circuit: Circuit, fault: Fault) -> bool:
    """Whether a fault lets nothing move until somebody does something: it shuts or narrows ways, or is no matter of air."""
    return bool(fault.parts) and not fault.exchanged and not fault.holds and all(
        not failure.stops and not failure.holds and not failure.scales
        and {frozenset(way) for way in failure.opens} <= {frozenset(way) for way in failure.shuts}
        for _, failure in parts_of(circuit, fault))


def watched(circuit: Circuit) -> set[int]:
    """The spaces that have to be at rest before the pedal goes down."""
    found = {circuit.store(tank) for tank in circuit.reservoirs if tank.settings["role"] != "regeneration"}
    found |= {circuit.spring_space(spring) for spring in circuit.having(Trait.SPRING_ACTUATOR)}
    found |= {circuit.store(head) for head in circuit.having(Trait.COUPLES_VEHICLES)}
    return found - {SPACE_OUTSIDE}


def rests_at(trace: Trace, space: int) -> float:
    """s from which on a space changes no more than MOVES."""
    last = trace.last(space)
    moving = [row for row, pressure in enumerate(trace.at_steps(space)) if abs(pressure - last) > MOVES]
    return float(trace.times[moving[-1]]) if moving else 0.0


# --- a run read as the graph's answer is -----------------------------------------------------------------------------


class StopAir:
    """The moments of a run, as `reading.Leaves`. second: of the second stop."""

    def __init__(self, circuit: Circuit, trace: Trace, acts: Acts, refills: frozenset[int], second: bool) -> None:
        self.circuit, self.trace, self.acts, self._refills, self._second = circuit, trace, acts, refills, second

    def _air(self, situation: str, time: float) -> Air:
        return Air(self.circuit, situation, {}, levels(self.trace, time))

    @cached_property
    def driven(self) -> Air:
        return self._air("driving", self.acts.end if self._second else self.acts.pedal)

    @cached_property
    def braked(self) -> Air:
        return self._air("braking", self.acts.last if self._second else self.acts.up)

    @cached_property
    def released(self) -> Air:
        return self._air("driving", self.acts.park)

    @cached_property
    def park_applied(self) -> Air:
        return self._air("parked", self.acts.release)

    @cached_property
    def lifted(self) -> Air:
        return self._air("driving", self.acts.end)

    def at(self, situation: str) -> Air:
        return {"driving": self.driven, "braking": self.braked, "parked": self.park_applied}[situation]

    def floor(self, space: int, situation: str) -> float:
        return self.at(situation).level.get(space, ATMOSPHERE)

    def refills(self, space: int) -> bool:
        return space in self._refills


def read_stop(study: Study, effect: Effect, run: Run, second: bool = False) -> Effect:
    """What a fault does in a stop, read from its run; what no pressure shows is as the graph says. second: in the next."""
    circuit = study.circuit
    normal = StopAir(circuit, run.sound, run.acts, frozenset(circuit.ports_of), second)
    filled = Air(circuit, "driving", {}, levels(run.sound, 0.0))
    reading = Reading(circuit, normal.braked, normal, study.whole.zone, filled)
    refills = frozenset(circuit.store(circuit.by_name[tank.name]) for tank in effect.tanks if tank.refilled)
    left, spoils = StopAir(at_fault(circuit, effect.fault), run.trace, run.acts, refills, second), spoilt(circuit, effect.fault)
    warned, unwarned = reading.warnings(left, spoils)
    shut = not opens_a_way(circuit, effect.fault)
    dry = {head.name for head in effect.heads if shut and head.line == "supply" and differs(head.driving, head.full_driving)}
    heads, users = tuple(head._replace(refilled=head.name not in dry) for head in reading.heads(left)), reading.users(left)
    return effect._replace(axles=reading.axles(left, spoils), tanks=reading.tanks(left), heads=heads,
                           warned=warned, unwarned=unwarned, users=users,
                           starved=tuple(name for name in effect.users if shut and name not in users))


def read_following(study: Study, effect: Effect, acts: Acts, part: Trace) -> Effect:
    """What a fault does in a stop, with which springs follow the pedal. part: played by `in_part`."""
    def on(axle: Axle, time: float) -> float:
        air = Air(study.circuit, "braking", {}, levels(part, time))
        springs = [s for s in study.circuit.having(Trait.SPRING_ACTUATOR) if s.settings["axle"] == axle.name]
        return mean([spring_on(spring, air, study.circuit) for spring in springs], 0.0)

    return effect._replace(axles=tuple(
        axle._replace(follows=GONE < on(axle, acts.up) < axle.pedal - GONE and on(axle, acts.park) < GONE)
        if axle.pedal > GONE else axle for axle in effect.axles))


def places(circuit: Circuit) -> tuple[str, ...]:
    """The places that a stop is read at, by a port of each space."""
    devices = circuit.having(Trait.SERVICE_ACTUATOR) + circuit.having(Trait.SPRING_ACTUATOR) + circuit.reservoirs
    devices += tuple(device for trait in (Trait.COUPLES_VEHICLES, Trait.WARNS_LOW, Trait.USES_AIR, Trait.SHOWS_PRESSURE)
                     for device in circuit.having(trait))
    found: dict[int, str] = {}
    for device in devices:
        for port, space in circuit.spaces_of[device.name]:
            found.setdefault(space, f"{device.name}.{port}")
    found.pop(SPACE_OUTSIDE, None)
    return tuple(found.values())

