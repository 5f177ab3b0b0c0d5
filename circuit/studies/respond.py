"""How fast the service brakes come on and let go, at every chamber, and what each part of the way costs.

As the clause asks that is met first in the chosen sets, or as good practice does where none asks. A towed vehicle is fed by
the test rig of that clause.
"""

from collections.abc import Iterable, Sequence
from math import floor
from typing import NamedTuple

from circuit.clauses import ALWAYS, Clause, procedure
from circuit.declaring.traits import Trait
from circuit.judging.assumed import Assumed
from circuit.judging.limits import has
from circuit.judging.limits import time as time_of
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Options
from circuit.studies.application import EXPONENT, Played, Reached, fed, played, procedure_of
from circuit.studies.band import SPRINGS, assumed_of
from circuit.studies.bite import Bite, bites
from circuit.studies.control_line import difference
from circuit.studies.hands import CannotAsk
from circuit.studies.holding import Held, asked, sets_of, way_of
from circuit.studies.once import once
from circuit.studies.pathway import Pathway
from circuit.studies.spread import Spread

APPLICATION, RELEASE, BALANCE = "application-time", "release-time", "control-line-difference"
"""The questions that are asked of it; those at the coupling have one more word."""
AT_COUPLING = "-at-coupling"


class Timed(NamedTuple):
    """One place. name: of the chamber, or of the head with what is fitted to it. time: s with its range. reached: absolute Pa
    at the end. limit: s, or None. path: how the signal came. step: s to which the clause rounds a time before it holds it to
    the limit, or 0."""

    name: str
    time: Spread
    reached: float
    limit: float | None
    clause: Clause | None
    path: Pathway
    step: float = 0.0

    @property
    def margin(self) -> float | None:
        """s to spare until it is, or is rounded to be, above the limit; negative when it is too slow."""
        return None if self.limit is None or self.time.value is None else self.limit + self.step / 2 - self.time.value

    def counted(self, seconds: float) -> float:
        """A time as the clause counts it: rounded to its step, halves upwards."""
        return round(floor(seconds / self.step + 0.5) * self.step, 9) if self.step else seconds

    @property
    def share(self) -> float | None:
        """The share of plausible vehicles that keep the limit, 0 to 1; None where there is no limit."""
        return None if self.limit is None else self.time.within(self.limit, self.counted)

    @property
    def is_met(self) -> bool | None:
        """Whether half of them do, or more; None where there is no limit."""
        return None if self.limit is None else self.time.value is not None and self.counted(self.time.value) <= self.limit

    @property
    def hangs(self) -> bool:
        """Whether the answer turns within the range of what is not known."""
        return self.share is not None and 0.0 < self.share < 1.0


class Response(NamedTuple):
    """applied, released: worst first. method: the set whose procedure is played. start: absolute Pa in the reservoirs.
    target: absolute Pa that counts as applied, None where it is `share` of the final pressure. lets_go_from: absolute Pa of
    the lowest chamber when it is let go. lets_go_to: absolute Pa that counts as released. foot: s of the pedal's travel.
    balance: what the control line loses on its way to a vehicle behind. bites: of a combination, when each vehicle begins to
    brake, with every value as assumed. traces: with every value as assumed."""

    circuit: Circuit
    method: str
    start: float
    target: float | None
    share: float
    foot: float
    lets_go_from: float | None
    lets_go_to: float | None
    applied: tuple[Timed, ...]
    released: tuple[Timed, ...]
    balance: Held | None
    bites: tuple[Bite, ...]
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
def respond(circuit: Circuit, sets: tuple[str, ...] = (), options: Options = EXPONENT) -> Response:
    """Application and release of every service chamber. Raises CannotAsk where there is nothing to apply."""
    first = way_of(circuit, APPLICATION, sets)
    method = ALWAYS if first is None else first.set_name
    on = _played(circuit, APPLICATION, method, options)
    off = _played(circuit, RELEASE, method, options)
    assert on is not None
    on = fed(circuit, on.how, options)
    applied = _held(circuit, APPLICATION, method, sets, on)
    released = () if off is None else _held(circuit, RELEASE, method, sets, off)
    traces = (on.run,) if off is None else (on.run, off.run)
    told = _on_the_way((*worth_a_way(applied), *worth_a_way(released)))
    notes = (*on.notes, *_ends(circuit), *traces[0].notes, *_rounded((*applied, *released)))
    return Response(circuit, method, on.start, on.how.level, on.how.share, on.how.travel,
                    None if off is None else off.lowest, None if off is None else off.how.level, applied, released,
                    _balance(circuit, sets), bites(circuit, on.run), traces, assumed_of(circuit, told, SPRINGS), notes,
                    on.complete and (off is None or off.complete))


def _ends(circuit: Circuit) -> tuple[str, ...]:
    """What is said where tubes do not tell what is in their ends."""
    silent = [device for device in circuit.devices if device.is_line and device.kind.setting("inserts") is not None
              and device.settings.get("inserts") is None]
    return ("tubes whose `inserts` are not written have their whole bore at both ends; half of the vehicles that are drawn have "
            "inserts there, down to 75 % of the bore",) if silent else ()


def _rounded(rows: Iterable[Timed]) -> tuple[str, ...]:
    """What is said where a clause rounds times."""
    return tuple(dict.fromkeys(f"{each.clause.cited} rounds times to {each.step:g} s, halves upwards, before they are held to "
                               "its limit; what is to spare is what there is until it is rounded past the limit"
                               for each in rows if each.step and each.clause is not None))


def _played(circuit: Circuit, question: str, method: str, options: Options) -> Played | None:
    """As a set asks, or as good practice does by itself; None where the set does not ask."""
    asking = way_of(circuit, question, (method,))
    if asking is None and method != ALWAYS:
        return None
    return _answered(circuit, asking.procedure if asking else procedure(question, ()), options)


def _answered(circuit: Circuit, how: "dict[str, object]", options: Options = EXPONENT) -> Played:
    if not circuit.having(Trait.SERVICE_ACTUATOR):
        raise CannotAsk("there is no brake chamber here")
    return played(circuit, procedure_of(circuit, how), options)


def _held(circuit: Circuit, question: str, method: str, sets: tuple[str, ...], found: Played) -> tuple[Timed, ...]:
    """Every place with the first clause of the chosen sets that asks for the same procedure."""
    chambers, heads = ([one for one in asked(circuit, name, sets) if procedure_of(circuit, one.procedure) == found.how]
                       for name in (question, question + AT_COUPLING))
    fastest = _fastest(found)
    return worst_first(held_to(circuit, each, next(iter(heads if each.coupling is not None else chambers), None), fastest)
                       for each in found.reached)


def timed(circuit: Circuit, clause: Clause, at_coupling: bool) -> tuple[tuple[Timed, ...], bool, tuple[Assumed, ...]]:
    """The chambers, or the heads to a vehicle behind, under a clause that asks how soon they are on or off, worst first; and
    whether every run reached its end, and what was assumed on the way to the worst. Raises CannotAsk."""
    found = _answered(circuit, clause.procedure)
    rows = worst_first(held_to(circuit, each, clause, _fastest(found)) for each in found.reached
                       if (each.coupling is not None) == at_coupling)
    return rows, found.complete, assumed_of(circuit, _on_the_way(worth_a_way(rows)), SPRINGS)


def _on_the_way(rows: Iterable[Timed]) -> set[str]:
    """The parts by which the signal came to some places, and these."""
    return {name for each in rows for name in (each.name, *(leg.name for leg in each.path.legs))}


def held_to(circuit: Circuit, found: Reached, clause: Clause | None, fastest: float | None) -> Timed:
    """A place held to what a clause allows it. fastest: s of the quickest chamber, which a coupling may take as long as
    where the clause says so."""
    limit = None if clause is None else allowed(circuit, clause, found.coupling or 0)
    if limit is not None and fastest is not None and clause is not None and clause.limit.get("or_fastest_chamber"):
        limit = max(limit, fastest)
    step = 0.0 if clause is None or not has(clause.limit, "rounded") else time_of(clause.limit, "rounded")
    return Timed(found.name, found.time, found.pressure, limit, clause, found.path, step)


def allowed(circuit: Circuit, clause: Clause, part: int = 0) -> float | None:
    """s that a clause allows this class of vehicle. part: which of several limits, one for each share."""
    vehicle, limits = circuit.vehicle, clause.limit
    words: tuple[str, ...] = ("powered",)
    if circuit.is_towed:
        words = (("dolly", "trailer") if vehicle.vehicle_class == "dolly" else
                 ("towing_trailer",) if vehicle.tows else ("trailer",))
    word = next((word for word in (*words, "within") if has(limits, word)), None)
    if word is None:
        return None
    if isinstance(limits.get("within_s"), list):
        return float(limits["within_s"][part])
    return time_of(limits, word)


def _fastest(found: Played) -> float | None:
    return min((each.time.value for each in found.reached if each.coupling is None and each.time.value is not None),
               default=None)


def _balance(circuit: Circuit, sets: tuple[str, ...]) -> Held | None:
    asking = next(iter(asked(circuit, BALANCE, sets_of(circuit, sets))), None)
    worst = None if asking is None else difference(circuit, asking)
    return None if asking is None or worst is None else Held(asking, worst.place, worst.figure, worst.complete)


def worth_a_way(rows: Sequence[Timed]) -> tuple[Timed, ...]:
    """The places whose way is told: the first, which is the worst, and every one that is late."""
    return tuple(timed for number, timed in enumerate(rows) if number == 0 or timed.is_met is False)


def worst_first(found: Iterable[Timed]) -> tuple[Timed, ...]:
    """The one that never gets there first, then by what is left to its limit, then the slowest."""
    return tuple(sorted(found, key=lambda t: (t.time.value is not None, t.margin if t.margin is not None else 0.0,
                                              -(t.time.value or 0.0))))
