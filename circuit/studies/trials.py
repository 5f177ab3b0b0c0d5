"""Runs the trials of a design and holds what happens to what they expect.

`at` is on the trial's clock. `within` counts from the action written above the expectation; `until` means at every
moment from that action to that time on the trial's clock, or from the end of a `within` that is written between the two
for the same place; with neither, the pressure at the end of the trial counts.
"""

from dataclasses import replace
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.places import NoSuchPlace, device_named
from circuit.model.trial_steps import Step, Trial
from circuit.model.trace import Trace
from circuit.sim import Options, Session
from circuit.sim.script import BOARD
from circuit.source import Span
from circuit.studies.band import QUICK, SPREAD, thrice
from circuit.studies.once import once
from circuit.studies.trial_reader import CannotDo, Reader, values_of

SHORT = 30.0
"""s up to which a trial is one of applications, with too little time for heat to pass."""


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


@once
def run_trials(circuit: Circuit, options: Options | None = None) -> tuple[Tried, ...]:
    """Every trial of a design, in its order. options: None takes what suits how long each trial is."""
    return tuple(run_trial(circuit, trial, options) for trial in circuit.trials)


def run_trial(circuit: Circuit, trial: Trial, options: Options | None = None) -> Tried:
    """One trial played and judged."""
    reader = Reader(circuit)
    for step in trial.steps:
        try:
            reader.take(step)
        except (NoSuchPlace, CannotDo) as trouble:
            return Tried(trial, None, (), str(trouble), step.span)
    if reader.end <= 0.0:
        return Tried(trial, None, (), "nothing is done or expected in it: write `press` or `expect`", trial.span)
    if options is None:
        options = Options(exponent=reader.exponent or (QUICK if reader.end <= SHORT else 1.0),
                          tolerance=BOARD.tolerance if reader.exponent else Options.tolerance)
    try:
        runs = _played(circuit, reader, options)
    except NoSuchPlace as trouble:
        return Tried(trial, None, (), str(trouble), trial.span)
    outcomes = []
    for step, since in reader.expected:
        for name in step.names:
            own, *ends = (_judge(circuit, trace, step, name, since, reader.settled.get((name, since), since))
                          for trace in runs)
            outcomes.append(own._replace(hangs=own.met is not None and any(end.met is not own.met for end in ends)))
    return Tried(trial, runs[0], tuple(outcomes))


def _played(circuit: Circuit, reader: Reader, options: Options) -> tuple[Trace, Trace, Trace]:
    """As assumed, with less flow and with more; what fails meanwhile is played by a session."""
    if not reader.deeds:
        return thrice(circuit, reader.script(), reader.end, engine=reader.engine, options=options)
    runs = []
    for flow in (1.0, 1 - SPREAD, 1 + SPREAD):
        board = Session(circuit, reader.script(), engine=reader.engine, options=replace(options, flow=flow))
        for at, deed in reader.deeds:
            board.at(at, deed)
        runs.append(board.run(reader.end))
    middle, less, more = runs
    return middle, less, more


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
