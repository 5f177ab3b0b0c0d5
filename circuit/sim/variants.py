"""Many runs of one circuit with something changed in each: a stuck passage, a leak, a failure, another setting.

What only shuts, opens, leaks or holds is a change of some numbers in the same rows, so that the equations are read and
their elimination is planned once. Of a changed setting only the part that has it is read again; see `renumber`.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from copy import copy
from dataclasses import replace
from itertools import count
from math import pi
from typing import NamedTuple

from circuit.declaring.following import drifted, following
from circuit.gas.flow import SHARP_HOLE, from_area, tube
from circuit.declaring.kind import OUTSIDE, Failure
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.model.places import NoSuchPlace, device_named, port_named
from circuit.model.trace import Trace
from circuit.sim import engines
from circuit.sim.arrays import BOTH_WAYS, HELD_OPEN, HELD_SHUT, ONE_WAY, PUMP, Arrays
from circuit.sim.network import OPEN_END, Network, conductance_of
from circuit.sim.renumber import Otherwise, renumbered
from circuit.sim.run import Problem, finish, job_of, prepare, starting_pressures
from circuit.sim.script import Engine, Options, Script, Variant
from circuit.tables import tubes

PLACED = frozenset({"name", "names", "reference", "chamber"})
"""Dimensions of settings that are no number of one part but say which it is, or where."""
Owned = dict[tuple[str, str, str], list[int]]
"""Device and passage ends to elements."""


class Extra(NamedTuple):
    """An element that only some variants have. place: in words. conductance: m3/(s Pa)."""

    device: str
    start: str
    end: str
    conductance: float


class Change(NamedTuple):
    """What a variant does to the arrays. modes: element to mode. flows: element to factor. adds: extra elements. held:
    input to value."""

    modes: dict[int, int]
    flows: dict[int, float]
    adds: tuple[Extra, ...]
    held: dict[int, float]


def simulate_many(circuit: Circuit, script: Script, variants: Sequence[Variant], until: float, *,
                  start: str = "charged", engine: Engine = Engine(), options: Options = Options(),
                  watch: Sequence[str] | None = None) -> list[Trace]:
    """A trace for each variant, in order, labelled with its name; arguments as for `simulate`.

    Raises NoSuchPlace for a variant that names what is not there, or a setting that cannot be changed.
    """
    altered = [altered_by(circuit, v) for v in variants]
    circuits = [with_settings(circuit, v) if names else circuit for names, v in zip(altered, variants)]
    extras = dict(zip(dict.fromkeys(e for c, v in zip(circuits, variants) for e in extras_of(c, v)), count()))
    bases: dict[int, Base] = {}

    def base_of(circuit: Circuit, script: Script) -> Base:
        base = prepare(circuit, script, until, start=start, engine=engine, options=options, watch=watch,
                       more=lambda network: add(network, extras))
        return Base(base, job_of(base, solver), by_owner(base.network), script)

    solver = engines.choose(options.engine)
    problems: list[Problem] = []
    jobs: list[engines.Job] = []
    places: list[int] = []
    alike: dict[object, int] = {}
    for changed_circuit, names, variant in zip(circuits, altered, variants):
        played = variant.script or script
        if id(played) not in bases:
            bases[id(played)] = base_of(circuit, played)
        base = bases[id(played)]
        problem = base.problem
        if names:
            full = problem.pressures
            try:
                problem = _renumbered(problem, changed_circuit, names, len(extras), played, start, engine)
            except Otherwise:
                base = base_of(changed_circuit, played)
                problem = base.problem
            if not variant.settings:  # what drifts does so on a vehicle that was filled before
                problem = problem._replace(pressures=full)
        change = change_of(problem, variant, base.owned)
        problem = changed(problem, change, extras)
        problems.append(problem)
        first = len(problem.arrays.el_flow) - len(extras)
        place = alike.setdefault(object() if names else (id(base), _numbers(problem, change, first, extras)),
                                 len(jobs))
        places.append(place)
        if place == len(jobs):
            jobs.append(solver.varied(base.job, without_idle(problem.arrays, first), problem.start, problem.pressures))
    results = solver.integrate_many(jobs)
    return [finish(problem, results[place], variant.name) for problem, place, variant in zip(problems, places, variants)]


def _numbers(problem: Problem, change: Change, first: int, extras: Mapping[Extra, int]) -> object:
    """Equal for changes of the same numbers: variants that make them are played once."""
    added = [problem.network.elements[first + extras[extra]]._replace(owner=("", "", "")) for extra in change.adds]
    return (frozenset(change.modes.items()), frozenset(change.flows.items()), tuple(added), frozenset(change.held.items()))


class Base(NamedTuple):
    """What the variants of one script are changes of."""

    problem: Problem
    job: engines.Job
    owned: Owned
    script: Script


def _renumbered(problem: Problem, circuit: Circuit, names: set[str], extras: int, script: Script, start: str,
                engine: Engine) -> Problem:
    """The problem of a circuit in which some parts have other settings. Raises Otherwise."""
    network = copy(problem.network)
    network.circuit = circuit
    arrays = renumbered(problem.network, problem.arrays, circuit, names, extras)
    pressures = starting_pressures(network, problem.plan, script, start, engine)
    return problem._replace(network=network, arrays=arrays, pressures=pressures)


def altered_by(circuit: Circuit, variant: Variant) -> set[str]:
    """The parts whose settings a variant changes, or lets drift by a failure. Raises NoSuchPlace."""
    drift = (failure_of(circuit, *each) for each in variant.failures)
    return {device_named(circuit, name).name for name, _ in variant.settings} | {
        device.name for device, failure in drift if failure.scales}


def with_settings(circuit: Circuit, variant: Variant) -> Circuit:
    """The circuit with a variant's settings, what its failures let drift, and what follows. Raises NoSuchPlace."""
    new: dict[str, Device] = {}
    for (name, setting), value in variant.settings.items():
        device = device_named(circuit, name)
        device = new.get(device.name, device)
        declared = device.kind.setting(setting)
        if setting not in device.settings or declared is None and setting != "bore":
            raise NoSuchPlace(f"`{name}` has no `{setting}` that can be changed")
        settings = {**device.settings, setting: value}
        if declared is not None and declared.dimension == "size":
            if value not in tubes():
                raise NoSuchPlace(f"`{name}`: {value!r} is no trade size of tube: " + ", ".join(tubes()))
            settings[setting], settings["bore"] = tubes()[str(value)]
        elif declared is not None and declared.dimension == "word" and value not in declared.choices:
            raise NoSuchPlace(f"`{name}`: {setting} cannot be {value!r}: " + ", ".join(declared.choices))
        elif declared is not None and (declared.dimension in PLACED or any(
                setting == port.holes_from for port in device.kind.ports)):
            raise NoSuchPlace(f"`{name}`: {setting} says how the circuit is joined: change the design's text instead")
        new[device.name] = device._replace(settings=settings)
    for name, device in new.items():
        try:
            new[name] = device._replace(settings={**device.settings, **following(device.kind, device.settings)})
        except ValueError as contradiction:
            raise NoSuchPlace(f"`{name}` cannot be set so: {contradiction}") from None
    for name, failure_name in variant.failures:
        device, failure = failure_of(circuit, name, failure_name)
        if failure.scales:
            device = new.get(device.name, device)
            new[device.name] = device._replace(settings=drifted(device.kind, device.settings, failure.scales))
    return replace(circuit, devices=tuple(new.get(d.name, d) for d in circuit.devices))


def failure_of(circuit: Circuit, device: str, name: str) -> tuple[Device, Failure]:
    """A failure that a device's kind declares. Raises NoSuchPlace."""
    thing = device_named(circuit, device)
    found = next((f for f in thing.kind.failures if f.name == name), None)
    if found is None:
        raise NoSuchPlace(f"`{device}` cannot fail by `{name}`: " + ", ".join(f.name for f in thing.kind.failures))
    return thing, found


def extras_of(circuit: Circuit, variant: Variant) -> Iterator[Extra]:
    """The elements that a variant adds."""
    for name, failure_name in variant.failures:
        device, failure = failure_of(circuit, name, failure_name)
        for start, end in failure.opens:
            size = variant.sizes.get((name, failure_name), 1.0)
            yield Extra(device.name, start, end, size * failure.share * _opened(device, start, end))
    for place, diameter in variant.leaks.items():
        device, port = port_named(circuit, place)
        yield Extra(device.name, port.number, OUTSIDE, from_area(SHARP_HOLE * pi / 4 * diameter**2))


def _opened(device: Device, start: str, end: str) -> float:
    """Sonic conductance of a way that a failure opens fully."""
    if device.is_line:
        bore = device.settings["bore"]
        return min(tube(bore, device.settings["length"] / 2)[0], from_area(OPEN_END * pi / 4 * bore**2))
    passage = next((p for p in device.kind.passages if {p.start, p.end} == {start, end}), None)
    return conductance_of(device, passage.conductance if passage else "conductance")


def add(network: Network, extras: Iterable[Extra]) -> None:
    """Puts extra elements last into a network, shut until a variant opens them."""
    for extra in extras:
        start, end = (network.node(SPACE_OUTSIDE if port == OUTSIDE else network.circuit.space[extra.device, port])
                      for port in (extra.start, extra.end))
        way = BOTH_WAYS if end < 0 else ONE_WAY
        network.between(start, end, extra.conductance, (extra.device, "", ""), way)


def by_owner(network: Network) -> Owned:
    """The numbers of the elements of each passage."""
    found: Owned = {}
    for number, element in enumerate(network.elements):
        found.setdefault(element.owner, []).append(number)
    return found


def change_of(problem: Problem, variant: Variant, owned: Owned) -> Change:
    """What a variant does to a problem's arrays."""
    network, circuit = problem.network, problem.network.circuit
    change = Change({}, {}, tuple(extras_of(circuit, variant)), {})
    if (variant.flow, variant.delivery) != (1.0, 1.0):
        for number, element in enumerate(network.elements):
            if element.way == PUMP:
                change.flows[number] = variant.delivery
            elif element.owner[1] and element.owner[2]:
                change.flows[number] = variant.flow
    for name, failure_name in variant.failures:
        device, failure = failure_of(circuit, name, failure_name)
        for start, end in failure.shuts:
            left = 1.0 - variant.sizes.get((name, failure_name), 1.0)
            for number in (*owned.get((device.name, start, end), ()), *owned.get((device.name, end, start), ())):
                if left > 0.0 and not failure.opens:
                    change.flows[number] = left * change.flows.get(number, 1.0)
                else:
                    change.modes[number] = HELD_SHUT
        for port in failure.stops:
            node = network.node(circuit.space[device.name, port])
            for number, element in enumerate(network.elements):
                if element.end == node and element.owner[0] == device.name and element.start < 0:
                    change.modes[number] = HELD_SHUT
        for variable, value in failure.holds.items():
            source = device.kind.source
            if source is not None and variable == source.held:
                for number, element in enumerate(network.elements):
                    if element.way == PUMP and element.owner[0] == device.name:
                        change.modes[number] = HELD_SHUT if value else HELD_OPEN
            elif (device.name, variable) in network.sums.inputs:
                change.held[network.sums.inputs[device.name, variable]] = value
    for place, share in variant.conductances.items():
        for number in _ways_of(circuit, owned, place):
            change.flows[number] = share * change.flows.get(number, 1.0)
    return change


def _ways_of(circuit: Circuit, owned: Owned, place: "tuple[str, str, str] | str") -> list[int]:
    """The elements of one way of a device, or of all its ways. Raises NoSuchPlace."""
    if not isinstance(place, str):
        if place not in owned:
            raise NoSuchPlace(f"`{place[0]}` has no way from {place[1]} to {place[2]}")
        return owned[place]
    name = device_named(circuit, place).name
    found = [n for owner, numbers in owned.items() if owner[0] == name and owner[1] and owner[2] for n in numbers]
    if not found:
        raise NoSuchPlace(f"`{place}` has no way for air")
    return found


def without_idle(a: Arrays, first: int) -> Arrays:
    """The arrays without those elements from `first` on that let nothing through, so that a run does not pay for other
    runs' leaks."""
    used = [e for e in range(first, a.elements) if a.el_flow[e] != 0.0]
    if len(used) == a.elements - first:
        return a
    rows = {name: row[:first] + [row[e] for e in used] for name, row in a._asdict().items()
            if name.startswith("el_") and name not in ("el_tree", "el_odd")}
    odd = [e for e in a.el_odd if e < first] + [place for place, e in enumerate(used, first) if e in a.el_odd]
    return a._replace(elements=first + len(used), el_odd=odd, odds=len(odd), **rows)


def changed(problem: Problem, change: Change, extras: Mapping[Extra, int]) -> Problem:
    """A problem with a variant's numbers. extras: the elements that any variant adds, to their places among these."""
    a: Arrays = problem.arrays
    modes, flows = list(a.el_mode), list(a.el_flow)
    first = len(flows) - len(extras)
    flows[first:] = [0.0] * len(extras)
    for extra in change.adds:
        flows[first + extras[extra]] = a.el_flow[first + extras[extra]]
    for number, mode in change.modes.items():
        modes[number] = mode
        if mode == HELD_SHUT:
            flows[number] = 0.0
    for number, share in change.flows.items():
        flows[number] *= share
    if not change.held:
        return problem._replace(arrays=a._replace(el_mode=modes, el_flow=flows))
    start = [change.held.get(slot, value) for slot, value in enumerate(problem.start)]
    values = [change.held.get(slot, value) for slot, value in zip(a.ch_slot, a.ch_value)]
    rates = [0.0 if slot in change.held else rate for slot, rate in zip(a.ch_slot, a.ch_rate)]
    live = [0 if slot in change.held else 1 for slot in a.la_slot]
    arrays = a._replace(el_mode=modes, el_flow=flows, ch_value=values, ch_rate=rates, la_live=live)
    return problem._replace(arrays=arrays, start=start)
