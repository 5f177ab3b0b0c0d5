"""All single faults of a design as one record: what each does in a stop, in the next one, and in time.

What every printing of them is made from. Shares are of what the same wheel has without the fault; pressures absolute Pa.
"""

from collections.abc import Sequence
from typing import NamedTuple

from circuit.faults.course import Course
from circuit.faults.effect import Axle, Effect, Head, Tank
from circuit.faults.outcome import Outcome, Worse
from circuit.faults.play import Played, Situation
from circuit.faults.single import Fault
from circuit.faults.study import Rank, rank, worst_in


class Condition(NamedTuple):
    """A vehicle with a fault. braking: share of the axles that still brake, springs too; force: share of the normal
    push-rod force of all that the pedal gives. warned: low-pressure switches that come on; unwarned: service reservoirs that
    empty without one. users: parts without the air they work with; starved: that hold air still, and get none any more.
    unguarded: a loss, and the reservoirs that it takes along. rising: what lets out the air of a compressor that does not
    rest. dead: an instrument that shows nothing. seeps: reservoirs that lose a little while the pedal is down. fills: what
    the vehicle now fills to; null where as ever."""

    braking: float
    force: float
    axles: tuple[Axle, ...]
    tanks: tuple[Tank, ...]
    heads: tuple[Head, ...]
    warned: tuple[str, ...]
    unwarned: tuple[str, ...]
    users: tuple[str, ...]
    starved: tuple[str, ...]
    unguarded: tuple[tuple[str, tuple[str, ...]], ...]
    rising: str
    dead: str
    seeps: tuple[str, ...]
    fills: float | None


class SingleFault(NamedTuple):
    """A fault and what it does. rank: its class. worst_in: the situation in which it does its worst; empty where in none.
    stop, next_stop: played; null where nothing could be. in_time: as the graph proves it, with all the time there is and no
    air from outside. then: what is worse than in the stop, at the next one or in time. rests: whether the stop waited until
    all was at rest. course: how fast a leak is; null for other faults, and where nothing could be played."""

    fault: Fault
    rank: str
    worst_in: str
    stop: Condition | None
    next_stop: Condition | None
    in_time: Condition
    then: Worse | None
    rests: bool
    course: Course | None


class PlayedFault(NamedTuple):
    """A fault as a run plays it. condition: what the run shows."""

    fault: Fault
    rank: str
    worst_in: str
    condition: Condition


class PlayedSituation(NamedTuple):
    """Faults played in one situation. running: whether the engine does. demand: absolute Pa that is asked of the pedal; null
    is all it gives."""

    running: bool
    demand: float | None
    faults: tuple[PlayedFault, ...]


def singles(found: Sequence[Outcome]) -> tuple[SingleFault, ...]:
    """The records of some outcomes."""
    return tuple(map(_single, found))


def in_situation(situation: Situation, found: Sequence[Played]) -> PlayedSituation:
    """The record of some faults in one situation."""
    return PlayedSituation(situation.running, situation.demand, tuple(
        PlayedFault(each.effect.fault, worded(rank(each.effect)), worst_in(each.effect), condition(each.effect))
        for each in found))


def worded(at: Rank) -> str:
    """A class of faults, as records name it."""
    return at.name.lower().replace("_", "-")


def _single(found: Outcome) -> SingleFault:
    stop, following = (None if each is None else condition(each) for each in (found.first, found.following))
    return SingleFault(found.effect.fault, worded(found.rank), worst_in(found.seen), stop, following,
                       condition(found.effect), found.later, found.rests, found.course)


def condition(effect: Effect) -> Condition:
    """An effect as it is told to programs."""
    return Condition(*(getattr(effect, name) for name in Condition._fields))
