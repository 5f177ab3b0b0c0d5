"""One fault played in time: the vehicle goes on with it until all is at rest, stops, is parked, and released again.

Everything is full when the fault comes, at 0 s. Two runs are made, the engine standing and the engine running, and each
beside the same vehicle without the fault. Times are s, pressures absolute Pa.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.faults.effect import Effect
from circuit.faults.single import Fault
from circuit.faults.study import Study
from circuit.faults.times import FAST, SLOW, Event, is_slow, read
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Device
from circuit.model.trace import Trace
from circuit.sim import Action, Engine, Options, Script, Variant, move, simulate_many
from circuit.studies.effort import FULLY_ON, spring_share
from circuit.studies.hands import PSI, apply, let_go, park, unpark
from circuit.units import ATMOSPHERE

PEDAL, UP, PARKED, RELEASED = 10.0, 5.0, 5.0, 10.0
"""s that the pedal is down, that it is up again, that the vehicle is parked, and that it is watched with its park
control released; our choice."""
APPLIED = ATMOSPHERE + 0.5e5
"""Pa in a chamber from which its brake is on; our choice."""
SOON = 2.0
"""s after the pedal by which brakes have what they get; our choice."""
WAITS = (5, 10, 15, 20, 30, 45, 60, 90, 120, 180, 300, 600, 900, 1200, 1800, 2700, 3600, 5400, 7200)
"""s from the fault to the pedal, the first that leaves the air at rest."""
MOVES = 0.1e5
"""Pa that a pressure may still change after it counts as at rest; our choice."""
BRAKES_AT = ATMOSPHERE + 60 * PSI
"""Pa in a chamber by which 571.121 S5.3.3 times an application."""
HOLD, MOST = 3.0, 30
"""s that the pedal is held down and let up in turn, and how often at most, to count applications; our choice."""
DEMAND = ATMOSPHERE + 6.5e5
"""Pa that a towing vehicle outside the drawing puts on a control line; as (EU) 2015/68 has its coupling tested."""


class Acts(NamedTuple):
    """When the pedal goes down and up, when the vehicle is parked and released, and the end."""

    pedal: float
    up: float
    park: float
    release: float
    end: float

    @classmethod
    def after(cls, waits: float, hold: float) -> "Acts":
        up, park = waits + hold, waits + hold + UP
        return cls(waits, up, park, park + PARKED, park + PARKED + RELEASED)


class Stop(NamedTuple):
    """What an axle does in the stop and parked.

    before, first, given: the lowest pressure in its chambers before the pedal, soon after it and when it is up; sound:
    then without the fault; None without chambers. reached: s from the pedal until all of them have 60 psi. kept: the
    highest in them when the vehicle is parked. springs: share of the springs' force before the pedal, as it is let up,
    after it, parked, and released again; None without springs. on: s from the park control until all of them are on.
    """

    axle: str
    before: float | None
    first: float | None
    given: float | None
    sound: float | None
    reached: float | None
    kept: float
    springs: tuple[float, float, float, float, float] | None
    on: float | None


class Again(NamedTuple):
    """Full applications one after the other, the engine running. warns: how many are made when a warning comes on; None
    when none does in MOST. lowest: the lowest pressure in a service reservoir by then."""

    warns: int | None
    lowest: float


class Told(NamedTuple):
    """A fault's story. trace, sound: with the engine standing, with the fault and without. running: with the fault, the
    engine at work; None where the vehicle has no compressor. events: before the pedal; later: from then on. again: how
    often the brakes can still be applied; None where service air is lost, or filled again as ever."""

    study: Study
    effect: Effect
    acts: Acts
    trace: Trace
    sound: Trace
    running: Trace | None
    events: tuple[Event, ...]
    later: tuple[Event, ...]
    stops: tuple[Stop, ...]
    again: "Again | None"

    @property
    def circuit(self) -> Circuit:
        """As it is coupled with the fault."""
        return at_fault(self.study.circuit, self.effect.fault)


def tell(study: Study, effect: Effect, hold: float = PEDAL, options: Options = Options()) -> Told:
    """The story of a fault. hold: s that the pedal is down. Raises CannotAsk where nothing here brakes."""
    circuit = at_fault(study.circuit, effect.fault)
    waits = _waits(study, circuit, effect, options)
    acts = Acts.after(waits, hold)
    done = (*apply(circuit, acts.pedal, rig=DEMAND), *let_go(circuit, acts.up), *park(circuit, acts.park),
            *unpark(circuit, acts.release))
    parted = heads_off(circuit, effect.fault)
    script = Script((*_held(effect.fault), *(action for action in done if action.place not in parted)))
    trace = _played(circuit, script, effect.fault, acts.end, False, options)
    sound = _played(study.circuit, script, None, acts.end, False, options)
    makes = any(device.kind.source is not None for device in circuit.devices)
    running = _played(circuit, script, effect.fault, acts.end, True, options) if makes else None
    line = read(study, effect, trace, False, True)
    events = tuple(sorted((*(event for event in line.events if event.time < acts.pedal),
                           *_applied(circuit, acts, trace, sound)), key=lambda event: event.time))
    later = tuple(event for event in line.events if event.time >= acts.pedal and event.kind != "on")
    return Told(study, effect, acts, trace, sound, running, events, later, tuple(_stops(circuit, acts, trace, sound)),
                _applications(circuit, effect, options))


def at_fault(circuit: Circuit, fault: Fault) -> Circuit:
    """The circuit as it is coupled with a fault."""
    return circuit.exchanged(*fault.exchanged) if fault.exchanged else circuit


def _held(fault: Fault) -> tuple[Action, ...]:
    return tuple(move(device, variable, value, 0.0) for device, variable, value in fault.holds)


def heads_off(circuit: Circuit, fault: Fault) -> set[str]:
    """The heads that nothing is coupled to any more."""
    return {name for name, failure in fault.parts for f in circuit.by_name[name].kind.failures
            if f.name == failure and f.stops and circuit.by_name[name].has(Trait.COUPLES_VEHICLES)}


def _applied(circuit: Circuit, acts: Acts, trace: Trace, sound: Trace) -> Iterable[Event]:
    """Service brakes that come on without the pedal."""
    axles: dict[str, float] = {}
    for wheel in circuit.having(Trait.SERVICE_ACTUATOR):
        space = circuit.service_space(wheel)
        time = trace.first_time(space, APPLIED)
        if time is not None and 0 < time < acts.pedal and sound.pressure(space, time) < APPLIED:
            axle = wheel.settings["axle"]
            axles[axle] = min(time, axles.get(axle, time))
    for axle, time in axles.items():
        yield Event(time, axle, "come on by themselves", "applied")


def _played(circuit: Circuit, script: Script, fault: Fault | None, until: float, running: bool, options: Options
            ) -> Trace:
    variant = Variant(fault.name, fault.parts) if fault else Variant("sound")
    return simulate_many(circuit, script, [variant], until, engine=Engine(running), options=options)[0]


def _waits(study: Study, circuit: Circuit, effect: Effect, options: Options) -> float:
    """s from the fault until all reservoirs, lines to towed vehicles and springs are at rest, as one of WAITS."""
    slow = bool(effect.fault.parts) and is_slow(study.circuit, effect)
    ends = (SLOW, float(WAITS[-1])) if slow else (FAST,)
    for until in ends:
        trace = _played(circuit, Script(_held(effect.fault)), effect.fault, until, False, options)
        rest = max((_rests(trace, space) for space in _watched(circuit)), default=0.0)
        if rest < 0.9 * until:
            break
    return float(next((wait for wait in WAITS if wait >= rest), WAITS[-1]))


def _applications(circuit: Circuit, effect: Effect, options: Options) -> Again | None:
    tanks = [tank for tank in effect.tanks if tank.role == "service"]
    switches = [s for s in circuit.having(Trait.WARNS_LOW) if s.settings["on-below"] is not None]
    if not tanks or not switches or any(tank.is_lost or tank.is_low or tank.refilled for tank in tanks):
        return None
    actions: list[Action] = list(_held(effect.fault))
    for number in range(MOST):
        actions += [*apply(circuit, HOLD * 2 * number), *let_go(circuit, HOLD * (2 * number + 1))]
    trace = _played(circuit, Script(tuple(actions)), effect.fault, HOLD * 2 * MOST, True, options)
    times = [trace.first_time(circuit.store(s), s.settings["on-below"], rising=False) for s in switches]
    first = min((time for time in times if time is not None), default=None)
    lowest = min(trace.lowest(tank.name, until=first) for tank in tanks)
    return Again(None if first is None else int(first / (2 * HOLD)), lowest)


def _watched(circuit: Circuit) -> set[int]:
    found = {circuit.store(tank) for tank in circuit.reservoirs if tank.settings["role"] != "regeneration"}
    found |= {circuit.spring_space(spring) for spring in circuit.having(Trait.SPRING_ACTUATOR)}
    found |= {circuit.store(head) for head in circuit.having(Trait.COUPLES_VEHICLES)}
    return found - {SPACE_OUTSIDE}


def _rests(trace: Trace, space: int) -> float:
    """s from which on a space changes no more than MOVES."""
    last = trace.last(space)
    moving = [row for row, pressure in enumerate(trace.at_steps(space)) if abs(pressure - last) > MOVES]
    return float(trace.times[moving[-1]]) if moving else 0.0


def _stops(circuit: Circuit, acts: Acts, trace: Trace, sound: Trace) -> Iterable[Stop]:
    wheels, springs = circuit.having(Trait.SERVICE_ACTUATOR), circuit.having(Trait.SPRING_ACTUATOR)
    for axle in dict.fromkeys(wheel.settings["axle"] for wheel in wheels + springs):
        served = [circuit.service_space(wheel) for wheel in wheels if wheel.settings["axle"] == axle]
        sprung = [spring for spring in springs if spring.settings["axle"] == axle]
        times = [trace.first_time(space, BRAKES_AT, after=acts.pedal) for space in served]
        on = [trace.first_time(circuit.spring_space(s), FULLY_ON, rising=False, after=acts.park) for s in sprung]
        yield Stop(
            axle,
            min((trace.pressure(space, acts.pedal) for space in served), default=None),
            min((trace.pressure(space, min(acts.pedal + SOON, acts.up)) for space in served), default=None),
            min((trace.pressure(space, acts.up) for space in served), default=None),
            min((sound.pressure(space, acts.up) for space in served), default=None),
            None if not times or None in times else max(t for t in times if t is not None) - acts.pedal,
            max((trace.pressure(space, acts.park) for space in served), default=ATMOSPHERE),
            _shares(circuit, trace, sprung, acts),
            None if not on or None in on else max(t for t in on if t is not None) - acts.park)


def _shares(circuit: Circuit, trace: Trace, springs: Sequence[Device], acts: Acts
            ) -> tuple[float, float, float, float, float] | None:
    if not springs:
        return None

    def share(time: float) -> float:
        return sum(spring_share(trace.pressure(circuit.spring_space(spring), time), spring.settings["holds-off-at"])
                   for spring in springs) / len(springs)

    return share(acts.pedal), share(acts.up), share(acts.park), share(acts.release), share(acts.end)
