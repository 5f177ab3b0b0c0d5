"""One simulation: build the equations, integrate them, and hand back a trace."""

from array import array
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import accumulate
from typing import NamedTuple

from circuit.declaring.kind import SITUATIONS
from circuit.declaring.traits import Trait
from circuit.gas.flow import shares
from circuit.model.settling import charged, outside_sources, settle
from circuit.model.circuit import Circuit
from circuit.model.places import space_named
from circuit.model.trace import Balance, Happening, Trace
from circuit.sim import engines
from circuit.sim.arrays import CHATTER, DONE, STUCK, Arrays
from circuit.sim.assemble import arrays_of
from circuit.sim.grid import Grid
from circuit.sim.network import Element, Network
from circuit.sim.script import Engine, Options, Script
from circuit.sim.timetable import Plan, doubled
from circuit.units import ATMOSPHERE


STARTS = ("charged", "reservoirs", "empty")
SHORT = 1.0
"""Pa by which a charged start is short of a governor's cut-out; our choice, far below anything printed."""


class Problem(NamedTuple):
    """Everything a run needs. start: inputs; pressures: of the nodes at the start, absolute Pa."""

    network: Network
    plan: Plan
    arrays: Arrays
    start: list[float]
    pressures: list[float]
    options: Options


def prepare(circuit: Circuit, script: Script, until: float, *, start: str = "charged", engine: Engine = Engine(),
            options: Options = Options(), watch: Sequence[str] | None = None,
            more: Callable[[Network], None] | None = None, by_hand: bool = False) -> Problem:
    """The equations of a run. watch: the places that are kept; None: all. more: puts further elements into the network,
    last. by_hand: whether a hand may open and shut what is not said in the script.

    Raises NoSuchPlace for a script that names what is not there.
    """
    if script.situation not in SITUATIONS:
        raise ValueError(f"there is no situation `{script.situation}`")
    options = _under(circuit, options)
    network = Network(circuit, options)
    hands = {d.name for d in circuit.devices if by_hand and Trait.SHUTS_BY_HAND in d.kind.traits}
    network.read(doubled(circuit, script.actions) | hands)
    plan = Plan(network, script, engine)
    network.elements.sort(key=Element.order)
    if more is not None:
        more(network)
    timetable = plan.timetable(until)
    arrays = arrays_of(network, timetable)
    if watch is not None:
        watched = sorted({plan.rigs[place] if place in plan.rigs else network.nodes[space_named(circuit, place)]
                          for place in watch})
        arrays = arrays._replace(watched=watched, watching=len(watched))
    pressures = starting_pressures(network, plan, script, start, engine)
    return Problem(network, plan, arrays, list(network.sums.start), pressures, options)


def _under(circuit: Circuit, options: Options) -> Options:
    """The options with the conditions of the design, where nothing else is asked for."""
    said, usual = circuit.vehicle.conditions, Options()
    if said.ambient is not None and options.temperature == usual.temperature:
        options = replace(options, temperature=said.ambient)
    return replace(options, altitude=said.altitude) if said.altitude and options.altitude == usual.altitude else options


def _as_read(problem: Problem, pressures: Grid) -> Grid:
    """Pressures as gauges read them at the height that the design says, on the atmosphere at the sea: studies and limits count
    from there."""
    if not problem.network.circuit.vehicle.conditions.altitude:
        return pressures
    numbers = array("d", pressures.numbers)
    for column in range(pressures.first, pressures.first + pressures.many):
        numbers[column::pressures.wide] = array("d", [each - problem.network.shift for each in numbers[column::pressures.wide]])
    return Grid(numbers.tobytes(), pressures.wide, pressures.first, pressures.many)


def starting_pressures(network: Network, plan: Plan, script: Script, start: str, engine: Engine) -> list[float]:
    """Absolute Pa of every node; see `simulate` for `start`."""
    circuit = network.circuit
    if start not in STARTS:
        raise ValueError(f"a simulation cannot start `{start}`: " + ", ".join(STARTS))
    level = {} if start == "empty" else _short_of_cut_out(circuit, at_rest(circuit, script, engine))
    if start == "reservoirs":
        level = {circuit.store(tank): level[circuit.store(tank)] for tank in circuit.reservoirs}
    found = [network.ambient] * len(network.names)
    for space, node in network.nodes.items():
        found[node] = level.get(space, ATMOSPHERE) + network.shift
    for place, pressure in script.pressures.items():
        if place != "reservoirs":
            found[network.nodes[space_named(circuit, place)]] = pressure + network.shift
        elif start == "empty":
            for tank in circuit.reservoirs:
                found[network.nodes[circuit.store(tank)]] = pressure + network.shift
    for name, chain in network.lines.items():
        ends = [found[node] if node >= 0 else network.ambient for node in (chain[0], chain[-1])]
        for along, node in zip(accumulate(shares(circuit.by_name[name].settings["length"])), chain[1:-1]):
            found[node] = ends[0] + along * (ends[1] - ends[0])
    for rig in script.rigs:
        node = plan.rigs[rig.name]
        joined = network.nodes[space_named(circuit, rig.place)]
        found[node] = found[joined] if rig.pressure is None else rig.pressure + network.shift
    return found


def at_rest(circuit: Circuit, script: Script, engine: Engine) -> dict[int, float]:
    """The circuit at rest in the script's situation with its reservoirs at the pressures asked for."""
    full = circuit.answers.once("charged while driving", lambda: charged(circuit, "driving")).level
    kept = {circuit.store(tank): full.get(circuit.store(tank), ATMOSPHERE) for tank in circuit.reservoirs}
    if "reservoirs" in script.pressures:
        kept = dict.fromkeys(kept, script.pressures["reservoirs"])
    for place, pressure in script.pressures.items():
        if place != "reservoirs" and (space := space_named(circuit, place)) in kept:
            kept[space] = pressure
    sources = dict(kept)
    for space, pressure in outside_sources(circuit, script.situation).items():
        making = any(d.kind.source for d, _ in _devices_on(circuit, space))
        if making and not engine.running:
            continue
        heads = [script.pressures[d.name] for d, _ in _devices_on(circuit, space) if d.name in script.pressures]
        sources[space] = heads[0] if heads else min([pressure, *kept.values()]) if making else pressure
    sources = {space: pressure for space, pressure in sources.items() if pressure > ATMOSPHERE}
    return {**settle(circuit, script.situation, sources).level, **kept}


def _short_of_cut_out(circuit: Circuit, level: dict[int, float]) -> dict[int, float]:
    """The pressures, none exactly at a governor's cut-out: there the last digit would decide whether it unloads at once."""
    cut_outs = [governor.settings["cut-out"] for governor in circuit.having(Trait.GOVERNS) if governor.settings["cut-out"]]
    return {space: next((each - SHORT for each in cut_outs if abs(each - pressure) < SHORT), pressure)
            for space, pressure in level.items()}


def _devices_on(circuit: Circuit, space: int):  # type: ignore[no-untyped-def]
    return [(circuit.by_name[name], port) for name, port in circuit.ports_of.get(space, ())]


def run(problem: Problem, label: str = "") -> Trace:
    """Integrates a prepared problem."""
    engine = engines.choose(problem.options.engine)
    return finish(problem, engine.integrate(job_of(problem, engine)), label)


def job_of(problem: Problem, engine: engines.Plain | engines.Compiled) -> engines.Job:
    """A problem's numbers in the form that an engine takes."""
    options = problem.options
    return engine.job(problem.arrays, problem.start, problem.pressures, options.method, options.tolerance)


def simulate(circuit: Circuit, script: Script, until: float, *, start: str = "charged", engine: Engine = Engine(),
             options: Options = Options(), watch: Sequence[str] | None = None) -> Trace:
    """The circuit's pressures from 0 to `until`, s, while a script is played.

    watch: the places whose pressures are kept, spaces or rigs; None: all.
    start: `charged` (reservoirs full, or at the script's pressures, all else as it then rests), `reservoirs` (they
    alone) or `empty`. engine: how the compressors turn at the start. Raises NoSuchPlace for a script that names what
    is not there.
    """
    return run(prepare(circuit, script, until, start=start, engine=engine, options=options, watch=watch))


def finish(problem: Problem, result: engines.Result, label: str = "") -> Trace:
    """A result's numbers as a trace."""
    network, plan = problem.network, problem.plan
    first, last = result.air
    air, intake, *fed = [float(amount) for amount in result.outside]
    drift = (last - first - (-air - intake - sum(fed))) / max(first, last, -intake, -sum(fed))
    sums = network.sums
    names = [key for _, _, _, key in sums.latches]
    events = [Happening(float(t), *names[int(n)], float(v)) for t, n, v in result.events]
    by_slot = {slot: key for key, slot in sums.inputs.items()}
    states: dict[tuple[str, str], list[tuple[float, float]]] = {}
    for key, slot in sums.inputs.items():
        if key[0] in network.circuit.by_name:
            states[key] = [(0.0, problem.start[slot])]
    until = float(result.times[-1])
    for slot, course in plan.courses.items():
        key = by_slot[slot]
        if key in states:
            states[key] = [(m[0], m[1]) for m in course.moments if m[0] <= until]
    for event in events:
        states[event.device, event.variable].append((event.time, event.value))
    notes = [*network.notes, *sums.notes, *_assumptions(problem)]
    if result.status == STUCK:
        notes.append(f"stopped at {until:.3f} s after {result.steps} steps: the end was not reached")
    if result.status == CHATTER:
        notes.append(f"stopped at {until:.3f} s: {events[-1].device} {events[-1].variable} flutters")
    if result.forced:
        notes.append(f"{result.forced} steps were taken with a greater error than the {problem.options.tolerance:g} Pa "
                     "asked for")
    column = {node: place for place, node in enumerate(problem.arrays.watched)}
    return Trace(
        network.circuit, result.times, _as_read(problem, result.pressures), result.rates,
        tuple(network.names[node] for node in column),
        {space: column[node] for space, node in network.nodes.items() if node in column},
        {name: column[node] for name, node in plan.rigs.items() if node in column},
        {key: tuple(sorted(row)) for key, row in states.items()}, tuple(events),
        Balance(first, last, 0.0 - intake, 0.0 - sum(fed), air, drift),
        ATMOSPHERE if network.circuit.vehicle.conditions.altitude else network.ambient,
        result.status == DONE and not result.forced, tuple(notes), result.steps, label,
        problem.arrays.watching < problem.arrays.nodes,
    )


def _assumptions(problem: Problem) -> tuple[str, ...]:
    options = problem.options
    return (
        *problem.network.circuit.vehicle.conditions.told,
        f"all air at {options.temperature - 273.15:.0f} °C; changes in reservoirs and chambers with exponent "
        f"{options.exponent:g} (1: heat passes freely)",
        f"a valve is fully open {options.opening / 1e3:g} kPa past its balance; common practice, 10 to 20 kPa",
        "critical ratios of valves, fittings and beds are typical ones, from memory",
        "no inertia of air: at the end of a line the first pressure comes up to about 10 ms too early",
    )
