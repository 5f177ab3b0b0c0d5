"""How fast the reservoirs fill, how long the compressor works for it, and how soon they are full again.

The compressors turn at the speed their size is stated at. From 85 to 100 psi the auxiliaries are shut off, as the test
has it; from empty they are connected and fill too, which is stricter. A towed vehicle by itself is filled by a supply
line that is held at a pressure.
"""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.assumed import Assumed
from circuit.judging.rule import Figure
from circuit.judging.volumes import shares
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Device
from circuit.model.trace import Trace
from circuit.sim import Engine, Options, Rig, Script, Variant
from circuit.studies.band import Band, assumed_of
from circuit.studies.hands import PSI, CannotAsk, fed_heads, pedals, tail_heads
from circuit.studies.holding import EUROPE, US, Held, asked, holding, method
from circuit.studies.knobs import LONGEST, NOTHING, Pushed, from_empty
from circuit.studies.once import once, simulate, simulate_many
from circuit.studies.rounds import Cycle, Recovery, applications, back, cycle
from circuit.units import ATMOSPHERE

SCATTER = 0.1
"""How far a compressor's delivery is taken to scatter; our choice."""
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


class Charge(NamedTuple):
    """build: s from 85 to 100 psi in every supply and service reservoir, with its band; none on a towed vehicle.
    limit: s, or None. line: absolute Pa of the supply line that fills a towed vehicle, else None. rated: absolute Pa
    that `whole` stands for. filled: slowest first. limits: s for the slowest brake reservoir at 65 % and 100 %, or
    None. pushed: what the driver pushed in on the way. held: further limits with their figures. vessel: m3 of what
    stood for a trailer in some of them, 0 without."""

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
    held: tuple[Held, ...]
    vessel: float
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
        held += [each.is_met for each in self.held if not each.clause.advisory]
        return all(held) if held else None

    @property
    def slowest(self) -> Filled | None:
        """The brake reservoir that is full last."""
        return _slowest(self.filled)


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
    recoveries = tuple(applications(circuit, count, options) for count in (1, 5)) if worked else ()
    notes = [f"compressors at the speed their displacement is stated at: {_speeds(makers)}",
             "auxiliaries shut off from 85 to 100 psi, connected from empty"]
    build, filled = _build(circuit, options), _filled(circuit, trace, rated)
    held = [*_building(circuit, build, sets), *_shares(circuit, trace, sets),
            *_back(circuit, sets, options), *_with_auxiliaries(circuit, filled, sets)]
    vessel = 0.0
    if filling is not None and circuit.tows:
        vessel = _vessel(circuit, filling, rated)
        if vessel:
            held += _with_trailer(circuit, vessel, rated, filling, options)
        else:
            notes.append("with a trailer it takes longer, and has longer: write `trailer-load` on the vehicle")
    return Charge(circuit, build, _limit(circuit, asking), asking, None, rated, filled,
                  _filling_limits(filling), filling, pushed, tuple(held), vessel, cycle(circuit, options), recoveries,
                  trace, assumed_of(circuit, {d.name for d in (*makers, *governors, *circuit.having(Trait.DRIES))}),
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
    return Charge(circuit, None, None, None, line, rated, _filled(circuit, trace, rated), (None, None), None, (), (),
                  0.0, None, (), trace, assumed_of(circuit, {d.name for d in circuit.having(Trait.TAKES_SUPPLY_LINE)}),
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


@once
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


def _filling_limits(asking: Clause | None, towing: str = "") -> tuple[float | None, float | None]:
    """s for 65 % and all of the pressure. towing: `towing_` for the run with a trailer."""
    if asking is None:
        return None, None
    return 60.0 * asking.values[f"share_{towing}min"], 60.0 * asking.values[f"whole_{towing}min"]


def _building(circuit: Circuit, build: Band, sets: tuple[str, ...]) -> Iterator[Held]:
    """Other clauses of 85 to 100 psi than the one whose time grows with the reservoirs."""
    for one in asked(circuit, "air-builds-slowly", sets):
        if (one.values.get("from_psi"), one.values.get("to_psi")) == (85, 100) and "ratio" not in one.values:
            yield Held(one, "85 to 100 psi", _time(build.value, one.values["within_s"]), build.value is not None)


def _shares(circuit: Circuit, trace: Trace, sets: tuple[str, ...]) -> Iterator[Held]:
    """Clauses of a share of the cut-out, from empty."""
    high = min((g.settings["cut-out"] for g in circuit.having(Trait.GOVERNS)), default=ATMOSPHERE)
    for one in asked(circuit, "air-builds-slowly", sets):
        if "share_of_cut_out" in one.values and "within_min" in one.values:
            level = ATMOSPHERE + one.values["share_of_cut_out"] * (high - ATMOSPHERE)
            times = [trace.first_time(circuit.store(tank), level) for tank in _brake(circuit)]
            last = None if not times or None in times else max(time for time in times if time is not None)
            yield Held(one, f"every brake reservoir at {100 * one.values['share_of_cut_out']:.0f} % of the cut-out",
                       _time(last, 60.0 * one.values["within_min"]), last is not None)


def _back(circuit: Circuit, sets: tuple[str, ...], options: Options) -> Iterator[Held]:
    """Clauses of the time back to the cut-out: after some applications or, where that is met sooner, from the end of
    the warning."""
    warnings = [switch.settings["on-below"] for switch in circuit.having(Trait.WARNS_LOW)]
    for one in asked(circuit, "air-builds-slowly", sets):
        count, ways = int(one.values.get("applications", 0)), []
        if count and "within_s" in one.values and pedals(circuit):
            ways.append((f"at the cut-out again, after {count} full application{'s' if count > 1 else ''}",
                         back(circuit, options, count), float(one.values["within_s"])))
        if ways and "from_warning_min" in one.values and warnings:
            ways.append(("at the cut-out, from the end of the warning", back(circuit, options, start=max(warnings)),
                         60.0 * one.values["from_warning_min"]))
        if ways:
            says, time, limit = min(ways, key=lambda way: (way[1] if way[1] is not None else LONGEST) / way[2])
            yield Held(one, says, _time(time, limit), time is not None)


def _with_auxiliaries(circuit: Circuit, filled: tuple[Filled, ...], sets: tuple[str, ...]) -> Iterator[Held]:
    """UN R13 Annex 7 A 2.5: the run from empty has the auxiliaries connected."""
    asking = holding(circuit, f"{EUROPE}/Annex 7 A 2.5", sets)
    volumes = {role: sum(float(tank.settings["volume"]) for tank in circuit.reservoirs_for(role))
               for role in ("auxiliary", "supply", "service", "parking")}
    beside, slowest = volumes.pop("auxiliary"), _slowest(filled)
    if asking is not None and slowest is not None and beside > asking.values["auxiliary_share"] * sum(volumes.values()):
        yield Held(asking, f"{slowest.name}, auxiliaries connected",
                   _time(slowest.whole, 60.0 * asking.values["whole_min"]), slowest.whole is not None)


def _vessel(circuit: Circuit, asking: Clause, rated: float) -> float:
    """m3 of the vessel on the supply head that stands for a trailer, 0 where its load is not written."""
    load = circuit.vehicle.declared.get("trailer-load")
    if load is None or not tail_heads(circuit, "supply"):
        return 0.0
    return float(asking.values["trailer_bar_l_t"] * load / 1e3 / ((rated - ATMOSPHERE) / 1e5) * 1e-3)


def _with_trailer(circuit: Circuit, vessel: float, rated: float, asking: Clause, options: Options) -> Iterator[Held]:
    rigs = (Rig(tail_heads(circuit, "supply")[0].name, vessel, name="vessel for the trailer", pressure=ATMOSPHERE),)
    trace, _ = from_empty(circuit, rated, options, lambda trace: _is_full(circuit, trace, rated), rigs)
    slowest = _slowest(_filled(circuit, trace, rated))
    if slowest is not None:
        limits = _filling_limits(asking, "towing_")
        for word, time, limit in zip(("65 %", "100 %"), (slowest.share, slowest.whole), limits):
            assert limit is not None
            yield Held(asking, f"{word} in {slowest.name}, a trailer filled too", _time(time, limit), time is not None)


def _time(found: float | None, limit: float) -> Figure:
    return Figure("time", LONGEST if found is None else found, limit, "time", at_least=False)


def _slowest(filled: tuple[Filled, ...]) -> Filled | None:
    """The brake reservoir that is full last."""
    return next((tank for tank in filled if tank.role in ("supply", "service")), None)


def _speeds(makers: tuple[Device, ...]) -> str:
    return ", ".join(f"{d.title} {60 * d.settings[d.kind.source.speed]:.0f} rpm" for d in makers if d.kind.source)
