"""Many runs of one circuit, each with other values in the places of what is not known exactly.

The circuit is read once. What a cause changes in the rows is looked up at some places of its range, and between these the
numbers go along straight lines, which is exact for what is linear in it; the air held by
chambers and reservoirs is worked out anew for every run. All runs begin at the pressures of the middle one.
"""

from bisect import bisect
from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import replace
from typing import Any, NamedTuple

from circuit.declaring.following import following
from circuit.declaring.ranges import Range
from circuit.gas.constants import GAS_CONSTANT
from circuit.gas.volume import Knot, Knots, fixed, held, summed
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.places import NoSuchPlace
from circuit.model.trace import Trace
from circuit.sim import engines
from circuit.sim.arrays import PUMP, Arrays
from circuit.sim.assemble import TURN, bent
from circuit.sim.renumber import Otherwise, renumbered
from circuit.sim.run import Problem, finish, job_of, prepare
from circuit.sim.script import Engine, Options, Script, Variant
from circuit.sim.variants import with_settings
from circuit.units import ATMOSPHERE

LINES, TEMPERATURE, EXPONENT, OPENING, DELIVERY, HOLES = (
    "lines", "temperature", "exponent", "opening", "delivery", "holes")
"""Causes that are no setting of a part: factors on the flow of lines, on what compressors make and on what holes of a script
let through; K of all air, the exponent of its changes, Pa from shut to open."""
COARSE = 100.0
"""Pa of error allowed to a step of several runs, where less was asked: their times move by 0.1 ms; our choice."""
_ROWS = ("el_flow", "el_ratio", "el_inverse", "el_sub", "af_constant", "at_weight", "it_weight", "pr_weight")
_PIECES = ("pc_held", "pc_1", "pc_2", "pc_3", "pc_4")
_HELD = ("pc_pressure", *_PIECES, "nd_per", "nd_slope")
_PLACES = (0.25, 0.5, 0.75, 1.0)
"""Shares of each side of a range at which the rows are looked up; what its parts cannot have is left out."""
_BEYOND = 2.0
"""How far a value may lie beyond the last one looked up, in shares of the last piece."""


class Cause(NamedTuple):
    """Something that is not known exactly. what: in words. parts: device and setting of all that are off alike; none for one
    of the causes above, which `what` then names. dimension: of the value, in words of `units`."""

    what: str
    range: Range
    parts: tuple[tuple[str, str], ...] = ()
    dimension: str = ""


class Influence(NamedTuple):
    """What a cause does to the rows. values: that were looked up, ascending. at: row name to places, with the changes at each
    value. stores: whether it changes how much air something holds."""

    values: tuple[float, ...]
    at: dict[str, tuple[Any, Any]]
    stores: bool


def simulate_drawn(circuit: Circuit, script: Script, causes: Sequence[Cause], shares: Sequence[Sequence[float]], until: float, *,
                   start: str = "charged", engine: Engine = Engine(), options: Options = Options(),
                   watch: Sequence[str] | None = None) -> list[Trace]:
    """A trace for each row of `shares`, which has one for each cause: how far along its range the value lies."""
    if len(shares) > 1:
        options = replace(options, tolerance=max(options.tolerance, COARSE))
    problem = prepare(circuit, script, until, start=start, engine=engine, options=options, watch=watch)
    solver = engines.choose(options.engine)
    job = job_of(problem, solver)
    rows = _Rows(problem, causes)
    problems = [problem._replace(arrays=rows.drawn([cause.range.at(share) for cause, share in zip(causes, row)]))
                for row in shares]
    jobs = [solver.varied(job, each.arrays, each.start, each.pressures) for each in problems]
    return [finish(each, result, f"run {number}")
            for number, (each, result) in enumerate(zip(problems, solver.integrate_many(jobs)), 1)]


class _Rows:
    """The rows of a problem, and what each cause does to them."""

    def __init__(self, problem: Problem, causes: Sequence[Cause]):
        import numpy

        self.problem, self.causes, self.np = problem, causes, numpy
        arrays, network = problem.arrays, problem.network
        self.base = {name: numpy.array(getattr(arrays, name), dtype=float) for name in (*_ROWS, *_HELD)}
        elements = network.elements
        self.of_lines, self.of_holes = [], []
        for number, element in enumerate(elements):
            owner = network.circuit.by_name.get(element.owner[0])
            if owner is not None and owner.is_line and element.owner[1] and element.owner[2]:
                self.of_lines.append(number)
            elif element.owner[0].startswith("hole") or element.owner[1] == "" and element.end < 0:
                self.of_holes.append(number)
        self.pumps = [number for number, element in enumerate(elements) if element.way == PUMP]
        self.others = [number for number, element in enumerate(elements) if element.way != PUMP]
        self.found = [self._influence(cause) if cause.parts else None for cause in causes]
        self.storing = self._storing()

    def _influence(self, cause: Cause) -> Influence | None:
        around, looked = cause.range, {cause.range.typical: self.problem.arrays}
        for end in {around.low, around.high} - {around.typical}:
            for share in _PLACES:
                value = around.typical + share * (end - around.typical)
                arrays = self._at(cause, value)
                if arrays is not None:
                    looked[value] = arrays
        values = tuple(sorted(looked))
        if len(values) == 1:
            return None
        changes: dict[str, tuple[Any, Any]] = {}
        for name in _ROWS:
            table = self.np.array([getattr(looked[value], name) for value in values], dtype=float) - self.base[name]
            places = self.np.flatnonzero((table != 0.0).any(axis=0))
            if len(places):
                changes[name] = places, table[:, places]
        stores = any(list(getattr(one, name)) != list(getattr(self.problem.arrays, name))
                     for one in looked.values() for name in _HELD)
        return Influence(values, changes, stores)

    def _at(self, cause: Cause, value: float) -> Arrays | None:
        """The rows with a cause at a value, or None where its parts cannot have it."""
        try:
            changed = with_settings(self.problem.network.circuit, Variant(settings=dict.fromkeys(cause.parts, value)))
            return renumbered(self.problem.network, self.problem.arrays, changed, {name for name, _ in cause.parts}, 0)
        except (NoSuchPlace, Otherwise):
            return None

    def _storing(self) -> dict[str, list[int]]:
        """Devices that hold more or less air by some causes, with these."""
        found: dict[str, list[int]] = {}
        for number, (cause, influence) in enumerate(zip(self.causes, self.found)):
            if influence is not None and influence.stores:
                for name, _ in cause.parts:
                    found.setdefault(name, []).append(number)
        return found

    # --- one run -----------------------------------------------------------------------------------------------------

    def drawn(self, values: Sequence[float]) -> Arrays:
        """The rows with a value for each cause."""
        problem = self.problem
        rows = {name: self.base[name].copy() for name in _ROWS}
        given = {cause.what: value for cause, value in zip(self.causes, values) if not cause.parts}
        for cause, influence, value in zip(self.causes, self.found, values):
            if influence is not None:
                self._put(rows, influence, value)
        flow = rows["el_flow"]
        warmth = given.get(TEMPERATURE, problem.options.temperature) / problem.options.temperature
        flow[self.of_lines] *= given.get(LINES, 1.0)
        flow[self.of_holes] *= given.get(HOLES, 1.0)
        flow[self.pumps] *= given.get(DELIVERY, 1.0) / warmth
        flow[self.others] /= warmth**0.5
        rows["el_inverse"] = 1.0 / (1.0 - rows["el_ratio"])
        changed: dict[str, Any] = {name: row.tolist() for name, row in rows.items()}
        if warmth != 1.0 or self.storing or EXPONENT in given:
            changed |= self._held(values, given.get(EXPONENT, problem.options.exponent), warmth)
        if OPENING in given:
            changed |= {"opening": given[OPENING], "turn": TURN * given[OPENING]}
        return problem.arrays._replace(**changed)

    def _put(self, rows: dict[str, Any], influence: Influence, value: float) -> None:
        values = influence.values
        upper = min(max(bisect(values, value), 1), len(values) - 1)
        share = (value - values[upper - 1]) / (values[upper] - values[upper - 1])
        share = min(_BEYOND, max(1.0 - _BEYOND, share))
        for name, (places, table) in influence.at.items():
            rows[name][places] += (1.0 - share) * table[upper - 1] + share * table[upper]

    def _held(self, values: Sequence[float], exponent: float, warmth: float) -> dict[str, Any]:
        """How much air everything holds. warmth: absolute temperature over that of the middle run."""
        network, a = self.problem.network, self.problem.arrays
        rows = {name: self.base[name].copy() for name in _HELD}
        volumes: dict[int, list[Knots]] = {}
        for name, numbers in self.storing.items():
            device = network.circuit.by_name[name]
            for node, place, knots in _stores(network, device, self._settings(device, numbers, values)):
                volumes.setdefault(node, list(network.volumes[node]))[place] = knots
        moved = [n for n, working in enumerate(network.working) if working] if exponent != self.problem.options.exponent else []
        gas = GAS_CONSTANT * self.problem.options.temperature
        for node in sorted({*volumes, *moved}):
            own = volumes.get(node, network.volumes[node])
            calm = sum(own[place][0].volume for place in network.calm[node])
            pieces = held(summed(tuple(own)), exponent if network.working[node] else 1.0, gas, calm)
            first, last = a.nd_start[node], a.nd_start[node + 1]
            if len(pieces) != last - first or bent(pieces) != (node in a.nd_bend):
                continue  # two bends fell together: it keeps what it held
            for place, (pressure, coefficients) in enumerate(pieces, first):
                rows["pc_pressure"][place] = pressure
                for name, number in zip(_PIECES, coefficients):
                    rows[name][place] = number
            rows["nd_slope"][node] = pieces[0][1][1]
            rows["nd_per"][node] = 0.0 if bent(pieces) else 1.0 / pieces[0][1][1]
        for name in (*_PIECES, "nd_slope"):
            rows[name] /= warmth
        rows["nd_per"] *= warmth
        return {name: row.tolist() for name, row in rows.items()}

    def _settings(self, device: Device, numbers: Sequence[int], values: Sequence[float]) -> Mapping[str, Any]:
        """A part's settings with the values of some causes, and what follows from these."""
        settings = dict(device.settings)
        for number in numbers:
            cause, influence = self.causes[number], self.found[number]
            assert influence is not None
            value = min(max(values[number], influence.values[0]), influence.values[-1])
            settings |= {setting: value for name, setting in cause.parts if name == device.name}
        return {**settings, **following(device.kind, settings)}


def _stores(network: Any, device: Device, settings: Mapping[str, Any]) -> list[tuple[int, int, Knots]]:
    """Node, place among its volumes and volume of all that a part holds."""
    found, used = [], copy({key: list(places) for key, places in network.stored.items() if key[0] == device.name})
    for store in device.kind.stores:
        node = network.node(network.circuit.space_of(device, store.port))
        if node < 0:
            continue
        place = used[device.name, node].pop(0)
        if store.knots is None:
            knots = fixed(store.volume(settings, ATMOSPHERE))
        else:
            knots = tuple(Knot(k.pressure + network.shift, k.volume, k.slope) for k in store.knots(settings))
        found.append((node, place, knots))
    return found
