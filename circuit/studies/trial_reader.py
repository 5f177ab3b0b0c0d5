"""A trial's steps read as a script: how it starts, what hands do, and what fails, is mended or turned meanwhile."""

from collections.abc import Callable
from typing import Any

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.forms import TRIAL_WORDS
from circuit.model.places import NoSuchPlace, device_named, port_named, space_named
from circuit.model.trial_steps import Step, Trial
from circuit.sim import (
    Action, Engine, Script, Session, burst, couple, feed, leak, move, open_up, press, pull, push, release, set_engine, shut,
    uncouple,
)
from circuit.sim.script import Variant
from circuit.sim.variants import failure_of, with_settings
from circuit.studies.band import QUICK
from circuit.studies.hands import fed_heads, share_for

QUIET = 10.0
"""s that a trial goes on after its last moment, where nothing asks for more."""
WIDE = 0.025
"""m of the hole where a reservoir bursts that no line is joined to; our choice."""
ON, OFF = ("on", "in", "pushed", "released", "open", "yes"), ("off", "out", "pulled", "applied", "shut", "no")


class CannotDo(ValueError):
    """A step of a trial that cannot be done to this circuit."""


def reader_of(circuit: Circuit, trial: Trial) -> "Reader":
    """A trial's steps as a script. Raises NoSuchPlace and CannotDo."""
    reader = Reader(circuit)
    for step in trial.steps:
        reader.take(step)
    return reader


class Reader:
    """Gathers a trial's steps as a script.

    expected: expectations with the time of the action above them. settled: place and that time to when a `within` for
    that place is over. deeds: what fails, is mended or turned, and when, s. exponent: of changes, 0 where nothing says.
    """

    def __init__(self, circuit: Circuit):
        self.circuit = circuit
        self.actions: list[Action] = []
        self.pressures: dict[str, float] = {}
        self.states: dict[tuple[str, str], float] = {}
        self.situation = "driving"
        self.engine = Engine()
        self.exponent = 0.0
        self.turned: dict[tuple[str, str], object] = {}
        self.deeds: list[tuple[float, Callable[[Session], None]]] = []
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
        elif name == "heat":
            if state not in ("passes", "kept"):
                raise CannotDo("heat `passes`, as in a slow filling, or is `kept`, as in an application")
            self.exponent = 1.0 if state == "passes" else QUICK
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
        if name in TRIAL_WORDS and (name == "engine" or name not in self.circuit.by_name):
            if do == "set" and name == "engine":
                return [set_engine(_engine_share((settings["state"] or "").lower()), at)]
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
        if do == "stop":
            return [leak(name, 0.0, at)]
        if do == "burst":
            return self._burst(name, at)
        if do in ("fail", "mend", "turn"):
            self.deeds.append((at, self._deed(do, name, settings)))
            return []
        if do == "set":
            device = device_named(self.circuit, name)
            state = (settings["state"] or "").strip().lower()
            return [move(device.name, variable, value, at) for variable, value in values_of(device, state).items()]
        simple: dict[str, Callable[[str, float], Action]] = {
            "release": release, "push": push, "pull": pull, "open": open_up, "shut": shut, "uncouple": uncouple,
            "couple": couple}
        return [simple[do](name, at)]

    def _deed(self, do: str, name: str, settings: dict[str, Any]) -> "Callable[[Session], None]":
        """What is done to a session; what cannot be is refused now."""
        device = device_named(self.circuit, name)
        if do == "turn":
            kind, value = settings["to"] or ("", 0.0)
            if kind != "pressure":
                raise CannotDo(f"`turn {name}` needs a pressure: write to 8 bar")
            setting = settings["setting"].strip()
            self.turned[device.name, setting] = value
            with_settings(self.circuit, Variant(settings=self.turned))
            return lambda board: board.turn(device.name, setting, value)
        how = settings["how"].strip().replace(" ", "-")
        failure_of(self.circuit, device.name, how)
        if do == "mend":
            return lambda board: board.mend(device.name, how)
        kind, size = settings["size"] or ("fraction", 1.0)
        if kind != "fraction" or size <= 0.0:
            raise CannotDo(f"`fail {name}` takes its size as a share: write size 50 %")
        return lambda board: board.fail(device.name, how, size)

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


def _engine_share(state: str) -> float:
    """Of the rated speed."""
    if state.endswith("%"):
        try:
            return max(0.0, float(state[:-1]) / 100)
        except ValueError:
            pass
    return 1.0 if _is_on(state) else 0.0


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
