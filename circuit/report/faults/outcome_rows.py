"""Single faults as rows: those with the same outcome together, each outcome in words, its class above."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from circuit.faults.effect import Effect
from circuit.faults.outcome import Outcome
from circuit.faults.stops import PEDAL
from circuit.faults.study import Rank, rank
from circuit.model.circuit import Circuit
from circuit.report.faults.losses import later, left, lost
from circuit.report.faults.noticing import do_now, leaking, mends, notices
from circuit.report.situations import unit_of
from circuit.report.table import Table
from circuit.report.words import FAST, count, listed
from circuit.verdict.clause_of_fault import ClausesOfFault

TITLES = {
    Rank.NO_BRAKE: "no service brake left, at once or in time",
    Rank.LESS_BRAKE: "some brakes lost",
    Rank.NO_PARKING: "does not park on all its springs",
    Rank.STUCK: "brakes come on by themselves or stay on",
    Rank.TOWED: "the towed vehicle gets less, or what it should not",
    Rank.WEAKER: "all wheels brake in a stop, some with less force",
    Rank.AIR: "air lost, all brakes still work",
    Rank.UNGUARDED: "hidden: nothing is lost until a second fault",
    Rank.RISING: "the compressor does not rest, or rests at another pressure",
    Rank.BLIND: "an instrument is dead, or tells what is not so",
    Rank.USERS: "only what is not a brake",
    Rank.IN_TIME: "nothing in the first stop, something later",
    Rank.NOTHING: "nothing in these stops: some of it matters later, or with a second fault",
}
PLAYED = ("Predicted by simulation, for each fault alone: it comes while driving with everything full, the engine then "
          "stands still{fed}. When all is at rest, after two hours at the most, "
          f"the pedal goes all the way down for {PEDAL:.0f} s and up, the vehicle is parked, released, and stops again. "
          "Shares of a force are to the next 5 %. `In time` is proved without a clock: a leak has all the time it "
          "needs, and no air comes from outside; pressures that are kept then are closing pressures of valves.")
FED = ", a towing vehicle outside the drawing feeds on"
COLUMNS = ("outcome", "lost", "is", "then", "left", "by which single faults", "leaks and how fast",
           "noticed by the driver", "now to be done", "mended by", "clauses", "looked at by")


class Row(NamedTuple):
    """An outcome in words, and the faults that do it. lost: with the situation; empty where nothing is, and then `what_it_is`
    says what is seen of the part. then: what is worse later."""

    title: str
    lost: str
    what_it_is: str
    then: str
    left: str
    found: tuple[Outcome, ...]


def rows(circuit: Circuit, told: Iterable[tuple[Outcome, str]]) -> list[Row]:
    """told: each with the situation that it is told for."""
    unit = unit_of(circuit)
    same: dict[tuple[str, ...], list[Outcome]] = {}
    for found, when in told:
        takes = lost(found.seen, unit)
        nothing = rank(found.seen) is Rank.NOTHING
        words = ("" if nothing else f"{when}: {takes}" if when else takes, takes if nothing else "", later(found, circuit, unit),
                 left(found.seen, unit))
        same.setdefault((TITLES[found.rank], *(each.replace(FAST, " ") for each in words)), []).append(found)
    return [Row(title, takes, what, then, kept, tuple(alike)) for (title, takes, what, then, kept), alike in same.items()]


def table(circuit: Circuit, told: Iterable[tuple[Outcome, str]], how: str, only: str = "",
          clauses: Mapping[str, ClausesOfFault] = MappingProxyType({})) -> Table:
    """how: they were found out. only: a word that a fault or its outcome must have. clauses: what each fault does to those
    that ask of it."""
    every = [(found, when) for found, when in told if only.lower() in _searched(found, unit_of(circuit))]
    found = rows(circuit, every)
    sums = (f"{count(len(every), 'single fault')}, {count(len(found), 'outcome')}, the worst first"
            + (f", with `{only}`" if only else "") + ".")
    unit = unit_of(circuit)
    cells = tuple((row.title, row.lost, row.what_it_is, row.then, row.left, names(each.effect for each in row.found),
                   *(words.replace(FAST, " ") for words in (
                       leaking(row.found, unit), notices(circuit, row.found), do_now(circuit, row.found[0]),
                       mends(circuit, row.found), BY_ITSELF if circuit.is_combination and clauses else
                       asked_of(row.found, clauses))), "") for row in found)
    return Table("faults", "Fault table", COLUMNS, cells, (sums, how), frozenset({"looked at by"}), wide=frozenset(COLUMNS[1:-1]),
                 bands=("outcome",), assumed=bool(circuit.assumed), cards=True)


BY_ITSELF = "asked of each vehicle by itself: see its own table"
JOINED = " \u00b7 "
"""Between what a sheet has in one cell and other prints in several."""


def on_paper(told: Table) -> Table:
    """The table with its sentences put together, so that a sheet has room for them."""
    def cells(row: tuple[str, ...]) -> tuple[str, ...]:
        title, lost, what, then, kept, by, fast, noticed, now, mended, clauses, looked = row
        more = (("leaks", fast), ("noticed", noticed), ("now", now), ("mended by", mended))
        return (title, JOINED.join(filter(None, (lost, what, then))), kept, by,
                JOINED.join(f"{word}: {says}" for word, says in more if says), clauses, looked)

    columns = ("outcome", "lost", "left", "by which single faults", "noticed, now, mended by", "clauses", "looked at by")
    return told._replace(columns=columns, rows=tuple(map(cells, told.rows)), wide=frozenset(columns[1:-1]))


def asked_of(found: Iterable[Outcome], clauses: Mapping[str, ClausesOfFault]) -> str:
    """Which clauses the faults of a row break, keep or leave open, or that none asks."""
    if not clauses:
        return ""
    says: dict[tuple[str, str], list[str]] = {}
    silent = []
    for each in found:
        name = each.effect.fault.name
        held = clauses.get(name, ClausesOfFault())
        silent += [] if held.is_asked else [name]
        for word, keys in (("broken", held.breaks), ("cannot be decided", held.open), ("kept", held.keeps)):
            for key in keys:
                says.setdefault((word, key), []).append(name)
    told: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for (word, key), named in says.items():
        told.setdefault((word, tuple(named)), []).append(key)
    of_all = len(silent) + len({name for named in says.values() for name in named})
    rows = [f"{word}: {', '.join(keys)}" + ("" if len(named) == of_all else f" (by {listed(named, 3)})")
            for (word, named), keys in told.items()]
    if silent:
        rows.append("no clause asks" + (f" of {listed(silent, 3)}" if says else ""))
    return "; ".join(rows)


def _searched(found: Outcome, unit: str) -> str:
    fault = found.effect.fault
    return " ".join((fault.name, fault.says, lost(found.seen, unit), TITLES[found.rank])).lower()


def names(effects: Iterable[Effect]) -> str:
    """Faults with their parts, the failures of one part together: `pri: burst, leaks; dryer: blocked`."""
    parts: dict[str, list[str]] = {}
    for effect in effects:
        part, _, failure = effect.fault.name.partition(": ")
        parts.setdefault(part, []).append(failure)
    return "; ".join(f"{part}: {', '.join(failures)}" for part, failures in parts.items())
