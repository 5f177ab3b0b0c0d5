"""How fast the reservoirs fill, how long the compressor works for it, and how soon they are full again.

The compressors turn at the speed their size is stated at. From 85 to 100 psi the auxiliaries are shut off, as the test
has it; from empty they are connected and fill too, which is stricter. A towed vehicle by itself is filled by a supply
line that is held at a pressure.
"""

from typing import NamedTuple

from circuit.clauses import Clause
from circuit.gas.air import GAS_CONSTANT
from circuit.kinds.kind import Trait
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Device
from circuit.model.trace import Trace
from circuit.rules.evidence import Evidence
from circuit.rules.volumes import shares
from circuit.sim import Engine, Options, Script, Variant, simulate, simulate_many
from circuit.studies.band import Assumed, Band, assumed_of
from circuit.studies.hands import FOOT, PSI, CannotAsk, apply, fed_heads, let_go, pedals
from circuit.studies.knobs import LONGEST, NOTHING, Pushed, from_empty
from circuit.studies.limits import EUROPE, US, holding, method
from circuit.studies.once import once
from circuit.units import ATMOSPHERE

SCATTER = 0.1
"""How far a compressor's delivery is taken to scatter; our choice."""
HALT = 4.0
"""s of one application and its release, half each; our choice."""
LEAK_A_MINUTE = 2 * PSI
"""Pa that the stored air may fall in a minute with the brakes released: a single vehicle, driver's manuals."""
APPLICATIONS_A_MINUTE = 1.0
"""Full applications a minute that the duty is worked out for; our choice, hard town driving."""
TOO_LONG = 0.25
"""Share of the time above which a compressor works too long; common practice, no source."""
LINE = {US: (ATMOSPHERE + 125 * PSI, ATMOSPHERE + 100 * PSI), EUROPE: (ATMOSPHERE + 850e3, ATMOSPHERE + 650e3)}
"""Absolute Pa at which a towing vehicle's supply line is held, and that a trailer's reservoirs count as full with: a
governor's usual cut-out and cut-in (model CDL manual 5.3), and the ends of the band of UN R13 Annex 10 3.1.3.1."""
_BUILD = (ATMOSPHERE + 85 * PSI, ATMOSPHERE + 100 * PSI)


class Filled(NamedTuple):
    """A reservoir. share, whole: s from empty until it has 65 % and all of the rated pressure; None if never. ends:
    absolute Pa that it comes to."""

    name: str
    role: str
    share: float | None
    whole: float | None
    ends: float


class Cycle(NamedTuple):
    """The governor's round with a stated use of air. pumping: s from cut-in to cut-out. resting: s until cut-in again, 0
    where the compressor never catches up with the use. by_leak, by_braking: the two parts of the use, kg/s."""

    pumping: float
    resting: float
    by_leak: float
    by_braking: float

    @property
    def duty(self) -> float:
        """Share of the time that the compressor works; 1 where it never catches up."""
        return self.pumping / (self.pumping + self.resting)


class Recovery(NamedTuple):
    """After some full applications with the engine running. lowest: absolute Pa in the lowest service reservoir. again:
    s from the last release until the compressor stops; 0 where it did not start, None if never."""

    applications: int
    lowest: float
    again: float | None


class Charge(NamedTuple):
    """build: s from 85 to 100 psi in every supply and service reservoir, with its band; none on a towed vehicle. limit:
    s, or None. line: absolute Pa of the supply line that fills a towed vehicle, else None. rated: absolute Pa that
    `whole` stands for. filled: slowest first. limits: s for the slowest brake reservoir at 65 % and 100 %, or None.
    pushed: what the driver pushed in on the way."""

    circuit: Circuit
    build: Band | None
    limit: float | None
    clause: Clause | None
    line: float | None
    rated: float
    filled: tuple[Filled, ...]
    limits: tuple[float | None, float | None]
    filling_clause: Clause | None
    pushed: tuple[Pushed, ...]
    cycle: Cycle | None
    recoveries: tuple[Recovery, ...]
    trace: Trace
    assumed: tuple[Assumed, ...]
    notes: tuple[str, ...]

    @property
    def margin(self) -> float | None:
        """s to spare from 85 to 100 psi."""
        if self.limit is None or self.build is None or self.build.value is None:
            return None
        return self.limit - self.build.value

    @property
    def is_met(self) -> bool | None:
        """Whether every limit is kept; None where there is none."""
        held = [] if self.limit is None else [self.margin is not None and self.margin >= 0]
        slowest = self.slowest
        if slowest is not None:
            held += [time is not None and time <= limit for time, limit in
                     zip((slowest.share, slowest.whole), self.limits) if limit is not None]
        return all(held) if held else None

    @property
    def slowest(self) -> Filled | None:
        """The brake reservoir that is full last."""
        brake = [tank for tank in self.filled if tank.role in ("supply", "service")]
        return brake[0] if brake else None


@once
def charge(circuit: Circuit, sets: tuple[str, ...] = (), options: Options = Options()) -> Charge:
    """Filling from empty, from 85 to 100 psi, and again after applications. Raises CannotAsk where nothing fills it."""
    if not circuit.reservoirs:
        raise CannotAsk("there is no reservoir here to be filled")
    makers = circuit.having(Trait.COMPRESSES)
    if not makers:
        return _from_line(circuit, sets, options)
    governors = circuit.having(Trait.GOVERNS)
    if not governors:
        raise CannotAsk("there is no governor here, so nothing says when the reservoirs are full")
    rated = min(governor.settings["cut-in"] for governor in governors)
    trace, pushed = from_empty(circuit, rated, options, lambda trace: _is_full(circuit, trace, rated))
    asking = holding(circuit, f"{US}/S5.1.1", sets)
    filling = holding(circuit, f"{EUROPE}/Annex 7 A 2.4", sets)
    worked = bool(pedals(circuit)) and bool(circuit.reservoirs_for("service"))
    recoveries = tuple(_applications(circuit, count, options) for count in (1, 5)) if worked else ()
    notes = [f"compressors at the speed their displacement is stated at: {_speeds(makers)}",
             "auxiliaries shut off from 85 to 100 psi, connected from empty"]
    if filling is not None and circuit.vehicle.tows:
        notes.append("the vessel that stands for a trailer (20 times its axle load over the pressure) is left out")
    return Charge(circuit, _build(circuit, options), _limit(circuit, asking), asking, None, rated,
                  _filled(circuit, trace, rated), _filling_limits(circuit, filling), filling, pushed,
                  _cycle(circuit, options), recoveries, trace,
                  assumed_of(circuit, {d.name for d in (*makers, *governors, *circuit.having(Trait.DRIES))}),
                  (*notes, *trace.notes))


def _from_line(circuit: Circuit, sets: tuple[str, ...], options: Options) -> Charge:
    """A towed vehicle filled by its supply line."""
    heads = fed_heads(circuit, "supply")
    if not heads:
        raise CannotAsk("there is no compressor here, and no supply head that a towing vehicle feeds")
    line, rated = LINE[method(circuit, sets)]
    script, until = Script(pressures={head.name: line for head in heads}), 300.0
    while True:
        trace = simulate(circuit, script, until, start="empty", options=options)
        fed = [space for tank in _brake(circuit) if trace.last(space := circuit.store(tank)) > NOTHING]
        if until >= LONGEST or all(trace.last(space) >= rated for space in fed):
            break
        until = min(2 * until, LONGEST)
    return Charge(circuit, None, None, None, line, rated, _filled(circuit, trace, rated), (None, None), None, (), None,
                  (), trace, assumed_of(circuit, {d.name for d in circuit.having(Trait.TAKES_SUPPLY_LINE)}),
                  ("the supply line is held at its pressure through the head; a compressor is slower: see the towing "
                   "vehicle, or the combination", *trace.notes))


def _is_full(circuit: Circuit, trace: Trace, rated: float) -> bool:
    """Whether the compressor has stopped and every brake reservoir that fills at all has had its pressure."""
    fed = [space for tank in _brake(circuit) if trace.last(space := circuit.store(tank)) > NOTHING]
    stopped = any(e.variable == "unloading" and e.value > 0 for e in trace.events)
    return bool(fed) and stopped and all(trace.first_time(space, rated) is not None for space in fed)


def _brake(circuit: Circuit) -> tuple[Device, ...]:
    return circuit.reservoirs_for("supply", "service")


def _filled(circuit: Circuit, trace: Trace, rated: float) -> tuple[Filled, ...]:
    level = ATMOSPHERE + 0.65 * (rated - ATMOSPHERE)
    found = [Filled(tank.name, tank.settings["role"], trace.first_time(space := circuit.store(tank), level),
                    trace.first_time(space, rated), trace.last(space)) for tank in circuit.reservoirs]
    return tuple(sorted(found, key=lambda each: -(each.whole if each.whole is not None else float("inf"))))


def without_auxiliaries(circuit: Circuit) -> Circuit:
    """The circuit with everything behind a protection valve cut off where no brake is fed through it."""
    brakes = {circuit.store(tank) for tank in circuit.reservoirs_for("supply", "service", "parking")}
    brakes |= {circuit.service_space(chamber) for chamber in circuit.having(Trait.SERVICE_ACTUATOR)}
    brakes |= {circuit.spring_space(chamber) for chamber in circuit.having(Trait.SPRING_ACTUATOR)}
    cut = []
    for way in circuit.ways:
        if way.passage.keeps and not brakes & _beyond(circuit, way.end, way.start):
            cut.append((way.device.name, way.passage.end))
    return circuit.apart(*dict.fromkeys(cut))


def _beyond(circuit: Circuit, space: int, barred: int) -> set[int]:
    """Every space that air of one could ever come to without passing another or the open air."""
    seen, todo = {space, barred, SPACE_OUTSIDE}, [space]
    while todo:
        for way in circuit.ways_at[todo.pop()]:
            for here, there, passes in ((way.start, way.end, True), (way.end, way.start, way.passage.both_ways)):
                if passes and here in seen and there not in seen:
                    seen.add(there)
                    todo.append(there)
    return seen - {barred, SPACE_OUTSIDE}


def _build(circuit: Circuit, options: Options) -> Band:
    """s until every supply and service reservoir has 100 psi, all of them starting at 85 and auxiliaries shut off."""
    circuit = without_auxiliaries(circuit)
    low, high = _BUILD
    ends = [Variant(f"{100 * factor:.0f} % delivery", delivery=factor) for factor in (1.0, 1 - SCATTER, 1 + SCATTER)]
    until = 60.0
    while True:
        traces = simulate_many(circuit, Script(pressures={"reservoirs": low}), ends, until, engine=Engine(True),
                               options=options)
        times = [[trace.first_time(circuit.store(tank), high) for tank in _brake(circuit)] for trace in traces]
        slowest = [None if not each or None in each else max(t for t in each if t is not None) for each in times]
        if None not in slowest or until >= LONGEST:
            return Band(*slowest)
        until = min(4 * until, LONGEST)


def _limit(circuit: Circuit, asking: Clause | None) -> float | None:
    """25 s times actual over required volume of supply and service reservoirs, as the clause says."""
    whole = next((share for share in shares(Evidence(circuit)) if share.rule_total), None)
    if asking is None or whole is None or not whole.chamber_volume:
        return None
    ratio, within = asking.values.get("ratio", 12), asking.values.get("within_s", 25)
    return float(within * whole.tank_volume / (ratio * whole.chamber_volume))


def _filling_limits(circuit: Circuit, asking: Clause | None) -> tuple[float | None, float | None]:
    if asking is None:
        return None, None
    words = ("share_towing_min", "whole_towing_min") if circuit.vehicle.tows else ("share_min", "whole_min")
    first, second = (asking.values.get(word) for word in words)
    return (None if first is None else 60.0 * first), (None if second is None else 60.0 * second)


def _speeds(makers: tuple[Device, ...]) -> str:
    return ", ".join(f"{d.title} {60 * d.settings[d.kind.source.speed]:.0f} rpm" for d in makers if d.kind.source)


def _full(circuit: Circuit) -> Script:
    """Full reservoirs, the governors having stopped the compressor."""
    return Script(states={(d.name, "unloading"): 1.0 for d in circuit.having(Trait.GOVERNS)})


def _cycle(circuit: Circuit, options: Options) -> Cycle | None:
    """Cut-in to cut-out with all reservoirs at cut-in, knobs in; the rest is air held over air used."""
    governor = circuit.having(Trait.GOVERNS)[0]
    low, high = governor.settings["cut-in"], governor.settings["cut-out"]
    until = 300.0
    while True:
        trace = simulate(circuit, Script(pressures={"reservoirs": low}), until, engine=Engine(True), options=options)
        stops = next((e.time for e in trace.events if e.variable == "unloading" and e.value > 0), None)
        if stops is not None or until >= LONGEST:
            break
        until = min(4 * until, LONGEST)
    if not stops:
        return None
    volume = sum(float(tank.settings["volume"]) for tank in circuit.reservoirs)
    gas = GAS_CONSTANT * options.temperature
    held = volume * (high - low) / gas
    leak = volume * LEAK_A_MINUTE / 60.0 / gas
    braking = _used_by_one(circuit, options) * APPLICATIONS_A_MINUTE / 60.0
    made = held / stops
    pumping = held / (made - leak - braking) if made > leak + braking else float("inf")
    if pumping == float("inf"):
        return Cycle(stops, 0.0, leak, braking)
    return Cycle(pumping, held / (leak + braking), leak, braking)


def _used_by_one(circuit: Circuit, options: Options) -> float:
    """kg of air that one full application takes."""
    script = _full(circuit)
    try:
        actions = (*apply(circuit, 0.0, None, FOOT), *let_go(circuit, HALT / 2, FOOT))
    except CannotAsk:
        return 0.0
    trace = simulate(circuit, Script(actions, states=script.states), HALT, options=options)
    tanks = [(float(tank.settings["volume"]), circuit.store(tank))
             for tank in circuit.reservoirs_for("supply", "service", "parking")]
    lost = sum(volume * (trace.pressure(space, 0.0) - trace.last(space)) for volume, space in tanks)
    return max(0.0, lost) / (GAS_CONSTANT * options.temperature)


def _applications(circuit: Circuit, count: int, options: Options) -> Recovery:
    actions = []
    for number in range(count):
        actions += [*apply(circuit, number * HALT, None, FOOT), *let_go(circuit, number * HALT + HALT / 2, FOOT)]
    since = count * HALT - HALT / 2
    script = Script(tuple(actions), states=_full(circuit).states)
    until = 300.0
    while True:
        trace = simulate(circuit, script, until, engine=Engine(True), options=options)
        lowest = min(trace.lowest(circuit.store(tank)) for tank in circuit.reservoirs_for("service"))
        pumps = [e for e in trace.events if e.variable == "unloading"]
        if not pumps:
            return Recovery(count, lowest, 0.0)
        if pumps[-1].value > 0:
            return Recovery(count, lowest, max(0.0, pumps[-1].time - since))
        if until >= LONGEST:
            return Recovery(count, lowest, None)
        until = min(4 * until, LONGEST)
