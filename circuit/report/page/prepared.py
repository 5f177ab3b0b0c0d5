"""What is prepared to be played on the board: a start, and hands that are moved when their time has come.

Nothing of it is simulated beforehand: a button on the page moves the same hands that a person moves.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.places import NoSuchPlace
from circuit.model.trial_steps import Trial
from circuit.sim import Action, Script, push, start_engine
from circuit.studies import hands
from circuit.studies.scenes import brake_words, park, parking_words
from circuit.studies.trial_reader import CannotDo, reader_of
from circuit.units import ATMOSPHERE

HARD, PART = ATMOSPHERE + 6.9e5, ATMOSPHERE + 2.0e5
"""Absolute Pa asked of the service brakes: all of it, and a part; our choice."""


class Deed(NamedTuple):
    """Done `after` s from the deed before, or at the first moment from then on at which `when` (device, variable, value)
    holds; left out where `unless` holds. says: in words. failures: put in then."""

    after: float
    says: str
    actions: tuple[Action, ...] = ()
    when: tuple[str, str, float] | None = None
    unless: tuple[str, str, float] | None = None


class Prepared(NamedTuple):
    """level: which starting pressure, 0 the least and -1 as charged; script: a start of its own instead. starts: how a
    trial writes that. lasts: s after the last deed. pace: times as fast as the clock."""

    key: str
    group: str
    title: str
    says: str
    deeds: tuple[Deed, ...]
    level: int = -1
    situation: str = "driving"
    script: Script | None = None
    engine: bool = False
    starts: tuple[str, ...] = ()
    lasts: float = 5.0
    pace: float = 1.0


def prepared(circuit: Circuit) -> list[Prepared]:
    """Everything that is prepared for a circuit."""
    return [*_applications(circuit), *_parking(circuit), *_charging(circuit), *_trials(circuit)]


def _applications(circuit: Circuit) -> Iterator[Prepared]:
    try:
        full, part = hands.apply(circuit, 0.0, rig=HARD), hands.apply(circuit, 0.0, PART)
        off = hands.let_go(circuit, 0.0)
    except hands.CannotAsk:
        return
    on, up = brake_words(circuit)
    yield Prepared("apply", "play", "One full application", f"{on} after 1 s, {up} 3 s later",
                   (Deed(1.0, on, full), Deed(3.0, up, off)))
    yield Prepared("part", "play", "One part application", f"{on} for 2 bar after 1 s, {up} 3 s later",
                   (Deed(1.0, f"{on} for 2 bar", part), Deed(3.0, up, off)))
    yield Prepared("reserve", "play", "Five applications, nothing pumps", "each 1 s down and 1 s up",
                   tuple(each for _ in range(5) for each in (Deed(1.0, on, full), Deed(1.0, up, off))))


def _parking(circuit: Circuit) -> Iterator[Prepared]:
    actions = park(circuit, 0.0)
    if not actions or not circuit.having(Trait.SPRING_ACTUATOR):
        return
    words = parking_words(circuit)
    back = tuple(push(action.place, 0.0) for action in actions if action.what == "pull")
    yield Prepared("park", "play", "Park" + (" and release" if back else ""), words,
                   (Deed(1.0, words, actions), *([Deed(6.0, "park control pushed in", back)] if back else [])))


def _charging(circuit: Circuit) -> Iterator[Prepared]:
    """From empty to cut-out, and by applications down to cut-in."""
    governs = next(iter(circuit.having(Trait.GOVERNS)), None)
    latch = governs and next((latch.variable for latch in governs.kind.latches if latch.sets is not None), None)
    if governs is None or latch is None or not circuit.having(Trait.COMPRESSES):
        return
    out, back = (governs.name, latch, 1.0), (governs.name, latch, 0.0)
    released = hands.unpark(circuit, 0.0)
    deeds = [Deed(0.0, "engine started", (start_engine(0.0),)), Deed(1.0, "cut-out", when=out)]
    if released:
        deeds += [Deed(1.0, "park control pushed in", released), Deed(1.0, "cut-out again", when=out)]
    try:
        on, up = brake_words(circuit)
        for _ in range(30):
            deeds += [Deed(1.5, on, hands.apply(circuit, 0.0, rig=HARD), unless=back),
                      Deed(1.5, up, hands.let_go(circuit, 0.0), unless=back)]
        deeds.append(Deed(0.1, up, hands.let_go(circuit, 0.0)))
    except hands.CannotAsk:
        pass
    deeds.append(Deed(0.1, "cut-in", when=back))
    yield Prepared("charge", "play", "Charge: cut-out, then cut-in", "from empty, parked, the engine on; then applications "
                   "until the governor cuts in", tuple(deeds), level=0, situation="parked", lasts=20.0, pace=20.0)


def _trials(circuit: Circuit) -> Iterator[Prepared]:
    for trial in circuit.trials:
        try:
            reader = reader_of(circuit, trial)
        except (NoSuchPlace, CannotDo):
            continue
        deeds, now = [], 0.0
        for action in sorted(reader.actions, key=lambda each: each.at):
            deeds.append(Deed(action.at - now, f"{action.what.replace('-', ' ')} {action.place}".strip(), (action,)))
            now = action.at
        yield Prepared(f"trial-{trial.name}", "trial", trial.name, "a trial of the design; its expectations stand below",
                       tuple(deeds), script=replace(reader.script(), actions=()), engine=reader.engine.running,
                       starts=tuple(_starts(trial)), lasts=max(1.0, reader.end - now), pace=1.0)


def _starts(trial: Trial) -> Iterator[str]:
    for step in trial.steps:
        if step.action == "start":
            settings = [f"pressure {(step.settings['pressure'] - ATMOSPHERE) / 1e5:.5f} bar"] if step.settings["pressure"] else []
            settings += [f"state {step.settings['state']}"] if step.settings["state"] else []
            yield f"start {' and '.join(step.names)}: {', '.join(settings)}"


def actions_of(found: list[Prepared]) -> list[Action]:
    """Every action in the order of deeds."""
    return [action for each in found for deed in each.deeds for action in deed.actions]


def as_data(found: list[Prepared], deeds: tuple[Any, ...], inputs: dict[tuple[str, str], int]) -> Iterator[dict[str, Any]]:
    """For the page. deeds: what each action does, in order."""
    place = 0

    def asked(state: tuple[str, str, float] | None) -> list[float] | None:
        return None if state is None else [inputs[state[0], state[1]], state[2]]

    for each in found:
        rows = []
        for deed in each.deeds:
            moves = [move for number in range(place, place + len(deed.actions)) for move in deeds[number]]
            place += len(deed.actions)
            rows.append([deed.after, deed.says, moves, [written(action) for action in deed.actions], asked(deed.when),
                         asked(deed.unless)])
        yield {"key": each.key, "group": each.group, "title": each.title, "says": each.says, "deeds": rows,
               "level": each.level, "situation": each.situation, "engine": each.engine, "starts": each.starts,
               "lasts": each.lasts, "pace": each.pace}


def written(action: Action) -> str:
    """An action as a row of a trial writes it, without its time; empty for one that a trial cannot do."""
    bar = f"{(action.to - ATMOSPHERE) / 1e5:.5f} bar"
    words = {"press": f"press {action.place}: to {100 * action.to:.6g} %", "feed": f"feed {action.place}: to {bar}",
             "engine": f"set engine: state {'on' if action.to else 'off'}",
             "leak": f"leak {action.place}: hole {1e3 * action.size:.6g} mm"}
    if action.what == "move":
        state = action.variable if action.to == 1.0 else f"not {action.variable}"
        return f"press {action.place}: to {100 * action.to:.6g} %" if action.over else f"set {action.place}: state {state}"
    return words.get(action.what, f"{action.what} {action.place}")
