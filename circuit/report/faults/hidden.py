"""Faults that no ordinary use shows: the second fault that each makes worst, and how a workshop proves the part.

One record for `--pairs`, the papers, JSON and CSV.
"""

from collections.abc import Sequence
from typing import NamedTuple

from circuit.faults.pairs import as_proved, pairs
from circuit.faults.record import Condition, condition, worded
from circuit.faults.single import Fault
from circuit.faults.study import Study, rank
from circuit.model.circuit import Circuit
from circuit.report.faults.losses import lost
from circuit.report.faults.mending import PROVED, proof_of
from circuit.report.situations import unit_of
from circuit.report.table import Table
from circuit.report.words import FAST, SHOP, count

COLUMNS = ("place in the order of proofs", "hidden fault", "second fault", "lost by both", "done on purpose", "seen then")
ASSUMED = ("Predicted with air at rest, for each fault alone: it comes while driving with everything full, the engine "
           "then stands still, and a leak has all the time it needs. Pressures that are kept are closing pressures of "
           "valves; more is kept where a compressor pumps against the leak.")
ORDER = ("They stand in the order in which a workshop proves them: what a drain shows first, reservoir by reservoir, and of each "
         "what is only looked at before what takes the pedal or a wait.")


class Hidden(NamedTuple):
    """A fault that no ordinary use shows. place: in the order in which a workshop proves all of a design. second: the fault
    that it makes worst. rank, together: of both. lost: by both, in words. done: what a workshop does on purpose; empty where
    the part is proved by itself. seen: what it looks at then."""

    place: int
    first: Fault
    second: Fault
    rank: str
    together: Condition
    lost: str
    done: str
    seen: str


def hidden_faults(study: Study, only: str = "") -> tuple[Hidden, ...]:
    """Those of a design, in the order of proofs. only: a word that a fault, or what is lost or done, must have."""
    unit = unit_of(study.circuit)
    every = (Hidden(place, pair.first.fault, pair.second.fault, worded(rank(pair.together)), condition(pair.together),
                    *(words.replace(FAST, " ") for words in (lost(pair.together, unit), *proof_of(study, pair, unit))))
             for place, pair in enumerate(as_proved(study, pairs(study)), 1))
    return tuple(each for each in every if only.lower() in " ".join(_cells(each)).lower())


def hidden_table(circuit: Circuit, found: Sequence[Hidden], only: str = "") -> Table:
    """only: the word that was asked for."""
    with_word = f", with `{only}`" if only else ""
    notes = (f"{count(len(found), 'fault')} that no ordinary use shows{with_word}, each with the second that it makes worst, and "
             "how a workshop proves the part.", f"Each proof begins with {PROVED}. {ORDER}", ASSUMED, SHOP)
    return Table("hidden-faults", "Hidden faults and how a workshop proves them", COLUMNS, tuple(map(_cells, found)),
                 tuple(note.replace(FAST, " ") for note in notes), numbers=frozenset(COLUMNS[:1]), wide=frozenset(COLUMNS[1:]),
                 assumed=bool(circuit.assumed), cards=True)


def _cells(each: Hidden) -> tuple[str, ...]:
    return str(each.place), f"{each.first.name}: {each.first.says}", each.second.name, each.lost, each.done, each.seen
