"""Filling an empty circuit as a driver does it: the knobs that pop out without air are pushed in once there is some."""

from collections.abc import Callable
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.sim import Action, Engine, Options, Rig, Script, push
from circuit.studies.once import simulate
from circuit.units import ATMOSPHERE

LONGEST = 3600.0
"""s after which a reservoir counts as never full."""
ROUNDS = 6
"""How often a driver pushes a knob that has popped out again; our choice."""
NOTHING = ATMOSPHERE + 0.3e5
"""Absolute Pa below which a reservoir counts as fed by nothing."""


class Pushed(NamedTuple):
    """time: s at which a driver pushed something in. knobs: device and its variable."""

    time: float
    knobs: tuple[tuple[str, str], ...]


def knobs(circuit: Circuit) -> tuple[tuple[Device, str], ...]:
    """Every knob that only a hand sets and that want of air lets out, the springs' before a trailer's supply."""
    found = [(device, latch.variable) for device in circuit.devices for latch in device.kind.latches
             if latch.sets is None and device.kind.when.get("parked", {}).get(latch.variable) == 0.0]
    return tuple(sorted(found, key=lambda each: not each[0].has(Trait.PARK_CONTROL)))


def named(circuit: Circuit, pushed: Pushed) -> str:
    """Knobs in words: `park`, or `both knobs of dash`."""
    own: dict[str, int] = {}
    for device, _ in knobs(circuit):
        own[device.name] = own.get(device.name, 0) + 1
    names = []
    for name in dict.fromkeys(name for name, _ in pushed.knobs):
        variables = [variable for each, variable in pushed.knobs if each == name]
        names.append(name if own[name] == 1 else f"both knobs of {name}" if len(variables) == own[name] == 2 else
                     f"{' and '.join(variables)} of {name}")
    return ", ".join(names)


def from_empty(circuit: Circuit, ready: float, options: Options, is_done: Callable[[Trace], bool],
               rigs: tuple[Rig, ...] = ()) -> tuple[Trace, tuple[Pushed, ...]]:
    """The run from empty until `is_done`, or LONGEST, and what the driver pushed.

    ready: absolute Pa. Knobs stand out at first; whenever every brake reservoir that fills has that pressure, those
    that are out are pushed in.
    """
    every = [(device.name, variable) for device, variable in knobs(circuit)]
    states = dict.fromkeys(every, 0.0)
    tanks = [circuit.store(tank) for tank in circuit.reservoirs_for("supply", "service")]
    pushes: list[Pushed] = []
    until = 300.0
    while True:
        actions: list[Action] = [push(name, each.time, variable) for each in pushes for name, variable in each.knobs]
        trace = simulate(circuit, Script(tuple(actions), states=states, rigs=rigs), until, start="empty",
                         engine=Engine(True), options=options)
        if not pushes:
            tanks = [space for space in tanks if trace.last(space) > NOTHING] or tanks
        out = _out(trace, every, pushes)
        when = _ready(trace, tanks, ready, max(out.values())) if out else None
        if out and when is not None and len(pushes) < ROUNDS:
            pushes.append(Pushed(when, tuple(out)))
        elif (out and len(pushes) >= ROUNDS) or (not out and is_done(trace)) or until >= LONGEST:
            return trace, tuple(pushes)
        else:
            until = min(2 * until, LONGEST)


def _out(trace: Trace, every: list[tuple[str, str]], pushes: list[Pushed]) -> dict[tuple[str, str], float]:
    """The knobs that are out at the end of a run, with the time since when."""
    found = {knob: 0.0 for knob in every if not any(knob in each.knobs for each in pushes)}
    for event in trace.events:
        knob = (event.device, event.variable)
        if knob in every and event.value == 0.0 and event.time >= max(
                (each.time for each in pushes if knob in each.knobs), default=0.0):
            found[knob] = event.time
    return found


def _ready(trace: Trace, tanks: list[int], ready: float, after: float) -> float | None:
    """The first time from `after` on by which every one of some reservoirs has had a pressure."""
    times = [trace.first_time(space, ready, after=after) for space in tanks]
    return None if not times or None in times else max(time for time in times if time is not None)
