"""Runs the trials of a design and holds what happens to what they expect.

`at` is on the trial's clock. `within` counts from the action written above the expectation; `until` means at every
moment from that action to that time on the trial's clock, or from the end of a `within` that is written between the two
for the same place; with neither, the pressure at the end of the trial counts.
"""

from collections.abc import Callable
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit, Device
from circuit.model.places import NoSuchPlace, device_named, port_named, space_named
from circuit.model.trial_steps import Step, Trial
from circuit.model.trace import Trace
from circuit.sim import (
    Action,
    Engine,
    Options,
    Script,
    burst,
    feed,
    leak,
    move,
    open_up,
    press,
    pull,
    push,
    release,
    shut,
    uncouple,
)
from circuit.source import Span
from circuit.studies.band import QUICK, thrice
from circuit.studies.hands import fed_heads, share_for
from circuit.studies.once import once

QUIET = 10.0
"""s that a trial goes on after its last moment, where nothing asks for more."""
SHORT = 30.0
"""s up to which a trial is one of applications, with too little time for heat to pass."""
WIDE = 0.025
"""m of the hole where a reservoir bursts that no line is joined to; our choice."""
ON, OFF = ("on", "in", "pushed", "released", "open", "yes"), ("off", "out", "pulled", "applied", "shut", "no")


class Outcome(NamedTuple):
    """What came of one expectation at one place.

    met: None when it could not be found out, and `why` says so. value: absolute Pa that decided it, or None. time: s
    from the action above, when it came true, or first failed for `until`; None if never. limit: the pressure asked
    for. within: s, the time asked for; 0 where there is none. kind: `within`, `until`, `end`.
    """

    step: Step
    place: str
    kind: str
    met: bool | None
    at_least: bool = True
    value: float | None = None
    time: float | None = None
    limit: float | None = None
    within: float = 0.0
    state: str = ""
    why: str = ""
    hangs: bool = False

    @property
    def margin(self) -> float | None:
        """Beyond the limit: s for `within`, Pa otherwise; negative when it is missed."""
        if self.kind == "within":
            return None if self.time is None else self.within - self.time
        if self.value is None or self.limit is None:
            return None
        return self.value - self.limit if self.at_least else self.limit - self.value


class Tried(NamedTuple):
    """One trial. trace: None when it could not be run, and `why` says so with the `span` it is about."""

    trial: Trial
    trace: Trace | None
    outcomes: tuple[Outcome, ...]
    why: str = ""
    span: Span | None = None

    @property
    def ran(self) -> bool:
        return self.trace is not None

    @property
    def is_met(self) -> bool:
        return self.trace is not None and all(outcome.met is True for outcome in self.outcomes)


class CannotDo(ValueError):
    """A step of a trial that cannot be done to this circuit."""


@once
def run_trials(circuit: Circuit, options: Options | None = None) -> tuple[Tried, ...]:
    """Every trial of a design, in its order. options: None takes what suits how long each trial is."""
    return tuple(run_trial(circuit, trial, options) for trial in circuit.trials)


def run_trial(circuit: Circuit, trial: Trial, options: Options | None = None) -> Tried:
    """One trial played and judged."""
    reader = _Reader(circuit)
    for step in trial.steps:
        try:
            reader.take(step)
        except (NoSuchPlace, CannotDo) as trouble:
            return Tried(trial, None, (), str(trouble), step.span)
    if reader.end <= 0.0:
        return Tried(trial, None, (), "nothing is done or expected in it: write `press` or `expect`", trial.span)
    if options is None:
        options = Options(exponent=QUICK if reader.end <= SHORT else 1.0)
    try:
        runs = thrice(circuit, reader.script(), reader.end, engine=reader.engine, options=options)
    except NoSuchPlace as trouble:
        return Tried(trial, None, (), str(trouble), trial.span)
    outcomes = []
    for step, since in reader.expected:
        for name in step.names:
            own, *ends = (_judge(circuit, trace, step, name, since, reader.settled.get((name, since), since))
                          for trace in runs)
            outcomes.append(own._replace(hangs=own.met is not None and any(end.met is not own.met for end in ends)))
    return Tried(trial, runs[0], tuple(outcomes))


class _Reader:
    """Gathers a trial's steps as a script.

    expected: expectations with the time of the action above them. settled: place and that time to when a `within` for
    that place is over.
    """

    def __init__(self, circuit: Circuit):
        self.circuit = circuit
        self.actions: list[Action] = []
        self.pressures: dict[str, float] = {}
        self.states: dict[tuple[str, str], float] = {}
        self.situation = "driving"
        self.engine = Engine()
        self.now = 0.0
        self.end = 0.0
        self.expected: list[tuple[Step, float]] = []
        self.settled: dict[tuple[str, float], float] = {}

    def script(self) -> Script:
        return Script(tuple(self.actions), self.situation, self.pressures, self.states)

    def take(self, step: Step) -> None:
        if step.action == "expect":
            within, until = step.settings["within"], step.settings["until"]
            self.end = max(self.end, self.now + 3 * within + 0.5 if within else 0.0, until or 0.0)
            if not within and not until:
                self.end = max(self.end, self.now + QUIET)
            for name in step.names if within else ():
                self.settled[name, self.now] = max(self.settled.get((name, self.now), 0.0), self.now + within)
            self.expected.append((step, self.now))
            return
        at = step.settings.get("at")
        if step.action != "start":
            self.now = self.now if at is None else at
            self.end = max(self.end, self.now + 1.0)
        for name in step.names:
            if step.action == "start":
                self._start(step, name)
            else:
                self.actions += self._act(step, name)

    def _start(self, step: Step, name: str) -> None:
        pressure, state = step.settings["pressure"], (step.settings["state"] or "").strip().lower()
        if name == "engine":
            self.engine = Engine(_is_on(state))
        elif name == "reservoirs":
            if pressure is None:
                raise CannotDo("the reservoirs need a pressure to start with")
            self.pressures["reservoirs"] = pressure
        elif name == "springs":
            self.situation = "parked" if state in ("applied", "on") else "driving"
        else:
            if pressure is not None:
                space_named(self.circuit, name)
                self.pressures[name] = pressure
            if state:
                self._stand(name, state)

    def _stand(self, name: str, state: str) -> None:
        device = device_named(self.circuit, name)
        if device.has(Trait.SHUTS_BY_HAND) or device.has(Trait.DRAINS_WATER):
            self.actions.append(open_up(name, 0.0) if state == "open" else shut(name, 0.0))
            return
        values = values_of(device, state)
        parked = device.kind.when.get("parked", {})
        if device.has(Trait.PARK_CONTROL) and parked and values == {k: parked[k] for k in values}:
            self.situation = "parked"
        for variable, value in values.items():
            self.states[device.name, variable] = value

    def _act(self, step: Step, name: str) -> list[Action]:
        do, at, settings = step.action, self.now, step.settings
        if name in ("engine", "reservoirs", "springs"):
            if do == "set" and name == "engine":
                return [Action("engine", "", at, to=1.0 if _is_on((settings["state"] or "").lower()) else 0.0)]
            raise CannotDo(f"`{name}` stands for no single part: a trial can only start it")
        if do == "press":
            return [press(name, _share(device_named(self.circuit, name), settings["to"]), at)]
        if do == "feed":
            kind, value = settings["to"] or ("", 0.0)
            if kind != "pressure":
                raise CannotDo(f"`feed {name}` needs a pressure: write to 100 psi")
            return [feed(name, value, at)]
        if do == "leak":
            if settings["hole"] is None:
                raise CannotDo(f"`leak {name}` needs the hole's diameter: write hole 2 mm")
            return [leak(name, settings["hole"], at)]
        if do == "burst":
            return self._burst(name, at)
        if do == "set":
            device = device_named(self.circuit, name)
            state = (settings["state"] or "").strip().lower()
            return [move(device.name, variable, value, at) for variable, value in values_of(device, state).items()]
        simple: dict[str, Callable[[str, float], Action]] = {
            "release": release, "push": push, "pull": pull, "open": open_up, "shut": shut, "uncouple": uncouple}
        return [simple[do](name, at)]

    def _burst(self, name: str, at: float) -> list[Action]:
        """A line tears in the middle; a head loses its hose; any other thing opens as wide as the widest line on it."""
        device, port = port_named(self.circuit, name) if not _is_line(self.circuit, name) else (None, None)
        if device is None or port is None:
            return [burst(name, at)]
        if device in fed_heads(self.circuit, "supply") + fed_heads(self.circuit, "control"):
            return [uncouple(name, at)]
        space = self.circuit.space[device.name, port.number]
        bores = [self.circuit.by_name[key[0]].settings["bore"] for key in self.circuit.ports_of[space]
                 if self.circuit.by_name[key[0]].settings.get("bore")]
        return [leak(name, max(bores, default=WIDE), at)]


def _is_line(circuit: Circuit, name: str) -> bool:
    try:
        return device_named(circuit, name).is_line
    except NoSuchPlace:
        return False


def _is_on(state: str) -> bool:
    return state in ("on", "running", "turning", "idling")


def _share(device: Device, to: tuple[str, float] | None) -> float:
    if to is None:
        return 1.0
    kind, value = to
    if kind == "fraction":
        return value
    if device.settings.get("full-delivery") is None:
        raise CannotDo(f"{device.title} does not say what it asks for at full stroke: press it by a share, to 50 %")
    return share_for(device, value)


def values_of(device: Device, state: str) -> dict[str, float]:
    """A state as a person says it (pushed, pulled, released, on, off, trailer-pushed, 50 %) as state variables.

    Raises CannotDo for a word that says nothing of this part.
    """
    kind = device.kind
    known = {**kind.rest, **{n: 0.0 for values in kind.when.values() for n in values}}
    if state in kind.positions:
        return dict(kind.positions[state])
    if state in known:
        return {state: 1.0}
    if state.startswith("not ") and state[4:] in known:
        return {state[4:]: 0.0}
    parked = kind.when.get("parked")
    if parked and state in ("pushed", "in", "released"):
        return {name: float(kind.rest[name]) for name in parked}
    if parked and state in ("pulled", "out", "applied"):
        return dict(parked)
    if state.endswith("%") and known:
        try:
            return {next(iter(known)): float(state[:-1]) / 100}
        except ValueError:
            pass
    if known and not kind.positions and state in ON + OFF:
        return {next(iter(known)): float(state in ON)}
    if known and not kind.positions and state in ("empty", "laden"):
        return {next(iter(known)): float(state == "laden")}
    words = ", ".join(kind.positions or known) or "nothing that moves"
    raise CannotDo(f"`{state}` says nothing of {device.title}: it has {words}")


# --- holding it to what was expected --------------------------------------------------------------------------------


def _judge(circuit: Circuit, trace: Trace, step: Step, name: str, since: float, settled: float) -> Outcome:
    settings = step.settings
    within, until = settings["within"], settings["until"]
    kind = "within" if within else "until" if until else "end"
    since = min(settled, until) if kind == "until" else since
    if trace.end + 1e-9 < (since + within if within else until or 0.0):
        return Outcome(step, name, kind, None, why=trace.notes[-1] if trace.notes else "the run stopped before its end")
    try:
        if settings["pressure"] is not None:
            bound, limit = settings["pressure"]
            return _pressure(trace, step, name, since, kind, bound == "least", limit)
        place, limit, rising = _switch(circuit, name, (settings["state"] or "").strip().lower())
        if place is not None:
            found = _pressure(trace, step, place, since, kind, rising, limit)
            return found._replace(place=name, state=settings["state"])
        return _state(circuit, trace, step, name, since, kind)
    except (NoSuchPlace, CannotDo, KeyError) as trouble:
        return Outcome(step, name, kind, None, why=str(trouble).strip("'"))


def _pressure(trace: Trace, step: Step, place: str, since: float, kind: str, at_least: bool, limit: float) -> Outcome:
    within, until = step.settings["within"] or 0.0, step.settings["until"]
    if kind == "within":
        when = trace.first_time(place, limit, at_least, since)
        best = trace.highest(place, since, since + within) if at_least else trace.lowest(place, since, since + within)
        time = None if when is None else when - since
        return Outcome(step, place, kind, time is not None and time <= within, at_least, best, time, limit, within)
    if kind == "until":
        worst = trace.lowest(place, since, until) if at_least else trace.highest(place, since, until)
        failed = trace.first_time(place, limit, not at_least, since)
        met = worst >= limit if at_least else worst <= limit
        time = None if met or failed is None else failed - since
        return Outcome(step, place, kind, met, at_least, worst, time, limit)
    last = trace.last(place)
    return Outcome(step, place, kind, last >= limit if at_least else last <= limit, at_least, last, None, limit)


def _switch(circuit: Circuit, name: str, state: str) -> tuple[str | None, float, bool]:
    """Where a pressure switch looks, at what, and whether the state asked for is above it; None for other parts."""
    device = device_named(circuit, name)
    if state not in ("on", "off"):
        return None, 0.0, True
    place = f"{device.name}.{device.kind.ports[0].number}"
    if device.has(Trait.WARNS_LOW):
        return place, device.settings["on-below"], state == "off"
    if device.has(Trait.LIGHTS_STOP_LAMP):
        return place, device.settings["on-above"], state == "on"
    return None, 0.0, True


def _state(circuit: Circuit, trace: Trace, step: Step, name: str, since: float, kind: str) -> Outcome:
    device = device_named(circuit, name)
    asked = step.settings["state"].strip().lower()
    values = values_of(device, asked)
    moments = sorted({since, *(t for variable in values for t, _ in trace.states.get((device.name, variable), ())
                               if t >= since)})

    def holds(time: float) -> bool:
        return all(abs(trace.state(device.name, variable, time) - value) < 0.5 for variable, value in values.items())

    within, until = step.settings["within"] or 0.0, step.settings["until"]
    if kind == "within":
        when = next((t for t in moments if holds(t)), None)
        time = None if when is None else when - since
        return Outcome(step, name, kind, time is not None and time <= within, time=time, within=within, state=asked)
    if kind == "until":
        failed = next((t for t in moments if t <= until and not holds(t)), None)
        return Outcome(step, name, kind, failed is None, time=None if failed is None else failed - since, state=asked)
    return Outcome(step, name, kind, holds(trace.end), state=asked)
