"""Single faults as rows: those with the same outcome together, each outcome in words, its class above."""

from collections.abc import Iterable
from typing import NamedTuple

from circuit.faults.effect import Effect
from circuit.faults.outcome import Outcome
from circuit.faults.stops import PEDAL
from circuit.faults.study import Rank, rank
from circuit.model.circuit import Circuit
from circuit.report.faults.losses import later, left, lost
from circuit.report.situations import unit_of
from circuit.report.table import Table
from circuit.report.words import FAST, count

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
    Rank.BLIND: "an instrument is dead",
    Rank.USERS: "only what is not a brake",
    Rank.IN_TIME: "nothing in the first stop, something later",
    Rank.NOTHING: "nothing in these stops: some of it matters later, or with a second fault",
}
PLAYED = ("Predicted by simulation, for each fault alone: it comes while driving with everything full, the engine then "
          "stands still, a towing vehicle outside the drawing feeds on. When all is at rest, after two hours at the most, "
          f"the pedal goes all the way down for {PEDAL:.0f} s and up, the vehicle is parked, released, and stops again. "
          "Shares of a force are to the next 5 %. `In time` is proved without a clock: a leak has all the time it "
          "needs, and no air comes from outside; pressures that are kept then are closing pressures of valves.")
COLUMNS = ("outcome", "lost", "is", "then", "left", "by which single faults", "looked at by")


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


def table(circuit: Circuit, told: Iterable[tuple[Outcome, str]], how: str, only: str = "") -> Table:
    """how: they were found out. only: a word that a fault or its outcome must have."""
    every = [(found, when) for found, when in told if only.lower() in _searched(found, unit_of(circuit))]
    found = rows(circuit, every)
    sums = (f"{count(len(every), 'single fault')}, {count(len(found), 'outcome')}, the worst first"
            + (f", with `{only}`" if only else "") + ".")
    cells = tuple((row.title, row.lost, row.what_it_is, row.then, row.left, names(each.effect for each in row.found), "")
                  for row in found)
    return Table("faults", "Fault table", COLUMNS, cells, (sums, how), frozenset({"looked at by"}), wide=frozenset(COLUMNS[1:6]),
                 bands=("outcome",), assumed=bool(circuit.assumed), cards=True)


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
