"""What is worth watching of a circuit without a fault: application and release, parking, charging, applications, trials.

A scene is a simulation with the moments at which something is done. Where none can be run there is nothing to play.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Action, Script, pull, push, simulate, uncouple
from circuit.studies import hands
from circuit.studies.charge import charge
from circuit.studies.knobs import named
from circuit.studies.reserve import HALF_TURN, reserve
from circuit.studies.trials import Tried, run_trials
from circuit.units import ATMOSPHERE, to_si

FULL = to_si("100 psi", "pressure")
_SHOWN = 5


class Scene(NamedTuple):
    """A simulation to be played.

    group: `play` or `trial`. says: sentences. done: what hands, feet and rigs do, (s, words). engine: whether it runs.
    even: whether time passes at one pace. until: s, less than the whole run where the rest is still. run: of a trial.
    """

    key: str
    group: str
    title: str
    says: tuple[str, ...]
    trace: Trace
    done: tuple[tuple[float, str], ...] = ()
    engine: bool = False
    even: bool = False
    until: float | None = None
    run: Tried | None = None


def scenes(circuit: Circuit) -> list[Scene]:
    """Everything that can be played of a sound circuit."""
    makers: tuple[Callable[[Circuit], Iterable[Scene]], ...] = (_application, _parking, _charging, _reserve, _trials)
    return [scene for maker in makers for scene in maker(circuit) if is_sound(scene.trace)]


def is_sound(trace: Trace) -> bool:
    """Whether there is something to play: more than one moment, and numbers at each."""
    import numpy

    return len(trace.times) > 1 and bool(numpy.isfinite(numpy.asarray(trace.pressures)).all())


def park(circuit: Circuit, at: float) -> tuple[Action, ...]:
    """Every park control out; on a towed vehicle the supply line parts."""
    knobs = [device for device in circuit.having(Trait.PARK_CONTROL) if device.kind.when.get("parked")]
    if knobs:
        return tuple(pull(device.name, at) for device in knobs)
    return tuple(uncouple(head.name, at) for head in hands.fed_heads(circuit, "supply"))


def parking_words(circuit: Circuit) -> str:
    """What `park` does, in words."""
    knobs = any(device.kind.when.get("parked") for device in circuit.having(Trait.PARK_CONTROL))
    return "park control pulled" if knobs else "supply line off"


def brake_words(circuit: Circuit) -> tuple[str, str]:
    """What puts the service brakes on and lets them go, in words."""
    return ("pedal down", "pedal up") if hands.pedals(circuit) else ("control line fed", "control line emptied")


def _standing_words(circuit: Circuit) -> str:
    return "compressor at rest" if circuit.having(Trait.COMPRESSES) else "supply line fed"


def _application(circuit: Circuit) -> Iterator[Scene]:
    try:
        script = hands.standing(circuit, FULL, *hands.apply(circuit, 0.5, rig=FULL), *hands.let_go(circuit, 3.0))
    except hands.CannotAsk:
        return
    on, off = brake_words(circuit)
    yield Scene("apply", "play", "Apply and release",
                (f"From 100 psi (6.9 bar), {_standing_words(circuit)}: {on} at 0.5 s, {off} at 3 s.",),
                simulate(circuit, script, 6.0), ((0.5, on), (3.0, off)), even=True)


def _parking(circuit: Circuit) -> Iterator[Scene]:
    actions = park(circuit, 0.5)
    if not actions or not circuit.having(Trait.SPRING_ACTUATOR):
        return
    words = parking_words(circuit)
    done, says = [(0.5, words)], f"From 100 psi (6.9 bar), {_standing_words(circuit)}: {words} at 0.5 s"
    knobs = tuple(push(action.place, 6.0) for action in actions if action.what == "pull")
    if knobs:
        done.append((6.0, "park control pushed"))
        says += ", pushed in again at 6 s"
    yield Scene("park", "play", "Park and release" if knobs else "Uncouple", (says + ".",),
                simulate(circuit, hands.standing(circuit, FULL, *actions, *knobs), 12.0), tuple(done), even=True)


def _charging(circuit: Circuit) -> Iterator[Scene]:
    tanks = [circuit.store(tank) for tank in circuit.reservoirs]
    engine = bool(circuit.having(Trait.COMPRESSES))
    done: list[tuple[float, str]] = []
    if engine:
        says = "From empty, the compressor turning."
        try:
            filling = charge(circuit)
        except hands.CannotAsk:
            return
        trace = filling.trace
        done += [(pushed.time, f"{named(circuit, pushed)} pushed in") for pushed in filling.pushed]
    else:
        heads = hands.fed_heads(circuit, "supply")
        if not tanks or not heads:
            return
        says = "From empty, the supply line fed with 100 psi (6.9 bar)."
        trace = simulate(circuit, Script(pressures={head.name: FULL for head in heads}), 600.0, start="empty")
    ready = [trace.first_time(tank, ATMOSPHERE + 0.97 * (trace.highest(tank) - ATMOSPHERE)) for tank in tanks
             if trace.highest(tank) > ATMOSPHERE + 1e5]
    if ready:
        until = min(trace.end, 1.15 * max(time or 0.0 for time in ready) + 2.0)
        yield Scene("charge", "play", "Charge", (says,), trace, tuple(done), engine, even=True, until=until)


def _reserve(circuit: Circuit) -> Iterator[Scene]:
    try:
        trace = reserve(circuit).trace
    except hands.CannotAsk:
        return
    halves = [(2 * HALF_TURN * number, HALF_TURN) for number in range(_SHOWN)]
    on, off = brake_words(circuit)
    done = [each for at, held in halves for each in ((at, on), (at + held, off))]
    supply = "engine off" if circuit.having(Trait.COMPRESSES) else "supply stopped"
    yield Scene("reserve", "play", f"Applications, {supply}",
                (f"{_SHOWN} full applications of {HALF_TURN:g} s each, full at the start, {supply}.",),
                trace, tuple(done), even=True, until=2 * HALF_TURN * _SHOWN)


def _trials(circuit: Circuit) -> Iterator[Scene]:
    for run in run_trials(circuit):
        if run.trace is None:
            continue
        met = "met" if run.is_met else "not met"
        running = any(step.action == "start" and "engine" in step.names and
                      step.settings["state"] in ("on", "running", "turning", "idling") for step in run.trial.steps)
        done = tuple(_done(run))
        yield Scene(f"trial-{run.trial.name}", "trial", f"{run.trial.name}: {met}", (), run.trace, done, running,
                    run=run)


def _done(run: Tried) -> Iterator[tuple[float, str]]:
    now = 0.0
    for step in run.trial.steps:
        at = step.settings.get("at")
        if step.action in ("start", "expect"):
            continue
        now = now if at is None else at
        yield now, f"{step.action} {', '.join(step.names)}"
