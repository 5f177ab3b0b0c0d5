"""How long faults take: simulated together in one batch, and held against what the graph says.

A fault is there from the start; the vehicle stands charged, as driving, the engine off or on, and in a second batch the
pedal goes down. Times are s from the start, pressures absolute Pa.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.faults.effect import Effect
from circuit.faults.single import LEAK
from circuit.faults.study import Rank, Study, likeness, rank
from circuit.gas.chamber import SPRING_STARTS
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Action, Engine, Options, Script, Variant, simulate_many
from circuit.studies.hands import CannotAsk, apply, fed_heads
from circuit.units import ATMOSPHERE

FAST, SLOW = 60.0, 1800.0
"""s that a burst and a leak are followed for; our choice."""
PEDAL_AT = 1.0
NO_USE = 2.0e5
"""Pa above atmosphere below which a service reservoir brakes hardly any more; our choice, about 30 psi."""
APART = 0.3e5
"""Pa by which graph and simulation may differ before it counts: cracking and shifting pressures of a few valves."""


class Event(NamedTuple):
    """thing: a switch, an axle, a reservoir or a knob's valve. does: what it does then, in words. kind: `warning`,
    `springs` (begin to come on), `on` (have come on), `applied` (service brakes, by themselves), `brake` (hardly works)
    or `knob`."""

    time: float
    thing: str
    does: str
    kind: str

    @property
    def says(self) -> str:
        return says((self.thing,), self.does, self.kind)


def says(things: Sequence[str], does: str, kind: str) -> str:
    """What one or several things of a kind do, in words.

    >>> says(("drive-1", "drive-2"), "begin to come on", "springs")
    'springs of drive-1 and drive-2 begin to come on'
    """
    listed = " and ".join(filter(None, (", ".join(things[:-1]), things[-1])))
    if kind in ("springs", "on", "applied"):
        return f"{'brakes' if kind == 'applied' else 'springs'} of {listed} {does}"
    verb, _, rest = does.partition(" ")
    return f"{listed} {verb.removesuffix('s') if len(things) > 1 else verb} {rest}".rstrip()


class Timeline(NamedTuple):
    """What happens after a fault. running: whether the engine does. pedal: whether it is down. events: in order.
    last: reservoir to pressure at the end. disagrees: where the graph says otherwise, in words."""

    name: str
    running: bool
    pedal: bool
    until: float
    events: tuple[Event, ...]
    last: Mapping[str, float]
    complete: bool
    disagrees: tuple[str, ...] = ()

    def first(self, kind: str) -> Event | None:
        return next((event for event in self.events if event.kind == kind), None)

    @property
    def warning(self) -> float | None:
        """s from the fault to the first low-pressure warning."""
        found = self.first("warning")
        return found.time if found else None

    @property
    def loss(self) -> float | None:
        """s from the fault to the first brake lost or spring coming on."""
        times = [event.time for event in self.events if event.kind in ("springs", "brake")]
        return min(times) if times else None

    @property
    def grace(self) -> float | None:
        """s from the warning to the first loss; negative when the loss comes first."""
        return None if self.warning is None or self.loss is None else self.loss - self.warning


def worth_timing(study: Study) -> tuple[Effect, ...]:
    """Faults by which air is lost or not made, one for all that are alike, the worst first."""
    seen = set()
    found = []
    for effect in study.effects:
        like = likeness(study.whole, effect.fault), is_slow(study.circuit, effect)
        if like[0] == "nothing" or rank(effect) > Rank.AIR or like in seen or not effect.fault.parts:
            continue
        failures = [next(f for f in study.circuit.by_name[name].kind.failures if f.name == failure)
                    for name, failure in effect.fault.parts]
        if any(f.opens for f in failures):
            seen.add(like)
            found.append(effect)
    return tuple(found)


def is_slow(circuit: Circuit, effect: Effect) -> bool:
    """Whether a fault only leaks."""
    return all(f.share <= LEAK for name, failure in effect.fault.parts for f in circuit.by_name[name].kind.failures
               if f.name == failure)


def timelines(study: Study, effects: Sequence[Effect], *, running: bool = False, pedal: bool = False,
              demand: float | None = None, until: float | None = None, options: Options = Options()) -> list[Timeline]:
    """What happens after each of some faults, bursts in one batch and leaks in another.

    until: s; None is FAST for bursts and SLOW for leaks. A circuit without a pedal and without a control head that is
    fed has no timeline with one.
    """
    circuit = study.circuit
    actions: tuple[Action, ...] = ()
    if pedal:
        try:
            actions = apply(circuit, PEDAL_AT, demand, rig=demand or ATMOSPHERE + 6.5e5)
        except CannotAsk:
            return []
    found: dict[int, Timeline] = {}
    for slow in (False, True):
        chosen = [e for e in effects if is_slow(circuit, e) == slow]
        if not chosen:
            continue
        end = until or (SLOW if slow else FAST)
        traces = simulate_many(circuit, Script(actions), [Variant(e.fault.name, e.fault.parts) for e in chosen], end,
                               engine=Engine(running), options=options)
        for effect, trace in zip(chosen, traces):
            found[id(effect)] = read(study, effect, trace, running, pedal)
    return [found[id(effect)] for effect in effects]


def read(study: Study, effect: Effect, trace: Trace, running: bool, pedal: bool) -> Timeline:
    """A trace's events, and where it and the graph disagree."""
    circuit = study.circuit
    events = sorted([*warnings_in(circuit, trace), *springs_in(study, trace), *_brakes(study, trace, pedal),
                     *_knobs(circuit, trace)], key=lambda event: event.time)
    last = {tank.name: trace.last(tank.name) for tank in circuit.reservoirs}
    wrong = () if running or not trace.complete else tuple(_disagreements(study, effect, trace, pedal))
    return Timeline(effect.fault.name, running, pedal, trace.end, tuple(events), last, trace.complete, wrong)


def warnings_in(circuit: Circuit, trace: Trace) -> Iterable[Event]:
    for switch in circuit.having(Trait.WARNS_LOW):
        space, on = circuit.store(switch), switch.settings["on-below"]
        if on is None or trace.pressure(space, 0.0) < on:
            continue
        time = trace.first_time(space, on, rising=False)
        if time is not None:
            yield Event(time, switch.name, "warns", "warning")


def springs_in(study: Study, trace: Trace) -> Iterable[Event]:
    circuit = study.circuit
    axles: dict[str, list[tuple[int, float]]] = {}
    for spring in circuit.having(Trait.SPRING_ACTUATOR):
        held = spring.settings["holds-off-at"]
        axles.setdefault(spring.settings["axle"], []).append((circuit.spring_space(spring), held))
    for axle, springs in axles.items():
        starts = _first(trace, [(space, held) for space, held in springs if trace.pressure(space, 0.0) >= held])
        if starts is None:
            continue
        yield Event(starts, axle, "begin to come on", "springs")
        full = _first(trace, [(space, ATMOSPHERE + SPRING_STARTS) for space, _ in springs])
        if full is not None:
            yield Event(full, axle, "are on", "on")


def _first(trace: Trace, levels: Iterable[tuple[int, float]]) -> float | None:
    times = [time for space, level in levels if (time := trace.first_time(space, level, rising=False)) is not None]
    return min(times) if times else None


def _brakes(study: Study, trace: Trace, pedal: bool) -> Iterable[Event]:
    """Service reservoirs that fall so low that their brakes hardly work."""
    circuit = study.circuit
    for tank in circuit.reservoirs_for("service"):
        space = circuit.store(tank)
        if trace.pressure(space, 0.0) > ATMOSPHERE + NO_USE:
            time = trace.first_time(space, ATMOSPHERE + NO_USE, rising=False)
            if time is not None:
                yield Event(time, tank.name, "brakes hardly any more", "brake")


def _knobs(circuit: Circuit, trace: Trace) -> Iterable[Event]:
    for happening in trace.events:
        device = circuit.by_name.get(happening.device)
        if (device is not None and device.has(Trait.PARK_CONTROL) and happening.value == 0
                and device.kind.rest.get(happening.variable) == 1
                and happening.variable in device.kind.when.get("parked", {})):
            what = happening.variable.removesuffix("pushed").strip("-")
            yield Event(happening.time, device.name, "pops out" + (f", its {what} knob" if what else ""), "knob")


def _disagreements(study: Study, effect: Effect, trace: Trace, pedal: bool) -> Iterable[str]:
    """A reservoir below what the graph says it keeps, or at rest above nothing where the graph says that it empties."""
    shown = {tank.name: tank for tank in effect.tanks}
    slow, fed = is_slow(study.circuit, effect), bool(fed_heads(study.circuit, "supply"))
    if slow and pedal:
        return  # of a leak into what only the pedal fills the graph says no more than that it leaks
    for tank in study.circuit.reservoirs:
        if tank.settings["role"] == "regeneration":
            continue
        floor = shown[tank.name].braking if pedal else shown[tank.name].driving
        last, before = trace.last(tank.name), trace.pressure(tank.name, max(0.0, trace.end - 5.0))
        used = 0.15 * (shown[tank.name].full - ATMOSPHERE) if pedal else 0.0
        if last < floor - APART - used:
            yield f"{tank.name} falls to {last:.0f} Pa, the graph keeps {floor:.0f} Pa"
        elif not slow and not pedal and not fed and floor < ATMOSPHERE + 1e4 and last > ATMOSPHERE + 1e5 and before - last < 2e3:
            yield f"{tank.name} rests at {last:.0f} Pa, the graph empties it"
