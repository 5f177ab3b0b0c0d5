"""What a fault does as people meet it: in a stop and in the next one, both played, and in time, as the graph proves it.

The graph gives a leak all the time there is, the pedal held down and no air from outside; a run shows what is there after
some seconds. Where nothing escapes, as behind a blocked line, time changes nothing and the graph, which fills everything
anew, does not know what a line has trapped: there the next stop is told instead.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from circuit.faults.course import Course, course
from circuit.faults.effect import GONE, LESS, Effect
from circuit.faults.sorts import opens_a_way
from circuit.faults.stops import WAITS, Acts, Run, in_part, places, read_following, read_stop, runs
from circuit.faults.study import Rank, Study, badness, differs, has_no_service_brake, rank
from circuit.sim import Options
from circuit.studies.hands import CannotAsk
from circuit.units import ATMOSPHERE

MORE = 0.15
"""Share of a force by which a later state has to differ to be told; our choice."""
PRESSURE = 0.5e5
"""Pa by which it has to; our choice."""


class Worse(NamedTuple):
    """What is worse later. service: axle to the share of its force. springs: axles whose springs come on; stuck: axles
    whose springs do not when parked. heads: name to absolute Pa braking, with the fault and without. tanks: reservoirs that
    are empty. pedal: whether all of it takes the pedal to be down."""

    service: dict[str, float]
    springs: tuple[str, ...]
    stuck: tuple[str, ...]
    heads: dict[str, tuple[float, float]]
    tanks: tuple[str, ...]
    pedal: bool

    def __bool__(self) -> bool:
        return bool(self.service or self.springs or self.stuck or self.heads or self.tanks)


class Outcome(NamedTuple):
    """effect: in time. first, following: in a stop and in the next one; None where nothing could be played. leaks: whether
    the fault opens a way. rests: whether the stop waited until all was at rest. towed: whether a vehicle outside the drawing
    feeds it, as what is told in time leaves out. course: of a leak; None for other faults and where nothing was played."""

    effect: Effect
    first: Effect | None = None
    following: Effect | None = None
    leaks: bool = True
    rests: bool = True
    towed: bool = False
    course: Course | None = None

    @property
    def seen(self) -> Effect:
        """What is told first."""
        return self.first or self.effect

    @property
    def later(self) -> Worse | None:
        """What is worse in time, or in the next stop where nothing escapes; None where nothing is."""
        if self.first is None or self.following is None:
            return None
        found = _worse(self.first, self.effect if self.leaks else self.following, not self.leaks)
        return found if found else None

    @property
    def worst(self) -> Effect:
        """What one has to reckon with: the worst of the stops and, where the fault opens a way, of all the time there is."""
        states = [self.first, self.following, self.effect if self.leaks or self.first is None else None]
        return min((state for state in states if state is not None), key=badness)

    @property
    def rank(self) -> Rank:
        in_time = self.effect if self.leaks and not self.towed else self.following or self.effect
        if has_no_service_brake(in_time):
            return Rank.NO_BRAKE
        at = rank(self.seen)
        return Rank.IN_TIME if at is Rank.NOTHING and self.later is not None else at


def _worse(first: Effect, later: Effect, stop: bool) -> Worse:
    """stop: whether `later` is the next stop; what is parked, and what is towed, is compared then alone."""
    pairs = list(zip(first.axles, later.axles))
    braking = {b.name: b.service for a, b in pairs if b.served and b.service < a.service - MORE}
    lines = {b.name: (b.braking, b.full_braking) for a, b in zip(first.heads, later.heads)
             if stop and b.braking < a.braking - PRESSURE and differs(b.braking, b.full_braking)}
    empty = [b for a, b in zip(first.tanks, later.tanks) if b.is_lost and not a.is_lost and b.role != "regeneration"]
    springs = tuple(b.name for a, b in pairs if b.springs > a.springs + MORE and not (stop and a.lifts < LESS))
    stuck = tuple(b.name for a, b in pairs if b.sprung and b.parks < a.parks - MORE and stop)
    falls = any(b.driving < a.driving - PRESSURE for a, b in zip(first.tanks, later.tanks))
    return Worse(braking, springs, stuck, lines, tuple(tank.name for tank in empty),
                 not springs and not falls and all(tank.driving > ATMOSPHERE + PRESSURE for tank in empty))


def outcomes(study: Study, effects: Sequence[Effect] | None = None, options: Options = Options()) -> tuple[Outcome, ...]:
    """The outcomes of all faults of a study, or of some, the worst first; each is played once."""
    chosen = study.effects if effects is None else effects
    known = study.whole.stops
    new = [effect for effect in chosen if effect.fault not in known]
    try:
        known.update((each.effect.fault, (each.first, each.following, each.rests, each.course))
                     for each in _played(study, new, options))
    except CannotAsk:
        known.update((effect.fault, (None, None, True, None)) for effect in new)
    found = [_outcome(study, effect, *known[effect.fault]) for effect in chosen]
    return tuple(sorted(found, key=lambda each: (each.rank, badness(each.seen), badness(each.effect))))


def _outcome(study: Study, effect: Effect, first: Effect | None, following: Effect | None, rests: bool,
             course: Course | None) -> Outcome:
    return Outcome(effect, first, following, opens_a_way(study.circuit, effect.fault), rests, study.circuit.is_towed, course)


def read_outcome(study: Study, effect: Effect, run: Run) -> Outcome:
    """As a run has it; nothing played where it did not reach its end."""
    sound = run.trace.complete and run.sound.complete
    first, following = (read_stop(study, effect, run, second) if sound else None for second in (False, True))
    return _outcome(study, effect, first, following, run.acts.pedal < WAITS[-1], course(study, effect, run) if sound else None)


def _played(study: Study, effects: Sequence[Effect], options: Options) -> Iterator[Outcome]:
    by_pedal: dict[Acts, list[Outcome]] = {}
    for effect, run in runs(study, effects, options=options, watch=places(study.circuit)):
        found = read_outcome(study, effect, run)
        if any(axle.pedal > GONE and axle.lifts >= LESS for axle in found.seen.axles):
            by_pedal.setdefault(run.acts, []).append(found)
        else:
            yield found
    for acts, some in by_pedal.items():
        traces = in_part(study, [each.effect.fault for each in some], acts, options, places(study.circuit))
        yield from (each._replace(first=read_following(study, each.seen, acts, part)) for each, part in zip(some, traces))
