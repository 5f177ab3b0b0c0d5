"""One fault played in time: the vehicle goes on with it until all is at rest, stops, is parked, released, and stops again.

Everything is full when the fault comes, at 0 s. Two runs are made, the engine standing and the engine running, and each
beside the same vehicle without the fault. Times are s, pressures absolute Pa.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.faults.effect import Effect
from circuit.faults.outcome import Outcome, read_outcome
from circuit.faults.stops import PEDAL, Acts, at_fault, held, played, runs
from circuit.faults.study import Study
from circuit.faults.times import Event, read
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.sim import Action, Engine, Options, Script, Variant, simulate_many
from circuit.studies.effort import FULLY_ON, spring_share
from circuit.studies.hands import PSI, apply, let_go
from circuit.units import ATMOSPHERE

APPLIED = ATMOSPHERE + 0.5e5
"""Pa in a chamber from which its brake is on; our choice."""
SOON = 2.0
"""s after the pedal by which brakes have what they get; our choice."""
BRAKES_AT = ATMOSPHERE + 60 * PSI
"""Pa in a chamber by which 571.121 S5.3.3 times an application."""
HOLD, MOST = 3.0, 30
"""s that the pedal is held down and let up in turn, and how often at most, to count applications; our choice."""


class Stop(NamedTuple):
    """What an axle does in the stop and parked.

    before, first, given: the lowest pressure in its chambers before the pedal, soon after it and when it is up; sound:
    then without the fault; None without chambers. reached: s from the pedal until all of them have 60 psi. kept: the
    highest in them when the vehicle is parked. springs: share of the springs' force before the pedal, as it is let up,
    after it, parked, and released again; None without springs. on: s from the park control until all of them are on.
    following: the lowest pressure in its chambers at the end of the next stop, and then without the fault.
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
    following: tuple[float, float] | None = None


class Again(NamedTuple):
    """Full applications one after the other, the engine running. warns: how many are made when a warning comes on; None
    when none does in MOST. lowest: the lowest pressure in a service reservoir by then."""

    warns: int | None
    lowest: float


class Told(NamedTuple):
    """A fault's story. trace, sound: with the engine standing, with the fault and without. running: with the fault, the
    engine at work; None where the vehicle has no compressor. events: before the pedal; later: from then on. again: how
    often the brakes can still be applied; None where service air is lost, or filled again as ever. outcome: as the table of
    faults has it; effect is what the fault does in time."""

    study: Study
    effect: Effect
    outcome: Outcome
    acts: Acts
    trace: Trace
    sound: Trace
    running: Trace | None
    events: tuple[Event, ...]
    later: tuple[Event, ...]
    stops: tuple[Stop, ...]
    again: "Again | None"

    @property
    def first(self) -> Effect:
        """What the fault does in the stop."""
        return self.outcome.seen

    @property
    def circuit(self) -> Circuit:
        """As it is coupled with the fault."""
        return at_fault(self.study.circuit, self.effect.fault)


def tell(study: Study, effect: Effect, hold: float = PEDAL, options: Options = Options()) -> Told:
    """The story of a fault. hold: s that the pedal is down. Raises CannotAsk where nothing here brakes."""
    circuit = at_fault(study.circuit, effect.fault)
    ((_, run),) = runs(study, (effect,), hold, options)
    acts, trace, sound = run
    makes = any(device.kind.source is not None for device in circuit.devices)
    running = played(study, (effect.fault,), acts, True, options)[0] if makes else None
    line = read(study, effect, trace, False, True)
    events = tuple(sorted((*(event for event in line.events if event.time < acts.pedal),
                           *_applied(circuit, acts, trace, sound)), key=lambda event: event.time))
    later = tuple(event for event in line.events if acts.pedal <= event.time < acts.end and event.kind != "on")
    stops = tuple(_stops(circuit, acts, trace, sound))
    return Told(study, effect, read_outcome(study, effect, run), acts, trace, sound, running, events, later, stops,
                _applications(circuit, effect, options))


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


def _applications(circuit: Circuit, effect: Effect, options: Options) -> Again | None:
    tanks = [tank for tank in effect.tanks if tank.role == "service"]
    switches = [s for s in circuit.having(Trait.WARNS_LOW) if s.settings["on-below"] is not None]
    if not tanks or not switches or any(tank.is_lost or tank.is_low or tank.refilled for tank in tanks):
        return None
    actions: list[Action] = list(held(effect.fault))
    for number in range(MOST):
        actions += [*apply(circuit, HOLD * 2 * number), *let_go(circuit, HOLD * (2 * number + 1))]
    variant = Variant(effect.fault.name, effect.fault.parts)
    (trace,) = simulate_many(circuit, Script(tuple(actions)), [variant], HOLD * 2 * MOST, engine=Engine(True), options=options)
    times = [trace.first_time(circuit.store(s), s.settings["on-below"], rising=False) for s in switches]
    first = min((time for time in times if time is not None), default=None)
    lowest = min(trace.lowest(tank.name, until=first) for tank in tanks)
    return Again(None if first is None else int(first / (2 * HOLD)), lowest)


def _stops(circuit: Circuit, acts: Acts, trace: Trace, sound: Trace) -> Iterable[Stop]:
    wheels, springs = circuit.having(Trait.SERVICE_ACTUATOR), circuit.having(Trait.SPRING_ACTUATOR)
    for axle in dict.fromkeys(wheel.settings["axle"] for wheel in wheels + springs):
        served = [circuit.service_space(wheel) for wheel in wheels if wheel.settings["axle"] == axle]
        sprung = [spring for spring in springs if spring.settings["axle"] == axle]
        times = [_by(acts.end, trace.first_time(space, BRAKES_AT, after=acts.pedal)) for space in served]
        on = [_by(acts.end, trace.first_time(circuit.spring_space(s), FULLY_ON, rising=False, after=acts.park)) for s in sprung]
        yield Stop(
            axle,
            min((trace.pressure(space, acts.pedal) for space in served), default=None),
            min((trace.pressure(space, min(acts.pedal + SOON, acts.up)) for space in served), default=None),
            min((trace.pressure(space, acts.up) for space in served), default=None),
            min((sound.pressure(space, acts.up) for space in served), default=None),
            None if not times or None in times else max(t for t in times if t is not None) - acts.pedal,
            max((trace.pressure(space, acts.park) for space in served), default=ATMOSPHERE),
            _shares(circuit, trace, sprung, acts),
            None if not on or None in on else max(t for t in on if t is not None) - acts.park,
            (min(trace.last(space) for space in served), min(sound.last(space) for space in served)) if served else None)


def _by(end: float, time: float | None) -> float | None:
    return time if time is not None and time <= end else None


def _shares(circuit: Circuit, trace: Trace, springs: Sequence[Device], acts: Acts
            ) -> tuple[float, float, float, float, float] | None:
    if not springs:
        return None

    def share(time: float) -> float:
        return sum(spring_share(trace.pressure(circuit.spring_space(spring), time), spring.settings["holds-off-at"])
                   for spring in springs) / len(springs)

    return share(acts.pedal), share(acts.up), share(acts.park), share(acts.release), share(acts.end)
