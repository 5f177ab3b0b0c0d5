"""What is done to a finished vehicle step by step, played once: what a fitter's gauges read in each step of a record.

The steps are actions with times. Where a step lasts until the compressor stops, the times are such that it has stopped
in this circuit; a fitter waits for that instead. Times are s, pressures absolute Pa.
"""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.trace import Trace
from circuit.sim import Action, Engine, Options, Script, feed, simulate, stop_engine, uncouple
from circuit.studies.band import QUICK
from circuit.studies.hands import FOOT, CannotAsk, apply, fed_heads, let_go, park, parking, pedals, tail_heads, unpark
from circuit.studies.knobs import LONGEST
from circuit.studies.once import once
from circuit.units import ATMOSPHERE, shown

HOLD = 8.0
"""s after which a step of braking or parking is read; our choice, by then the air has come to rest."""
FILLS = 600.0
"""s given at first to whatever is filled; our choice."""
SETTLES = 10.0
"""s from the moment when the compressor stops until its step is read; our choice."""
PUMPED, EVERY, MOST_PUMPED = 6, 4.0, 60
"""How often the pedal goes down and up at first until the compressor pumps again, s from one to the next, and the most;
our choice."""
QUIET = 250.0
"""Pa by which a reservoir may still change in the last second before it counts as full; our choice."""
MOVES = 1e3
"""Pa by which a reading has to change in the last second to be told as moving; our choice."""
OPTIONS = Options(exponent=QUICK)
"""As the trials of a design are played."""
PARTED = 120.0
"""s after which what a parted line takes and leaves is read; our choice."""


class Step(NamedTuple):
    """One step. key: its word. done: what hands and feet do, in words. stands: how engine and hands stand meanwhile.
    begins, reads: s at which it begins and is read."""

    key: str
    done: str
    stands: str
    begins: float
    reads: float


class Played(NamedTuple):
    """The steps of a record and their one run. rests: whether the reservoirs were full and at rest before the brakes. times:
    of a vehicle with a compressor, what fits it."""

    circuit: Circuit
    steps: tuple[Step, ...]
    script: Script
    engine: Engine
    trace: Trace
    rests: bool
    times: "_Times | None" = None

    def before(self, step: Step, space: int) -> float:
        """What a space has as a step begins."""
        return self._level(space, step.begins)

    def after(self, step: Step, space: int) -> float:
        """What a space has when a step is read."""
        return self._level(space, step.reads)

    def moves(self, step: Step, space: int) -> bool:
        """Whether what is read of a space is still changing then."""
        return abs(self.after(step, space) - self._level(space, step.reads - 1.0)) > MOVES

    def springs(self, step: Step) -> tuple[str, ...]:
        """The chambers whose springs come on in a step."""
        return springs_on(self.circuit, self.trace, step.begins, step.reads)

    def _level(self, space: int, time: float) -> float:
        return ATMOSPHERE if space == SPACE_OUTSIDE else max(self.trace.pressure(space, time), ATMOSPHERE)


class _Times(NamedTuple):
    """s at which the filling from empty ends, how often the pedal is pumped, and s given to filling after that."""

    filled: float = FILLS
    pumped: int = PUMPED
    again: float = FILLS

    @property
    def up(self) -> float:
        """s at which the pedal has been pumped."""
        return self.filled + (self.pumped + 1) * EVERY

    @property
    def full(self) -> float:
        """s at which the reservoirs are full for the second time."""
        return self.up + self.again


@once
def played(circuit: Circuit) -> Played:
    """The steps of a circuit's record. Raises CannotAsk where nothing fills it or nothing here brakes."""
    return _towed(circuit) if circuit.is_towed else _powered(circuit)


def springs_on(circuit: Circuit, trace: Trace, begins: float, ends: float) -> tuple[str, ...]:
    """The chambers whose springs begin to come on between two times."""
    return tuple(spring.name for spring in circuit.having(Trait.SPRING_ACTUATOR)
                 if trace.pressure(space := circuit.spring_space(spring), begins) >= spring.settings["holds-off-at"]
                 and trace.lowest(space, begins, ends) < spring.settings["holds-off-at"])


def drawn_out(record: Played, factor: float) -> Played:
    """The steps of a record with more time to fill in, so that a vehicle that fills more slowly has filled too; its trace is
    that of the record."""
    circuit, times = record.circuit, record.times
    if times is None:
        return record
    longer = times._replace(filled=factor * times.filled, again=factor * times.again)
    script = Script(tuple(sorted(_driven(circuit, longer), key=lambda action: action.at)), states=record.script.states)
    return record._replace(steps=tuple(_powered_steps(circuit, longer)), script=script, times=longer)


# --- a vehicle with a compressor -------------------------------------------------------------------------------------


def _powered(circuit: Circuit) -> Played:
    if not circuit.having(Trait.COMPRESSES) or not circuit.having(Trait.GOVERNS):
        raise CannotAsk("there is no compressor with a governor here, so nothing says when the reservoirs are full")
    if not pedals(circuit):
        raise CannotAsk("nothing here applies the service brakes: there is no pedal")
    out = {(device.name, variable): parked for device, variable, parked, _ in parking(circuit)}
    engine, times, known = Engine(True), _Times(), False
    while True:
        steps = tuple(_powered_steps(circuit, times))
        script = Script(tuple(sorted(_driven(circuit, times), key=lambda action: action.at)), states=out)
        trace = simulate(circuit, script, steps[-1].reads, start="empty", engine=engine, options=OPTIONS)
        if known or max(times.filled, times.again, times.pumped / MOST_PUMPED * LONGEST) > LONGEST:
            return Played(circuit, steps, script, engine, trace, known and _rests(circuit, trace, steps[1:2]),
                          times)
        times, known = _better(trace, times)


def _better(trace: Trace, times: _Times) -> tuple[_Times, bool]:
    """Times that fit what a run with others has shown, and whether with them all is known."""
    switched = [event for event in trace.events if event.variable == "unloading" and event.time > 0.0]
    filled = next((event.time for event in switched if event.value), None)
    if filled is None or filled > times.filled:
        return times._replace(filled=2 * times.filled), False
    if filled + SETTLES < times.filled:
        return times._replace(filled=filled + SETTLES), False
    later = [event for event in switched if event.time > times.filled]
    if not any(not event.value and event.time < times.up for event in later):
        return times._replace(pumped=times.pumped + 2), False
    again = next((event.time for event in later if event.value and event.time > times.up), None)
    if again is not None:
        return times._replace(again=again + SETTLES - times.up), True
    stopped = [event for event in later if event.time < times.up][-1].value  # while the pedal was still pumped
    return (times._replace(pumped=times.pumped + 2) if stopped else times._replace(again=2 * times.again)), False


def _driven(circuit: Circuit, times: _Times) -> Iterator[Action]:
    yield from unpark(circuit, times.filled)
    for number in range(times.pumped):
        at = times.filled + (number + 1) * EVERY
        yield from (*apply(circuit, at, over=FOOT), *let_go(circuit, at + EVERY / 2, FOOT))
    yield stop_engine(times.full)
    yield from (*apply(circuit, times.full, over=FOOT), *let_go(circuit, times.full + HOLD, FOOT))
    yield from park(circuit, times.full + 2 * HOLD)


def _powered_steps(circuit: Circuit, times: _Times) -> Iterator[Step]:
    control = bool(parking(circuit))
    out, held_in = (", park control applied", ", park control released") if control else ("", "")
    yield Step("charge", "from empty until the compressor stops, pedal up", f"engine on{out}", 0.0, times.filled)
    yield Step("drive", ("park control released; " if control else "") + "pedal pumped until the compressor pumps again, "
               "then up until it stops", "engine on", times.filled, times.full)
    full = times.full
    yield Step("apply", f"pedal all the way down, read after {HOLD:g} s", f"engine off{held_in}", full, full + HOLD)
    yield Step("release", f"pedal up again, read after {HOLD:g} s", f"engine off{held_in}", full + HOLD, full + 2 * HOLD)
    if control:
        yield Step("park", f"park control applied, read after {HOLD:g} s", "engine off, pedal up", full + 2 * HOLD,
                   full + 3 * HOLD)


# --- a towed vehicle -------------------------------------------------------------------------------------------------


def _towed(circuit: Circuit) -> Played:
    heads, full = fed_heads(circuit, "supply"), full_pressure(circuit)
    if not heads:
        raise CannotAsk("there is no supply head here that a towing vehicle feeds")
    fills = FILLS
    while True:
        steps = tuple(_towed_steps(circuit, fills))
        actions = (*(feed(head.name, full, 0.0) for head in heads), *apply(circuit, fills, rig=full),
                   *let_go(circuit, fills + HOLD), *park(circuit, fills + 2 * HOLD))
        script = Script(actions, pressures={head.name: full for head in heads})
        trace = simulate(circuit, script, steps[-1].reads, start="empty", options=OPTIONS)
        rests = _rests(circuit, trace, steps[:1])
        if rests or fills >= LONGEST:
            return Played(circuit, steps, script, Engine(), trace, rests)
        fills *= 2


def _towed_steps(circuit: Circuit, fills: float) -> Iterator[Step]:
    fed = f"supply line held at {shown(full_pressure(circuit), 'pressure')}"
    yield Step("charge", "from empty through the supply line until nothing moves", f"{fed}, control line without air", 0.0,
               fills)
    yield Step("apply", f"control line fed with as much, read after {HOLD:g} s", fed, fills, fills + HOLD)
    yield Step("release", f"control line let out, read after {HOLD:g} s", fed, fills + HOLD, fills + 2 * HOLD)
    parks = ", park control applied" if parking(circuit) else ""
    yield Step("park", f"supply line let out{parks}, read after {HOLD:g} s", "control line without air", fills + 2 * HOLD,
               fills + 3 * HOLD)


def _rests(circuit: Circuit, trace: Trace, steps: tuple[Step, ...]) -> bool:
    """Whether no reservoir changes any more at the end of some steps."""
    spaces = [circuit.store(tank) for tank in circuit.reservoirs_for("supply", "service", "parking")]
    return all(abs(trace.pressure(space, step.reads) - trace.pressure(space, step.reads - 1.0)) < QUIET
               for step in steps for space in spaces)


# --- a line parts ----------------------------------------------------------------------------------------------------


@once
def parted(circuit: Circuit) -> tuple[Played, ...]:
    """The supply line parted at each coupling by itself, the engine off, from what the reservoirs have when all is full."""
    base = played(circuit)
    full = next(step for step in reversed(base.steps) if step.key in ("charge", "drive"))
    heads = fed_heads(circuit, "supply") or tail_heads(circuit, "supply") or tuple(
        circuit.by_name[coupling.ends[0]] for coupling in circuit.couplings
        if circuit.by_name[coupling.ends[0]].settings["line"] == "supply")
    tanks = {tank.name: base.after(full, circuit.store(tank)) for tank in circuit.reservoirs}
    fed = {head.name: full_pressure(circuit) for head in fed_heads(circuit, "supply")}
    found = []
    for head in heads:
        script = Script((uncouple(head.name, 0.0),), pressures={**tanks, **fed})
        trace = simulate(circuit, script, PARTED, options=OPTIONS)
        step = Step("separation", f"supply line parted at {head.name}, read after {PARTED:g} s",
                    "driving, pedal up" + (", engine off" if circuit.having(Trait.COMPRESSES) else ""), 0.0, PARTED)
        found.append(Played(circuit, (step,), script, Engine(), trace, trace.complete))
    return tuple(found)
