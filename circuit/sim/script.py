"""What is done to a circuit while it is simulated: how it starts, what hands, feet and accidents do, and when.

Places are written as in a design: `d2-right.service`, or a name alone for a thing with one space. Pressures are
absolute Pa, times are seconds from the start.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

REACTION = 0.1
"""s that a foot takes from one place to another, where nothing else is said; common practice."""


class Engine(NamedTuple):
    """running: whether the compressor turns. speed: of its shaft, turns a second; None is the speed its size is
    stated at."""

    running: bool = False
    speed: float | None = None


class Action(NamedTuple):
    """One thing done. `what` is a function of this module; at: s. to, over, size, variable: as that function says."""

    what: str
    place: str
    at: float
    to: float = 0.0
    over: float = 0.0
    size: float = 0.0
    variable: str = ""


def press(device: str, to: float, at: float, over: float = REACTION) -> Action:
    """Move a pedal or a lever to a share of its travel, 0 to 1, in `over` seconds."""
    return Action("press", device, at, to, over)


def release(device: str, at: float, over: float = REACTION) -> Action:
    """Let a pedal or a lever go back to where it rests."""
    return Action("release", device, at, 0.0, over)


def push(device: str, at: float, variable: str = "") -> Action:
    """Push a knob in. variable: which, on a device with several; all when empty."""
    return Action("push", device, at, variable=variable)


def pull(device: str, at: float, variable: str = "") -> Action:
    """Pull a knob out."""
    return Action("pull", device, at, variable=variable)


def move(device: str, variable: str, to: float, at: float, over: float = 0.0) -> Action:
    """Change any state variable of a device, at once or evenly in `over` seconds."""
    return Action("move", device, at, to, over, variable=variable)


def open_up(device: str, at: float) -> Action:
    """Open a drain or a cock."""
    return Action("open", device, at)


def shut(device: str, at: float) -> Action:
    """Shut a drain or a cock."""
    return Action("shut", device, at)


def feed(place: str, to: float, at: float, over: float = 0.0, conductance: float = 0.0) -> Action:
    """Hold a place at a pressure, absolute Pa, from outside: a head by the towing vehicle, or a port by a test line.

    conductance: of what feeds it, m3/(s Pa); 0 takes the place's own. The first feed of a place says it for all of
    them.
    """
    return Action("feed", place, at, to, over, conductance)


def stop_feeding(place: str, at: float) -> Action:
    """Shut off what feeds a place from outside; it keeps its air and stays as it stands."""
    return Action("stop feeding", place, at)


def uncouple(head: str, at: float) -> Action:
    """Take a head off its line; both ends lose their air unless they shut by themselves."""
    return Action("uncouple", head, at)


def couple(head: str, at: float) -> Action:
    """Join a head again that was taken off its line."""
    return Action("couple", head, at)


def burst(line: str, at: float) -> Action:
    """Tear a line in the middle: both halves blow into the open air."""
    return Action("burst", line, at)


def leak(place: str, hole: float, at: float) -> Action:
    """Drill a round sharp hole into a space, in place of one drilled there before. hole: its diameter, m; 0 stops it."""
    return Action("leak", place, at, size=hole)


def start_engine(at: float, speed: float | None = None) -> Action:
    """Let the compressors turn. speed: turns a second; None is the speed their size is stated at."""
    return Action("engine", "", at, to=1.0, size=speed or 0.0)


def set_engine(share: float, at: float) -> Action:
    """Let the compressors turn at a share of the speed their size is stated at."""
    return Action("engine", "", at, to=share)


def stop_engine(at: float) -> Action:
    return Action("engine", "", at, to=0.0)


class Rig(NamedTuple):
    """A reservoir of a test rig attached to a port. volume: m3. bore, length: of its line, m; 0 joins it without
    one."""

    place: str
    volume: float
    bore: float = 0.0
    length: float = 0.0
    name: str = "rig"
    pressure: float | None = None


@dataclass(frozen=True)
class Script:
    """situation: how hands and feet stand at the start. pressures: absolute Pa at the start by place; the key
    `reservoirs` stands for all of them. states: of devices at the start, by (device, variable)."""

    actions: tuple[Action, ...] = ()
    situation: str = "driving"
    pressures: Mapping[str, float] = field(default_factory=dict)
    states: Mapping[tuple[str, str], float] = field(default_factory=dict)
    rigs: tuple[Rig, ...] = ()


class Variant(NamedTuple):
    """The same circuit with something changed.

    failures: (device, failure) as their kinds declare. leaks: place to diameter of a sharp hole, m, open from the
    start. conductances: (device, start, end), or a device's name for all its ways, to a factor. settings: (device,
    setting) to SI value, words as words; a tube's `size` as the trade writes it, its bore follows. flow, delivery:
    factors on what all valves and lines of the design let through, and on what compressors make. sizes: (device,
    failure) to a factor on the opening of that failure, or to the share that a blocked way has lost. script: its own
    instead of the one of all.
    """

    name: str = ""
    failures: tuple[tuple[str, str], ...] = ()
    leaks: Mapping[str, float] = {}
    conductances: Mapping[tuple[str, str, str] | str, float] = {}
    settings: Mapping[tuple[str, str], object] = {}
    flow: float = 1.0
    delivery: float = 1.0
    sizes: Mapping[tuple[str, str], float] = {}
    script: Script | None = None


@dataclass(frozen=True)
class Options:
    """tolerance: Pa, the error allowed to a step, root of the mean square over the spaces. method: `rodas3`, or
    `rodas4` for reference runs. engine: `compiled` or `plain`. altitude: m. temperature: K, of all air.
    exponent: of changes in reservoirs and chambers, 1 (heat passes freely) to 1.4 (none passes); air that leaves keeps
    the one temperature, so that at 1.4 a pressure halves 5 % sooner than in a tank that cools. opening: Pa from shut to
    fully open. laminar: share of the smooth zone around no flow. flow: factor on what valves and lines let through;
    holes, feeds and rigs keep theirs. smallest: m3 added to every space, the holes and threads nobody counts.
    most_steps, first_step, least_step: s."""

    tolerance: float = 30.0
    method: str = "rodas3"
    engine: str = "compiled"
    altitude: float = 0.0
    temperature: float = 293.15
    exponent: float = 1.0
    opening: float = 15e3
    laminar: float = 0.01
    flow: float = 1.0
    smallest: float = 10e-6
    most_steps: int = 400_000
    first_step: float = 1e-4
    least_step: float = 1e-8


BOARD = Options(tolerance=0.1)
"""As a board plays: so fine that frames of any length come to one course of pressures."""
