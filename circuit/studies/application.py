"""The service brakes put on, or let go, as a clause's procedure says, and when each place is as far as it asks.

A procedure names the start, what counts as applied or released, the speed of the foot, and the test rig.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from circuit.declaring.traits import Trait
from circuit.judging.limits import conductance, has, length, pressure, time, volume
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Options, Rig, Script
from circuit.sim.drawn import simulate_drawn
from circuit.studies.band import QUICK
from circuit.studies.hands import FOOT, RIG_VALVE, apply, fed_heads, let_go, pedals, standing, tail_heads
from circuit.studies.once import once, simulate, simulate_many
from circuit.studies.pathway import Change, Pathway, pathway, with_feeds
from circuit.studies.spread import Spread, causes_of, plan, spread
from circuit.units import ATMOSPHERE

HOLDS = 4.0
"""s that the brakes are held on, and watched after they are let go."""
PIPE_END = 1e-6
"""m3 of what measures at the end of a pipe; our choice."""
LEAST = 0.3e5
"""Pa that a place has at the end, or it counts as never reached; our choice."""
EXPONENT = Options(exponent=QUICK)


class Procedure(NamedTuple):
    """Pressures are absolute Pa.

    start: in the reservoirs; None is the governor's cut-in. at_least: more where the reservoirs are full with more. level:
    what counts as reached; None where `share` of the final gauge pressure does. lets_go_from: in the lowest chamber before
    a release; None for an application. foot: s of the pedal's travel, None where nothing says so. valve: m3/(s Pa) of a
    rig on a fed control head. rig_pipe: m3 on that head. clock: in that pipe when the clock starts, None for at once.
    vessel: m3 on the control head to a vehicle behind. pipe: bore and length, m, of the pipe that measures there instead;
    shares: of the final pressure that count at its end. supply_vessel: m3 on the supply head. note: of the rig.
    """

    start: float | None
    at_least: bool
    level: float | None
    share: float
    lets_go_from: float | None
    foot: float | None
    valve: float
    rig_pipe: float
    clock: float | None
    vessel: float
    pipe: tuple[float, float] | None
    shares: tuple[float, ...]
    supply_vessel: float
    note: str

    @property
    def travel(self) -> float:
        """s of the pedal's travel, common practice where nothing says so."""
        return FOOT if self.foot is None else self.foot

    def stored(self, circuit: Circuit) -> float:
        """In the reservoirs at the start."""
        if self.start is None:
            cut_ins = [governor.settings["cut-in"] for governor in circuit.having(Trait.GOVERNS)]
            return float(min(cut_ins, default=0.9 * full_pressure(circuit)))
        return max(full_pressure(circuit), self.start) if self.at_least else self.start


def procedure_of(circuit: Circuit, how: Mapping[str, Any]) -> Procedure:
    """A clause's procedure for a vehicle."""
    release = has(how, "from") and has(how, "to")
    start = None if how.get("start") == "cut-in" else pressure(how, "start" if has(how, "start") else "start_least")
    bare = circuit.vehicle.vehicle_class in how.get("without_pipe", ())
    pipe = (0.0, 0.0) if bare else (length(how, "pipe_bore"), length(how, "pipe_length")) if has(how, "pipe_bore") else None
    return Procedure(
        start, not has(how, "start"), pressure(how, "to") if has(how, "to") else None, float(how.get("share", 0.0)),
        pressure(how, "from") if release else None, time(how, "application") if has(how, "application") else None,
        conductance(how, "rig") if has(how, "rig") else RIG_VALVE, volume(how, "rig_pipe") if has(how, "rig_pipe") else 0.0,
        pressure(how, "from") if has(how, "from") and not release else None,
        volume(how, "vessel") if has(how, "vessel") else 0.0, pipe, tuple(how.get("coupling_shares", ())),
        volume(how, "supply_vessel") if has(how, "supply_vessel") else 0.0, how.get("rig_note", ""))


class Reached(NamedTuple):
    """A place. coupling: None at a chamber, else which of the shares at a head to a vehicle behind. time: s, with its range.
    pressure: absolute Pa when the brakes are held. path: how the signal came."""

    name: str
    coupling: int | None
    time: Spread
    pressure: float
    path: Pathway


class Played(NamedTuple):
    """start: absolute Pa in the reservoirs. lowest: absolute Pa in the lowest chamber when the brakes are held. run: with every
    value as assumed. complete: whether that run and every drawn one reached its end."""

    how: Procedure
    start: float
    lowest: float
    reached: tuple[Reached, ...]
    run: Trace
    notes: tuple[str, ...]
    complete: bool


@once
def played(circuit: Circuit, how: Procedure, options: Options = EXPONENT) -> Played:
    """A procedure played as assumed, and by plausible vehicles. Raises CannotAsk where nothing applies the brakes."""
    rigs = _rigs(circuit, how)
    demand = how.lets_go_from and _asked(circuit, how, rigs, options)
    script, until = _script(circuit, how, rigs, demand), 2 * HOLDS if demand else HOLDS
    run, places = simulate(circuit, script, until, options=options), _places(circuit, how, rigs)
    causes, drawn = causes_of(circuit, options), []
    shares = plan(circuit.draws, len(causes))
    if places and len(shares) == 1:
        drawn = [run]
    elif places:
        drawn = simulate_drawn(circuit, script, causes, shares, until, options=options, watch=_watched(circuit, places, rigs))
    spaces = [circuit.service_space(chamber) for chamber in circuit.having(Trait.SERVICE_ACTUATOR)]
    notes = []
    if pedals(circuit):
        if how.foot is None:
            notes.append(f"the standard does not say how fast the foot is: it takes {how.travel:g} s over the pedal's whole "
                         "travel")
    elif how.note:
        notes.append(how.note)
    reached = tuple(_reached(circuit, how, rigs, run, drawn, lambda samples, typical: spread(samples, typical, causes, shares)))
    return Played(how, how.stored(circuit), min(run.pressure(space, HOLDS) for space in spaces), reached, run, tuple(notes),
                  all(each.complete for each in (run, *drawn)))


@once
def fed(circuit: Circuit, how: Procedure, options: Options = EXPONENT) -> Played:
    """An application with what the feeds of the valves on its ways cost, which takes further runs."""
    found = played(circuit, how, options)
    script = _script(circuit, how, _rigs(circuit, how), None)
    paths = with_feeds(Change(circuit, found.run, 0.0, HOLDS, 0.0, True), [each.path for each in found.reached],
                       lambda variants: simulate_many(circuit, script, variants, HOLDS, options=options))
    return found._replace(reached=tuple(each._replace(path=path) for each, path in zip(found.reached, paths)))


def _rigs(circuit: Circuit, how: Procedure) -> tuple[Rig, ...]:
    """What is fitted for the test."""
    rigs = [Rig(head.name, how.rig_pipe, name=f"pipe on {head.name}")
            for head in fed_heads(circuit, "control") if how.rig_pipe]
    for head in tail_heads(circuit, "control"):
        if how.pipe is not None:
            rigs.append(Rig(head.name, PIPE_END, *how.pipe, name=f"pipe on {head.name}"))
        elif how.vessel:
            rigs.append(Rig(head.name, how.vessel, name=f"pot on {head.name}"))
    if how.supply_vessel:
        rigs += [Rig(head.name, how.supply_vessel, name=f"vessel on {head.name}") for head in tail_heads(circuit, "supply")]
    return tuple(rigs)


def _script(circuit: Circuit, how: Procedure, rigs: tuple[Rig, ...], demand: float | None) -> Script:
    """demand: absolute Pa asked for before a release; None for an application."""
    start = how.stored(circuit)
    if demand is None:
        return standing(circuit, start, *apply(circuit, 0.0, None, how.travel, how.valve, start), rigs=rigs)
    actions = (*apply(circuit, 0.0, demand, how.travel, how.valve), *let_go(circuit, HOLDS, how.travel, how.valve))
    return standing(circuit, start, *actions, rigs=rigs)


def _asked(circuit: Circuit, how: Procedure, rigs: tuple[Rig, ...], options: Options) -> float:
    """Absolute Pa to ask for so that the lowest chamber has what the release is from; the pedal then stands alike in all
    three runs."""
    assert how.lets_go_from is not None
    demand = how.lets_go_from
    for _ in range(2):
        trial = simulate(circuit, _script(circuit, how, rigs, demand), HOLDS, options=options)
        lowest = min(trial.last(circuit.service_space(c)) for c in circuit.having(Trait.SERVICE_ACTUATOR))
        demand = min(demand + how.lets_go_from - lowest, how.stored(circuit))
    return demand


Placed = tuple[str, int | None, int | str, float]
"""A place: its name, None or which share at a coupling, its space or rig, the share that counts."""


def _places(circuit: Circuit, how: Procedure, rigs: tuple[Rig, ...]) -> list[Placed]:
    """Every chamber, and every head to a vehicle behind that something is fitted to."""
    places: list[Placed] = [
        (chamber.name, None, circuit.service_space(chamber), how.share) for chamber in circuit.having(Trait.SERVICE_ACTUATOR)]
    for head in tail_heads(circuit, "control"):
        rig = next((rig.name for rig in rigs if rig.place == head.name and not rig.name.startswith("vessel")), None)
        if rig is not None:
            places += [(f"{rig}, {share * 100:.0f} %", number, rig, share)
                       for number, share in enumerate(how.shares)] or [(rig, 0, rig, how.share)]
    return places


def _watched(circuit: Circuit, places: list[Placed], rigs: tuple[Rig, ...]) -> list[str]:
    """What the drawn runs keep: the places, and the rigs on which a clock may start."""
    spaces = dict.fromkeys(place for _, _, place, _ in places if isinstance(place, int))
    return [*(".".join(circuit.ports_of[space][0]) for space in spaces), *(rig.name for rig in rigs)]


def _reached(circuit: Circuit, how: Procedure, rigs: tuple[Rig, ...], run: Trace, drawn: Sequence[Trace],
             spread_of: Callable[[list[float | None], float | None], Spread]) -> Iterator[Reached]:
    """Every place, as assumed and over all drawn runs."""
    rising = how.lets_go_from is None
    began, settled = (0.0, HOLDS) if rising else (HOLDS, 2 * HOLDS)
    runs = (run, *drawn)
    clock = [_clock(how, rigs, each) for each in runs]
    changes = Change(circuit, run, began, settled, began, rising)
    for name, coupling, place, share in _places(circuit, how, rigs):
        since = clock if coupling is None else [0.0] * len(runs)
        if how.level is not None:
            reached = [each.first_time(place, how.level, rising, began) for each in runs]
            times = [each if each is None else each - began for each in reached]
            way = pathway(changes, place, how.level)
        else:
            times = [_share_reached(each, place, share, zero) for each, zero in zip(runs, since)]
            way = pathway(replace(changes, since=since[0]), place, _part(run.last(place), share))
        yield Reached(name, coupling, spread_of(times[1:], times[0]), run.pressure(place, HOLDS), way)


def _clock(how: Procedure, rigs: tuple[Rig, ...], run: Trace) -> float:
    """s when the clock starts: at once, or when the rig's pipe has its pressure."""
    if how.clock is None or not rigs:
        return 0.0
    return run.first_time(rigs[0].name, how.clock) or 0.0


def _share_reached(run: Trace, place: int | str, share: float, since: float) -> float | None:
    final = run.last(place)
    if final < ATMOSPHERE + LEAST:
        return None
    when = run.first_time(place, _part(final, share))
    return None if when is None else when - since


def _part(final: float, share: float) -> float:
    """Absolute Pa at a share of a final pressure above the open air."""
    return ATMOSPHERE + share * (final - ATMOSPHERE)
