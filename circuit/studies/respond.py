"""How fast the service brakes come on and let go, at every chamber, and what each part of the way costs.

As 571.121 S5.3.3 and S5.3.4 time it (100 psi in the reservoirs to 60 psi in the chamber; 95 psi in the chamber to 5),
or as UN R13 Annex 6 does (from cut-in to 75 % of the final pressure, pedal down in 0.2 s). A towed vehicle is fed by
the test rig of that standard.
"""

from collections.abc import Sequence
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.assumed import Assumed
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Options, Rig, Script
from circuit.studies.band import QUICK, SPRINGS, Band, assumed_of, thrice
from circuit.studies.hands import (
    FOOT,
    PSI,
    SMALL_POT,
    CannotAsk,
    apply,
    fed_heads,
    let_go,
    pedals,
    standing,
    tail_heads,
)
from circuit.studies.holding import EUROPE, US, Held, first_holding, holding, method, seconds
from circuit.studies.once import once, simulate, simulate_many
from circuit.studies.pathway import Change, Pathway, pathway, with_feeds
from circuit.studies.timed_lines import difference
from circuit.units import ATMOSPHERE

HOLDS = 4.0
"""s that the brakes are held on, and watched after they are let go."""
EUROPE_FOOT = 0.2
SIMULATOR_VALVE = 1.94e-8
"""m3/(s Pa) of the orifice of UN R13's simulator: 650 kPa behind it bring 385 cm3 and its own 385 cm3 of pipe from 65
to 490 kPa in 0.20 s, as Annex 6 sets it."""
SIMULATOR_PIPE = 385e-6
"""m3 of the simulator's pipe, and of the vessel on a towing vehicle's supply head; UN R13 Annex 6."""
PIPE_BORE, PIPE_LENGTH, PIPE_END = 0.013, 2.5, 1e-6
"""m, m and m3: the pipe on a towing vehicle's control head, and what measures at its end; UN R13 Annex 6."""
SIMULATOR_PRESSURE = ATMOSPHERE + 650e3
SIMULATOR_STARTS = ATMOSPHERE + 65e3


class Timed(NamedTuple):
    """One place. name: of the chamber, or of the head with its pot. time: s with its band. reached: absolute Pa at the
    end. limit: s, or None. path: how the signal came."""

    name: str
    time: Band
    reached: float
    limit: float | None
    clause: Clause | None
    path: Pathway

    @property
    def margin(self) -> float | None:
        """s to spare; negative when it is too slow."""
        return None if self.limit is None or self.time.value is None else self.limit - self.time.value

    @property
    def is_met(self) -> bool | None:
        """None where there is no limit."""
        if self.limit is None:
            return None
        return self.time.value is not None and self.time.value <= self.limit

    @property
    def hangs(self) -> bool:
        """Whether the answer turns within the band."""
        if self.limit is None:
            return False
        ends = [time is not None and time <= self.limit for time in self.time]
        return any(ends) and not all(ends)


class Response(NamedTuple):
    """applied, released: worst first. method: `us-federal` or `un-r13`. start: absolute Pa in the reservoirs. target:
    absolute Pa that counts as applied, None where it is `share` of the final pressure. lets_go_from: absolute Pa of the
    lowest chamber when it is let go. foot: s of the pedal's travel. balance: what the control line loses on its way to
    a vehicle behind. traces: of the middle runs."""

    circuit: Circuit
    method: str
    start: float
    target: float | None
    share: float
    foot: float
    lets_go_from: float | None
    applied: tuple[Timed, ...]
    released: tuple[Timed, ...]
    balance: Held | None
    traces: tuple[Trace, ...]
    assumed: tuple[Assumed, ...]
    notes: tuple[str, ...]
    complete: bool

    @property
    def is_met(self) -> bool | None:
        """Whether every limit is kept; None where there is none."""
        held = [timed.is_met for timed in (*self.applied, *self.released) if timed.is_met is not None]
        held += [] if self.balance is None else [self.balance.is_met]
        return all(held) if held else None


@once
def respond(circuit: Circuit, sets: tuple[str, ...] = (), options: Options = Options(exponent=QUICK)) -> Response:
    """Application and release of every service chamber. Raises CannotAsk where there is nothing to apply."""
    if not circuit.having(Trait.SERVICE_ACTUATOR):
        raise CannotAsk("there is no brake chamber here")
    how = _Europe(circuit, sets) if method(circuit, sets) == EUROPE else _States(circuit, sets)
    on = how.application(options)
    applied = _fed(circuit, how, how.times(on, rising=True), on[0], options)
    released: tuple[Timed, ...] = ()
    traces = [on[0]]
    lets_go_from = None
    if isinstance(how, _States):
        off = how.release(options)
        lets_go_from = min(off[0].pressure(circuit.service_space(chamber), HOLDS)
                           for chamber in circuit.having(Trait.SERVICE_ACTUATOR))
        released = how.times(off, rising=False)
        traces.append(off[0])
    told = (*worth_a_way(applied), *worth_a_way(released))
    worst = {name for timed in told for name in (timed.name, *(leg.name for leg in timed.path.legs))}
    return Response(circuit, how.name, how.start, how.target, how.share, how.foot, lets_go_from, applied, released,
                    _balance(circuit, sets), tuple(traces), assumed_of(circuit, worst, SPRINGS),
                    (*how.notes, *traces[0].notes), all(trace.complete for trace in (*on, *traces)))


def _fed(circuit: Circuit, how: "_States | _Europe", applied: tuple[Timed, ...], run: Trace, options: Options
         ) -> tuple[Timed, ...]:
    """The places with what the feeds of the valves on their ways cost."""
    change = Change(circuit, run, 0.0, HOLDS, 0.0, True)
    paths = with_feeds(change, [timed.path for timed in applied],
                       lambda variants: simulate_many(circuit, how.pressing(), variants, HOLDS, options=options))
    return tuple(timed._replace(path=path) for timed, path in zip(applied, paths))


def _balance(circuit: Circuit, sets: tuple[str, ...]) -> Held | None:
    asking = holding(circuit, f"{US}/S5.3.5", sets)
    worst = None if asking is None else difference(circuit, asking)
    return None if asking is None or worst is None else Held(asking, worst.place, worst.figure, worst.complete)


class _States:
    """571.121 S5.3.3 and S5.3.4."""

    name, share, foot = "us-federal", 0.0, FOOT
    start = ATMOSPHERE + 100 * PSI
    target: float | None = ATMOSPHERE + 60 * PSI
    empty = ATMOSPHERE + 5 * PSI
    high = ATMOSPHERE + 95 * PSI

    def __init__(self, circuit: Circuit, sets: tuple[str, ...]):
        self.circuit, self.sets = circuit, sets
        self.rigs = tuple(Rig(head.name, SMALL_POT, name=f"pot on {head.name}")
                          for head in tail_heads(circuit, "control"))
        self.notes = ["the standard does not say how fast the foot is: it takes "
                      f"{self.foot:g} s over the pedal's whole travel" if pedals(circuit) else
                      "the rig's valve is set to fill 50 in3 to 60 psi in about 0.06 s; the rig's curve was not read"]

    def pressing(self) -> Script:
        actions = apply(self.circuit, 0.0, None, self.foot, rig=self.start)
        return standing(self.circuit, self.start, *actions, rigs=self.rigs)

    def application(self, options: Options) -> tuple[Trace, Trace, Trace]:
        return thrice(self.circuit, self.pressing(), HOLDS, options=options)

    def release(self, options: Options) -> tuple[Trace, Trace, Trace]:
        """Held so that the lowest chamber has 95 psi, then let go; the pedal stands alike in all three runs."""
        demand = self.high
        for _ in range(2):
            trial = simulate(self.circuit, self._held(demand), HOLDS, options=options)
            spaces = [self.circuit.service_space(c) for c in self.circuit.having(Trait.SERVICE_ACTUATOR)]
            lowest = min(trial.last(space) for space in spaces)
            demand = min(demand + self.high - lowest, self._stored())
        return thrice(self.circuit, self._held(demand), 2 * HOLDS, options=options)

    def _stored(self) -> float:
        return max(full_pressure(self.circuit), ATMOSPHERE + 110 * PSI)

    def _held(self, demand: float) -> Script:
        circuit = self.circuit
        actions = (*apply(circuit, 0.0, demand, self.foot), *let_go(circuit, HOLDS, self.foot))
        return standing(circuit, self._stored(), *actions, rigs=self.rigs)

    def times(self, runs: tuple[Trace, Trace, Trace], rising: bool) -> tuple[Timed, ...]:
        circuit, trace = self.circuit, runs[0]
        found: list[Timed] = []
        began, settled = (0.0, HOLDS) if rising else (HOLDS, 2 * HOLDS)
        places: list[tuple[str, int | str, str]] = [
            (c.name, circuit.service_space(c), "S5.3.3" if rising else "S5.3.4")
            for c in circuit.having(Trait.SERVICE_ACTUATOR)]
        places += [(rig.name, rig.name, "S5.3.3.1(b)" if rising else "S5.3.4.1(b)") for rig in self.rigs]
        change = Change(circuit, trace, began, settled, began, rising)
        for name, place, key in places:
            level = self.target if rising else self.empty
            assert level is not None
            reached = [run.first_time(place, level, rising, began) for run in runs]
            times = [time if time is None else time - began for time in reached]
            fastest = min((each.time.value for each in found if each.time.value is not None), default=None)
            found.append(self._timed(name, times, trace.pressure(place, HOLDS), key,
                                     pathway(change, place, level),
                                     fastest))
        return worst_first(found)

    def _timed(self, name: str, times: list[float | None], reached: float, key: str, path: Pathway,
               fastest: float | None) -> Timed:
        """fastest: s of the quickest chamber, which the pot on a control line may take as long as."""
        asking = holding(self.circuit, f"us-federal/{key}", self.sets)
        limit = seconds(self.circuit, asking)
        if key == "S5.3.3.1(b)" and limit is not None and fastest is not None:
            limit = max(limit, fastest)
        return Timed(name, Band(*times), reached, limit, asking, path)


class _Europe:
    """UN R13 Annex 6: 75 % of the final pressure, from cut-in, pedal down in 0.2 s; a trailer from 65 kPa on."""

    name, share, foot = EUROPE, 0.75, EUROPE_FOOT
    target: float | None = None

    def __init__(self, circuit: Circuit, sets: tuple[str, ...]):
        self.circuit, self.sets = circuit, sets
        governors = [g.settings["cut-in"] for g in circuit.having(Trait.GOVERNS)]
        self.start = SIMULATOR_PRESSURE if circuit.is_towed else min(governors, default=0.9 * full_pressure(circuit))
        self.notes = ["the simulator's reservoir is taken as large: Annex 6 has 30 L, which fall by some hundredths"
                      ] if circuit.is_towed else []
        if circuit.is_towed:
            self.rigs = tuple(Rig(head.name, SIMULATOR_PIPE, name=f"pipe on {head.name}")
                              for head in fed_heads(circuit, "control"))
        else:
            own = circuit.vehicle.vehicle_class == "tractor"
            pipe = (0.0, 0.0) if own else (PIPE_BORE, PIPE_LENGTH)
            self.rigs = tuple(Rig(head.name, PIPE_END, *pipe, name=f"pipe on {head.name}")
                              for head in tail_heads(circuit, "control"))
            self.rigs += tuple(Rig(head.name, SIMULATOR_PIPE, name=f"vessel on {head.name}")
                               for head in tail_heads(circuit, "supply"))

    def pressing(self) -> Script:
        actions = apply(self.circuit, 0.0, None, self.foot, valve=SIMULATOR_VALVE, rig=SIMULATOR_PRESSURE)
        return standing(self.circuit, self.start, *actions, rigs=self.rigs)

    def application(self, options: Options) -> tuple[Trace, Trace, Trace]:
        return thrice(self.circuit, self.pressing(), HOLDS, options=options)

    def times(self, runs: tuple[Trace, Trace, Trace], rising: bool) -> tuple[Timed, ...]:
        circuit = self.circuit
        found = []
        keys = (f"{EUROPE}/Annex 6 3.5", "eu-2015-68/Annex III 4.5.1") if circuit.is_towed else (
            f"{EUROPE}/Annex 6 2.4",)
        asking = first_holding(circuit, keys, self.sets)
        limit = None if asking is None else float(asking.values["within_s"])
        began = [self._clock(run) for run in runs]
        for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
            space = circuit.service_space(chamber)
            times = [self._reaches(run, space, self.share, since) for run, since in zip(runs, began)]
            path = self._way(runs[0], space, self.share, began[0])
            found.append(Timed(chamber.name, Band(*times), runs[0].last(space), limit, asking, path))
        if not circuit.is_towed:
            heads = holding(circuit, f"{EUROPE}/Annex 6 2.6", self.sets)
            for head in tail_heads(circuit, "control"):
                for share, word in ((0.10, "first_s"), (0.75, "second_s")):
                    end = f"pipe on {head.name}"
                    times = [self._reaches(run, end, share, 0.0) for run in runs]
                    found.append(Timed(f"{end}, {share * 100:.0f} %", Band(*times), runs[0].last(end),
                                       float(heads.values[word]) if heads else None, heads,
                                       self._way(runs[0], end, share, 0.0)))
        return worst_first(found)

    def _clock(self, run: Trace) -> float:
        """When the clock starts: at once, or on a trailer when its control line has 65 kPa."""
        if not self.circuit.is_towed or not self.rigs:
            return 0.0
        return run.first_time(self.rigs[0].name, SIMULATOR_STARTS) or 0.0

    def _reaches(self, run: Trace, place: int | str, share: float, since: float) -> float | None:
        final = run.last(place)
        if final < ATMOSPHERE + 0.3e5:
            return None
        when = run.first_time(place, _part(final, share))
        return None if when is None else when - since

    def _way(self, run: Trace, place: int | str, share: float, since: float) -> Pathway:
        return pathway(Change(self.circuit, run, 0.0, HOLDS, since, True), place, _part(run.last(place), share))


def worth_a_way(rows: Sequence[Timed]) -> tuple[Timed, ...]:
    """The places whose way is told: the first, which is the worst, and every one that is late."""
    return tuple(timed for number, timed in enumerate(rows) if number == 0 or timed.is_met is False)


def _part(final: float, share: float) -> float:
    """Absolute Pa at a share of a final pressure above the open air."""
    return ATMOSPHERE + share * (final - ATMOSPHERE)


def worst_first(found: list[Timed]) -> tuple[Timed, ...]:
    """The one that never gets there first, then by what is left to its limit, then the slowest."""
    return tuple(sorted(found, key=lambda t: (t.time.value is not None, t.margin if t.margin is not None else 0.0,
                                              -(t.time.value or 0.0))))
