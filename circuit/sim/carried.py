"""What a page carries to play a circuit itself: the kernel, its memory at the start, and every number that hands reach.

A hand moves inputs, a failure changes numbers of elements, a screw changes numbers of sums: all of it is found out here by
asking the same code that a `Session` asks, so that a page needs lists of numbers and no equations.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.places import NoSuchPlace
from circuit.sim import engines, machine
from circuit.sim.arrays import Arrays
from circuit.sim.assemble import Timetable, arrays_of
from circuit.sim.network import Element, Network
from circuit.sim.renumber import Otherwise, renumbered
from circuit.sim.run import Problem, job_of, starting_pressures
from circuit.sim.script import BOARD, Action, Engine, Options, Script, Variant
from circuit.sim.timetable import Plan
from circuit.sim.variants import Change, Extra, add, altered_by, by_owner, change_of, extras_of, with_settings

LATER = 1e9
"""s at which a deed is tried out: what it would do to the inputs is then read off, and nothing is done."""
TURNED = ("af_constant", "at_weight")
"""Rows that a screw may change."""
RECORDS = 64

Moments = tuple[tuple[int, float, float], ...]
"""What a deed does: input, the value it goes to, and s that it takes."""


class Turn(NamedTuple):
    """A setting that a hand can turn while it is played. moves: row, place, and how it changes with the setting's SI."""

    device: str
    setting: str
    moves: tuple[tuple[str, int, float], ...]


class Carried(NamedTuple):
    """See the module.

    own: the elements that are there without a failure. leaks: node to the place of its hole of 1 m2 among the extras.
    failures: all but those that change no pressure, or whose drift is of another shape. drifts: row, place and what is added
    there by those that let settings drift. deeds: what each action does. fed: a place that can be fed to the inputs of its
    pressure and gate.
    """

    problem: Problem
    image: machine.Image
    own: int
    extras: dict[Extra, int]
    leaks: dict[int, int]
    failures: dict[tuple[str, str], Change]
    drifts: dict[tuple[str, str], tuple[tuple[str, int, float], ...]]
    turns: tuple[Turn, ...]
    deeds: tuple[Moments, ...]
    fed: dict[str, tuple[int, int]]

    @property
    def network(self) -> Network:
        return self.problem.network

    def starts(self, scripts: Sequence[Script], engine: Engine = Engine()) -> tuple[list[float], list[list[float]]]:
        """The inputs, and the absolute Pa of the nodes for each of some scripts that differ in the reservoirs' pressures
        alone. engine: how the compressors turn."""
        network, script = self.network, scripts[0]
        own = Network(network.circuit, network.options)
        own.read(network.doubled)
        stood = Plan(own, script, engine)
        inputs = list(self.problem.start)
        for key, slot in network.sums.inputs.items():
            other = own.sums.inputs.get(key)
            if other is not None:
                course = stood.courses.get(other)
                inputs[slot] = own.sums.start[other] if course is None else course.at(0.0)
            elif key[1] in ("fed", "off"):
                inputs[slot] = 0.0
        return inputs, [starting_pressures(network, stood, each, "charged", engine) for each in scripts]


def carried(circuit: Circuit, actions: Sequence[Action], options: Options = BOARD) -> Carried:
    """A circuit as a page carries it, from its start while driving. actions: all that hands may do; their times do not
    count. Raises NoSuchPlace for one that names what is not there."""
    network = Network(circuit, options)
    network.read(frozenset(d.name for d in circuit.devices if d.has(Trait.SHUTS_BY_HAND)))
    plan = Plan(network, Script(), Engine())
    deeds = tuple(_tried(plan, action) for action in actions)
    network.elements.sort(key=Element.order)
    own = len(network.elements)
    extras, leaks = _extras(circuit, network)
    arrays = arrays_of(network, Timetable((0.0, 0.0), ((),)))
    start = [plan.courses[slot].at(0.0) if slot in plan.courses else value
             for slot, value in enumerate(network.sums.start)]
    problem = Problem(network, plan, arrays, start, starting_pressures(network, plan, Script(), "charged", Engine()), options)
    job = job_of(problem, engines.choose("compiled"))
    picture = machine.image(arrays, job.method, RECORDS)
    for name, values in engines.begin(arrays, job.start, job.pressures, job.held).items():
        machine.written(picture.data, picture.places["room." + name], "f64[]", values)
    owned = by_owner(network)
    more = len(extras) + len(leaks)
    drifts = {(d.name, f.name): _drift(network, arrays, Variant("", ((d.name, f.name),)), more)
              for d in circuit.devices for f in d.kind.failures if f.scales}
    failures = {(d.name, f.name): change_of(problem, Variant("", ((d.name, f.name),)), owned)
                for d in circuit.devices for f in d.kind.failures if f.acts and drifts.get((d.name, f.name)) != ()}
    turns = tuple(_turns(network, arrays, circuit, more))
    return Carried(problem, picture, own, extras, leaks, failures, drifts, turns, deeds, dict(plan.fed))


def _tried(plan: Plan, action: Action) -> Moments:
    """What an action would do to the inputs, planned for later and taken back."""
    before = {slot: list(course.moments) for slot, course in plan.courses.items()}
    plan.act(action._replace(at=LATER))
    found = []
    for slot, course in list(plan.courses.items()):
        late = [moment for moment in course.moments if moment[0] >= LATER]
        if late:
            found.append((slot, late[-1][1], action.over if len(late) > 1 else 0.0))
        if slot in before:
            course.moments = before[slot]
        else:
            del plan.courses[slot]
    return tuple(found)


def _extras(circuit: Circuit, network: Network) -> tuple[dict[Extra, int], dict[int, int]]:
    """Puts the elements of every failure, and a hole for every space, last into the network."""
    every = Variant("", tuple((d.name, f.name) for d in circuit.devices for f in d.kind.failures))
    extras = {extra: place for place, extra in enumerate(dict.fromkeys(extras_of(circuit, every)))}
    add(network, extras)
    leaks: dict[int, int] = {}
    for node in network.nodes.values():
        leaks[node] = len(extras) + len(leaks)
        network.hole(node, 1.0, 0, "")
    return extras, leaks


def _drift(network: Network, a: Arrays, variant: Variant, extras: int) -> tuple[tuple[str, int, float], ...]:
    """What is added to the rows by a failure that lets settings drift; nothing where their shape is another then."""
    try:
        changed = with_settings(network.circuit, variant)
        rows: Any = renumbered(network, a, changed, altered_by(network.circuit, variant), extras)
    except (Otherwise, NoSuchPlace):
        return ()
    return tuple((name, place, new - old) for name, place, old, new in _differing(a, rows))


def _differing(a: Arrays, rows: Any) -> Iterator[tuple[str, int, float, float]]:
    """Row, place and the two numbers wherever they are not alike."""
    for name in Arrays._fields:
        old, new = getattr(a, name), getattr(rows, name)
        if isinstance(old, list) and new is not old:
            yield from ((name, place, one, other) for place, (one, other) in enumerate(zip(old, new)) if one != other)


def _turns(network: Network, a: Arrays, circuit: Circuit, extras: int) -> Iterator[Turn]:
    """Settings of which every number that follows is a straight line."""
    for device in circuit.devices:
        for setting in device.kind.settings:
            value = device.settings.get(setting.name)
            if setting.dimension == "pressure" and isinstance(value, float) and not device.is_line:
                moves = _line(network, a, circuit, device, setting.name, extras)
                if moves:
                    yield Turn(device.name, setting.name, moves)


def _line(network: Network, a: Arrays, circuit: Circuit, device: Device, setting: str, extras: int
          ) -> tuple[tuple[str, int, float], ...]:
    """How the rows follow a setting; nothing where they do not by a straight line, or others than `TURNED` do."""
    found: list[dict[tuple[str, int], float]] = []
    for step in (2e3, 4e3):
        try:
            changed = with_settings(circuit, Variant(settings={(device.name, setting): device.settings[setting] + step}))
            rows: Any = renumbered(network, a, changed, {device.name}, extras)
        except (Otherwise, NoSuchPlace):
            return ()
        found.append({(name, place): (new - old) / step for name, place, old, new in _differing(a, rows)})
    one, other = found
    if one.keys() != other.keys() or any(name not in TURNED for name, _ in one):
        return ()
    if any(abs(rise - other[key]) > 1e-6 * max(1.0, abs(rise)) for key, rise in one.items()):
        return ()
    return tuple((name, place, rise) for (name, place), rise in one.items())
