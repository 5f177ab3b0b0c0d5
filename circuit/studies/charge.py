"""How fast the reservoirs fill, how long the compressor works for it, and how soon they are full again.

The compressors turn at the speed their size is stated at. From one pressure to another the auxiliaries are shut off, as
the test has it; from empty they are connected and fill too, which is stricter. A towed vehicle by itself is filled by a
supply line that is held at a pressure.
"""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from circuit.clauses import Clause, procedure
from circuit.declaring.traits import Trait
from circuit.judging.assumed import Assumed
from circuit.judging.evidence import Evidence
from circuit.judging.limits import as_written, has, pressure
from circuit.judging.limits import time as time_of
from circuit.judging.rule import Figure
from circuit.judging.volumes import shares
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.sim import Options, Rig, Script
from circuit.studies.band import assumed_of
from circuit.studies.build_up import brake_reservoirs, build_up_time
from circuit.studies.hands import CannotAsk, fed_heads, pedals, tail_heads
from circuit.studies.holding import Held, asked, sets_asking, sets_of
from circuit.studies.knobs import LONGEST, NOTHING, Pushed, from_empty
from circuit.studies.once import once, simulate
from circuit.studies.spread import Spread
from circuit.studies.rounds import Cycle, Recovery, applications, back, cycle
from circuit.units import ATMOSPHERE

SCATTER = 0.1
"""How far a compressor's delivery is taken to scatter; our choice."""
QUESTION = "air-builds-slowly"
"""What clauses ask it. By what they name they ask for the time from one pressure to another, from empty, back to the cut-out,
with auxiliaries, or to a share of the cut-out."""


class Filled(NamedTuple):
    """A reservoir. share, whole: s from empty until it has a share and all of the rated pressure; None if never. ends:
    absolute Pa that it comes to."""

    name: str
    role: str
    share: float | None
    whole: float | None
    ends: float


class Charge(NamedTuple):
    """build: s from one pressure to another in every supply and service reservoir, over its range; none on a towed
    vehicle. between: these two, in words. limit: s, or None. line: absolute Pa of the supply line that fills a towed
    vehicle, else None. rated: absolute Pa that `whole` stands for; part: the share of it that `share` stands for. filled:
    slowest first. limits: s for the slowest brake reservoir at the share and at 100 %, or None. pushed: what the driver
    pushed in on the way. held: further limits with their figures. vessel: m3 of what stood for a trailer in some of them,
    0 without."""

    circuit: Circuit
    build: Spread | None
    between: str
    limit: float | None
    clause: Clause | None
    line: float | None
    rated: float
    part: float
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
    def kept_by(self) -> float | None:
        """The share of plausible vehicles that are in time from one pressure to the other; None where no limit is."""
        return None if self.limit is None or self.build is None else self.build.within(self.limit)

    @property
    def margin(self) -> float | None:
        """s to spare from one pressure to the other."""
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


def charge(circuit: Circuit, sets: tuple[str, ...] = (), options: Options = Options()) -> Charge:
    """Filling from empty, from one pressure to another, and again after applications. Raises CannotAsk where nothing fills it.
    """
    made = bool(circuit.having(Trait.COMPRESSES))
    return _charge(circuit, sets_asking(circuit, QUESTION, sets) if made else sets_of(circuit, sets), options)


@once
def _charge(circuit: Circuit, sets: tuple[str, ...], options: Options) -> Charge:
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
    asking, how = build_up(circuit, sets)
    filling = next((one for one in asked(circuit, QUESTION, sets) if _fills(one)), None)
    part = _part(filling)
    worked = bool(pedals(circuit)) and bool(circuit.reservoirs_for("service"))
    recoveries = tuple(applications(circuit, count, options) for count in (1, 5)) if worked else ()
    notes = [f"compressors at the speed their displacement is stated at: {_speeds(makers)}",
             f"auxiliaries shut off from {between(how)}, connected from empty"]
    build, filled = build_up_time(circuit, how, options), _filled(circuit, trace, rated, part)
    held = [*_building(circuit, asking, sets, options), *_shares(circuit, trace, sets),
            *_back(circuit, sets, options), *_with_auxiliaries(circuit, filled, sets)]
    vessel = 0.0
    if filling is not None and circuit.tows:
        vessel = _vessel(circuit, filling, rated)
        if vessel:
            held += _with_trailer(circuit, vessel, rated, filling, options)
        else:
            notes.append("with a trailer it takes longer, and has longer: write `trailer-load` on the vehicle")
    return Charge(circuit, build, between(how), _limit(circuit, asking), asking, None, rated, part, filled,
                  _filling_limits(filling), filling, pushed, tuple(held), vessel, cycle(circuit, options), recoveries,
                  trace, assumed_of(circuit, {d.name for d in (*makers, *governors, *circuit.having(Trait.DRIES))}),
                  (*notes, *trace.notes))


def _from_line(circuit: Circuit, sets: tuple[str, ...], options: Options) -> Charge:
    """A towed vehicle filled by its supply line."""
    heads = fed_heads(circuit, "supply")
    if not heads:
        raise CannotAsk("there is no compressor here, and no supply head that a towing vehicle feeds")
    how = procedure("filling-by-supply-line", sets_of(circuit, sets))
    line, rated, part = pressure(how, "held"), pressure(how, "full"), _part(None)
    script, until = Script(pressures={head.name: line for head in heads}), 300.0
    while True:
        trace = simulate(circuit, script, until, start="empty", options=options)
        fed = [space for tank in brake_reservoirs(circuit) if trace.last(space := circuit.store(tank)) > NOTHING]
        if until >= LONGEST or all(trace.last(space) >= rated for space in fed):
            break
        until = min(2 * until, LONGEST)
    return Charge(circuit, None, "", None, None, line, rated, part, _filled(circuit, trace, rated, part), (None, None), None,
                  (), (), 0.0, None, (), trace,
                  assumed_of(circuit, {d.name for d in circuit.having(Trait.TAKES_SUPPLY_LINE)}),
                  ("the supply line is held at its pressure through the head; a compressor is slower: see the towing "
                   "vehicle, or the combination", *trace.notes))


def _is_full(circuit: Circuit, trace: Trace, rated: float) -> bool:
    """Whether the compressor has stopped and every brake reservoir that fills at all has had its pressure."""
    fed = [space for tank in brake_reservoirs(circuit) if trace.last(space := circuit.store(tank)) > NOTHING]
    stopped = any(e.variable == "unloading" and e.value > 0 for e in trace.events)
    return bool(fed) and stopped and all(trace.first_time(space, rated) is not None for space in fed)


def build_up(circuit: Circuit, sets: tuple[str, ...]) -> tuple[Clause | None, Mapping[str, Any]]:
    """The first clause of a time from one pressure to another, if one asks, and between which it is taken."""
    asking = next((one for one in asked(circuit, QUESTION, sets) if has(one.procedure, "to")), None)
    return asking, asking.procedure if asking else procedure("build-up", ())


def _fills(clause: Clause) -> bool:
    """Whether a clause asks for a time from empty to the declared pressure, alone."""
    return has(clause.limit, "share") and has(clause.limit, "whole")


def _part(filling: Clause | None) -> float:
    """The share of the rated pressure that is looked at on the way."""
    return float((filling.procedure if filling else procedure("filling-from-empty", ()))["share"])


def between(how: Mapping[str, Any]) -> str:
    """Two pressures as a clause writes them: `85 to 100 psi`."""
    start, end = as_written(how, "from"), as_written(how, "to")
    (low, unit), (_, other) = start.split(" "), end.split(" ")
    return f"{low if unit == other else start} to {end}"


def _filled(circuit: Circuit, trace: Trace, rated: float, part: float) -> tuple[Filled, ...]:
    level = ATMOSPHERE + part * (rated - ATMOSPHERE)
    found = [Filled(tank.name, tank.settings["role"], trace.first_time(space := circuit.store(tank), level),
                    trace.first_time(space, rated), trace.last(space)) for tank in circuit.reservoirs]
    return tuple(sorted(found, key=lambda each: -(each.whole if each.whole is not None else float("inf"))))


def _limit(circuit: Circuit, asking: Clause | None) -> float | None:
    """The clause's time, where it says so times actual over required volume of supply and service reservoirs."""
    if asking is None:
        return None
    within = time_of(asking.limit, "within")
    if "ratio" not in asking.limit:
        return within
    whole = next((share for share in shares(Evidence(circuit)) if share.rule_total), None)
    if whole is None or not whole.chamber_volume:
        return None
    return float(within * whole.tank_volume / (asking.limit["ratio"] * whole.chamber_volume))


def _filling_limits(asking: Clause | None, towing: str = "") -> tuple[float | None, float | None]:
    """s for the share and all of the pressure. towing: `_towing` for the run with a trailer."""
    if asking is None:
        return None, None
    return time_of(asking.limit, f"share{towing}"), time_of(asking.limit, f"whole{towing}")


def _building(circuit: Circuit, asking: Clause | None, sets: tuple[str, ...], options: Options) -> Iterator[Held]:
    """Other clauses of a time from one pressure to another than the first."""
    for one in asked(circuit, QUESTION, sets):
        limit = _limit(circuit, one) if has(one.procedure, "to") and one is not asking else None
        if limit is not None:
            time = build_up_time(circuit, one.procedure, options).value
            yield Held(one, between(one.procedure), _time(time, limit), time is not None)


def _shares(circuit: Circuit, trace: Trace, sets: tuple[str, ...]) -> Iterator[Held]:
    """Clauses of a share of the cut-out, from empty."""
    high = min((g.settings["cut-out"] for g in circuit.having(Trait.GOVERNS)), default=ATMOSPHERE)
    for one in asked(circuit, QUESTION, sets):
        if "share_of_cut_out" in one.values and has(one.limit, "within"):
            level = ATMOSPHERE + one.values["share_of_cut_out"] * (high - ATMOSPHERE)
            times = [trace.first_time(circuit.store(tank), level) for tank in brake_reservoirs(circuit)]
            last = None if not times or None in times else max(time for time in times if time is not None)
            yield Held(one, f"every brake reservoir at {100 * one.values['share_of_cut_out']:.0f} % of the cut-out",
                       _time(last, time_of(one.limit, "within")), last is not None)


def _back(circuit: Circuit, sets: tuple[str, ...], options: Options) -> Iterator[Held]:
    """Clauses of the time back to the cut-out: after some applications or, where that is met sooner, from the end of
    the warning."""
    warnings = [switch.settings["on-below"] for switch in circuit.having(Trait.WARNS_LOW)]
    for one in asked(circuit, QUESTION, sets):
        count, ways = int(one.values.get("applications", 0)), []
        if count and has(one.limit, "within") and pedals(circuit):
            ways.append((f"at the cut-out again, after {count} full application{'s' if count > 1 else ''}",
                         back(circuit, options, count), time_of(one.limit, "within")))
        if ways and has(one.limit, "from_warning") and warnings:
            ways.append(("at the cut-out, from the end of the warning", back(circuit, options, start=max(warnings)),
                         time_of(one.limit, "from_warning")))
        if ways:
            says, time, limit = min(ways, key=lambda way: (way[1] if way[1] is not None else LONGEST) / way[2])
            yield Held(one, says, _time(time, limit), time is not None)


def _with_auxiliaries(circuit: Circuit, filled: tuple[Filled, ...], sets: tuple[str, ...]) -> Iterator[Held]:
    """A clause of auxiliary reservoirs that hold much: the run from empty has them connected."""
    asking = next((one for one in asked(circuit, QUESTION, sets) if "auxiliary_share" in one.procedure), None)
    volumes = {role: sum(float(tank.settings["volume"]) for tank in circuit.reservoirs_for(role))
               for role in ("auxiliary", "supply", "service", "parking")}
    beside, slowest = volumes.pop("auxiliary"), _slowest(filled)
    if asking is not None and slowest is not None and beside > asking.values["auxiliary_share"] * sum(volumes.values()):
        yield Held(asking, f"{slowest.name}, auxiliaries connected",
                   _time(slowest.whole, time_of(asking.limit, "whole")), slowest.whole is not None)


def _vessel(circuit: Circuit, asking: Clause, rated: float) -> float:
    """m3 of the vessel on the supply head that stands for a trailer, 0 where its load is not written."""
    load = circuit.vehicle.declared.get("trailer-load")
    if load is None or not tail_heads(circuit, "supply"):
        return 0.0
    return float(asking.values["trailer_bar_l_t"] * load / 1e3 / ((rated - ATMOSPHERE) / 1e5) * 1e-3)


def _with_trailer(circuit: Circuit, vessel: float, rated: float, asking: Clause, options: Options) -> Iterator[Held]:
    rigs = (Rig(tail_heads(circuit, "supply")[0].name, vessel, name="vessel for the trailer", pressure=ATMOSPHERE),)
    trace, _ = from_empty(circuit, rated, options, lambda trace: _is_full(circuit, trace, rated), rigs)
    slowest = _slowest(_filled(circuit, trace, rated, _part(asking)))
    if slowest is not None:
        limits = _filling_limits(asking, "_towing")
        for word, time, limit in zip((f"{100 * _part(asking):.0f} %", "100 %"), (slowest.share, slowest.whole), limits):
            assert limit is not None
            yield Held(asking, f"{word} in {slowest.name}, a trailer filled too", _time(time, limit), time is not None)


def _time(found: float | None, limit: float) -> Figure:
    return Figure("time", LONGEST if found is None else found, limit, "time", at_least=False)


def _slowest(filled: tuple[Filled, ...]) -> Filled | None:
    """The brake reservoir that is full last."""
    return next((tank for tank in filled if tank.role in ("supply", "service")), None)


def _speeds(makers: tuple[Device, ...]) -> str:
    return ", ".join(f"{d.title} {60 * d.settings[d.kind.source.speed]:.0f} rpm" for d in makers if d.kind.source)
