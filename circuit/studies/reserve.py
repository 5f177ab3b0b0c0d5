"""How many full applications the stored air gives with the engine off, for each store of service air.

Beside each goes the count that the volumes alone give: k/(k + 1) of the gauge pressure is left after each application,
with k the reservoirs over the chambers' rated volume. A real stroke is shorter, so the simulation leaves more; lines
and valves take their share, so it may leave less.
"""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.assumed import Assumed
from circuit.judging.evidence import Evidence
from circuit.judging.limits import has, pressure
from circuit.judging.rule import Figure
from circuit.judging.volumes import Share, shares
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Options, stop_feeding
from circuit.sim.drawn import simulate_drawn
from circuit.studies.band import SPRINGS, assumed_of
from circuit.studies.hands import FOOT, CannotAsk, apply, fed_heads, let_go, standing
from circuit.studies.holding import Held, asked, sets_asking, way_of
from circuit.studies.once import once, simulate
from circuit.studies.spread import Samples, causes_of, plan
from circuit.units import ATMOSPHERE, gauge

APPLICATIONS = 16
"""How many are made; our choice, twice the most that a set we know counts."""
QUESTION = "reserve-too-small"
"""What clauses ask it."""
COUNTED = 8
"""The number after which one looks where no clause says; our choice."""
BY_ITSELF = "brakes by itself"
HALF_TURN = 3.0
"""s that the brakes are held, and s that they are let go, so that all comes to rest; our choice."""


class StoreLeft(NamedTuple):
    """Service reservoirs that are one store. left: absolute Pa in the lowest of them after each application, the first
    entry before any. given: absolute Pa in the lowest chamber it serves during each. counted: what volumes alone leave.
    halves: how many applications leave half the gauge pressure or more; counted_halves: the same by volumes alone.
    left, given: the median of plausible vehicles; worst, best: where 5 and 95 % of them have `left`. every: `left` and `given`
    of each of them."""

    name: str
    tanks: tuple[str, ...]
    ratio: float
    left: tuple[float, ...]
    given: tuple[float, ...]
    counted: tuple[float, ...]
    worst: tuple[float, ...]
    best: tuple[float, ...]
    every: Samples

    @property
    def halves_band(self) -> tuple[int, int]:
        """`halves` where 5 and 95 % of the vehicles have it."""
        return _halves(self.worst), _halves(self.best)

    @property
    def halves(self) -> int:
        return _halves(self.left)

    @property
    def counted_halves(self) -> int:
        return _halves(self.counted)

    def share_left(self, number: int) -> float:
        """Gauge pressure after a number of applications over that before any."""
        return (self.left[number] - ATMOSPHERE) / (self.left[0] - ATMOSPHERE)

    def share_given(self, number: int) -> float:
        """Gauge pressure in the chambers at an application over that at the first. number: from 1."""
        first = self.given[0] - ATMOSPHERE
        return (self.given[number - 1] - ATMOSPHERE) / first if first > 0 else 0.0


class Happened(NamedTuple):
    """A warning or a knob on the way. after: applications made until then."""

    what: str
    after: int
    time: float


class Reserve(NamedTuple):
    """start: absolute Pa in the reservoirs. demand: absolute Pa asked for, None for all the pedal gives. held: what
    clauses ask of it, with the store that has the least."""

    circuit: Circuit
    start: float
    demand: float | None
    stores: tuple[StoreLeft, ...]
    held: tuple[Held, ...]
    happened: tuple[Happened, ...]
    trace: Trace
    assumed: tuple[Assumed, ...]
    notes: tuple[str, ...]

    @property
    def is_met(self) -> bool | None:
        """Whether every limit is kept that is no advice; None where there is none."""
        held = [each.is_met for each in self.held if not each.clause.advisory]
        return all(held) if held else None

    @property
    def stops_at(self) -> int | None:
        """The application from which on the brakes stay on by themselves and take no more air; None if they do not."""
        return min((each.after for each in self.happened if each.what.endswith(BY_ITSELF)), default=None)


def reserve(circuit: Circuit, sets: tuple[str, ...] = (), options: Options = Options()) -> Reserve:
    """Full applications with the engine off. Raises CannotAsk where no service reservoir feeds a chamber."""
    return _reserve(circuit, sets_asking(circuit, QUESTION, sets), options)


@once
def _reserve(circuit: Circuit, sets: tuple[str, ...], options: Options) -> Reserve:
    start, demand, note = _test(circuit, way_of(circuit, QUESTION, sets))
    traces, stores = _played(circuit, start, demand, options)
    trace = traces[0]
    notes = (note,) if note else ()
    return Reserve(circuit, start, demand, stores, tuple(_held(circuit, sets, options)), _happened(circuit, trace),
                   trace, assumed_of(circuit, {chamber.name for chamber in Evidence(circuit).chambers}, SPRINGS),
                   (*notes, "a supply reservoir gives its air too, which the counts by volumes leave out", *trace.notes))


@once
def _played(circuit: Circuit, start: float, demand: float | None, options: Options
            ) -> tuple[list[Trace], tuple[StoreLeft, ...]]:
    """The runs from absolute Pa in the reservoirs, with absolute Pa asked for each time, and what is left in each store."""
    own = [share for share in shares(Evidence(circuit)) if share.rule_total is None]
    if not own:
        raise CannotAsk("no service reservoir here feeds a brake chamber")
    actions = [stop_feeding(head.name, 0.0) for head in fed_heads(circuit, "supply")]
    for number in range(APPLICATIONS):
        at = 2 * HALF_TURN * number
        actions += [*apply(circuit, at, demand, FOOT, rig=demand or start), *let_go(circuit, at + HALF_TURN, FOOT)]
    script = standing(circuit, start, *actions)
    until = 2 * HALF_TURN * APPLICATIONS
    trace, causes = simulate(circuit, script, until, options=options), causes_of(circuit, options)
    spaces = {circuit.store(tank) for share in own for tank in share.tanks}
    spaces |= {circuit.service_space(chamber) for share in own for chamber in share.chambers}
    drawn, rows = [trace], plan(circuit.draws._replace(runs=circuit.draws.slow), len(causes))
    if len(rows) > 1:
        drawn = simulate_drawn(circuit, script, causes, rows, until, options=options,
                               watch=[".".join(circuit.ports_of[space][0]) for space in sorted(spaces)])
    return [trace], tuple(_store(circuit, drawn, share) for share in own)


def _test(circuit: Circuit, clause: Clause | None) -> tuple[float, float | None, str]:
    """Absolute Pa stored at the start and asked for each time, None for all the pedal gives; and what to say of it."""
    if clause is not None and has(clause.procedure, "start"):
        start = pressure(clause.procedure, "start")
        demand = pressure(clause.procedure, "demand") if has(clause.procedure, "demand") else None
        asks = f", {gauge(demand) / 1e5:g} bar asked for" if demand is not None else ""
        stopped = "supply line stopped, " if circuit.is_towed else ""
        return start, demand, f"{stopped}{gauge(start) / 1e5:g} bar stored{asks}"
    if clause is None or _of_full(clause) is not None:
        return full_pressure(circuit), None, ""
    cut_in = min((g.settings["cut-in"] for g in circuit.having(Trait.GOVERNS)), default=full_pressure(circuit))
    return cut_in, None, "from the governor's cut-in; the standard takes a pressure that the maker declares"


def _of_full(clause: Clause) -> float | None:
    """The share of full pressure that a clause asks to be left, if that is what it asks."""
    return next((clause.limit[word] for word in ("share_of_start", "share_of_cut_out") if word in clause.limit), None)


def _held(circuit: Circuit, sets: tuple[str, ...], options: Options) -> Iterator[Held]:
    """What clauses of stored air ask, each from its own start, at the store that has the least; with a further vessel they
    are left out."""
    for one in asked(circuit, QUESTION, sets):
        found = held_by_each(circuit, one, options)
        if found:
            yield min(found, key=lambda held: held.figure.found)


def held_by_each(circuit: Circuit, clause: Clause, options: Options = Options()) -> list[Held]:
    """What a clause asks of the stored air, found at each store by a run; nothing where no run tells it."""
    number, asks = int(clause.procedure["applications"]), circuit.vehicle.declared.get("secondary-at")
    if number >= APPLICATIONS or has(clause.procedure, "vessel"):
        return []
    start, demand, _ = _test(circuit, clause)
    _, stores = _played(circuit, start, demand, options)
    found = []
    for store in stores:
        figure = _figure(store, clause, number, asks)
        if figure is not None:
            runs = [store._replace(left=left, given=given) for left, given in store.every]
            kept = [each for each in runs if (own := _figure(each, clause, number, asks)) is not None and own.margin >= 0]
            found.append(Held(clause, store.name, figure, True, len(kept) / len(runs), len(runs)))
    return found


def _figure(store: StoreLeft, clause: Clause, number: int, asks: float | None) -> Figure | None:
    """What a clause asks of a store after a number of applications. asks: absolute Pa that secondary braking takes."""
    share = _of_full(clause)
    if share is not None:
        return Figure(f"left after {number}", store.share_left(number), share, "fraction")
    if "share_of_first" in clause.limit:
        what = f"application {number} over the first"
        return Figure(what, store.share_given(number), clause.limit["share_of_first"], "fraction")
    if asks is not None:
        return Figure(f"application {number + 1} gives", store.given[number], asks, "pressure")
    return None


def _store(circuit: Circuit, traces: list[Trace], share: Share) -> StoreLeft:
    spaces = [circuit.store(tank) for tank in share.tanks]
    served = [circuit.service_space(chamber) for chamber in share.chambers]
    rest = [2 * HALF_TURN * number for number in range(APPLICATIONS + 1)]
    every = [(tuple(min(each.pressure(space, min(time, each.end)) for space in spaces) for time in rest),
              tuple(min(each.pressure(space, time + HALF_TURN) for space in served) for time in rest[:-1])) for each in traces]
    worst, left, best = (tuple(_at(column, part) for column in zip(*(left for left, _ in every))) for part in (0.05, 0.5, 0.95))
    given = tuple(_at(column, 0.5) for column in zip(*(given for _, given in every)))
    keeps = share.ratio / (share.ratio + 1.0)
    counted = tuple(ATMOSPHERE + (left[0] - ATMOSPHERE) * keeps**number for number in range(APPLICATIONS + 1))
    return StoreLeft(share.name, tuple(tank.name for tank in share.tanks), share.ratio, left, given, counted,
                 worst, best, Samples(every))


def _at(figures: tuple[float, ...], part: float) -> float:
    """The figure below which a part of some lies."""
    return sorted(figures)[round(part * (len(figures) - 1))]


def _halves(left: tuple[float, ...]) -> int:
    half = 0.5 * (left[0] - ATMOSPHERE)
    return next((number - 1 for number, pressure in enumerate(left) if pressure - ATMOSPHERE < half), len(left) - 1)


def _happened(circuit: Circuit, trace: Trace) -> tuple[Happened, ...]:
    found: list[tuple[float, str]] = []
    for switch in circuit.having(Trait.WARNS_LOW):
        time = trace.first_time(circuit.store(switch), switch.settings["on-below"], rising=False)
        if time is not None:
            found.append((time, f"{switch.name} warns"))
    for event in trace.events:
        if event.time <= 0 or event.device not in circuit.by_name:
            continue
        if event.value == 0 and "pushed" in event.variable:
            found.append((event.time, f"{event.device} pops out"))
        elif event.value == 1 and event.variable == "emergency":
            found.append((event.time, f"{event.device} {BY_ITSELF}"))
    lifted: dict[int, list[tuple[float, str]]] = {}
    for chamber in circuit.having(Trait.SPRING_ACTUATOR):
        time = trace.first_time(circuit.spring_space(chamber), chamber.settings["holds-off-at"], rising=False)
        if time is not None:
            lifted.setdefault(_made(time), []).append((time, chamber.name))
    found += [(min(each)[0], f"springs begin to come on: {', '.join(name for _, name in each)}")
              for each in lifted.values()]
    return tuple(Happened(what, _made(time), time) for time, what in sorted(found))


def _made(time: float) -> int:
    """The number of the application under way."""
    return int(time // (2 * HALF_TURN)) + 1
