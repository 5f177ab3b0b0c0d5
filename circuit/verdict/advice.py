"""The cheapest change of a design after which all that it misses is met: changes of the trade's sizes, tried together.

Combinations are tried in the order of what they cost, so that the first that meets everything is the cheapest of them; where
there are too many, steps that help most are taken one after another, and what was not needed is undone. Braking and air are
searched apart, and what is found is judged whole.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from circuit import questions
from circuit.clauses import Clause
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Figure, Judgement, Result, Rule
from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.model.draws import Draws
from circuit.studies.hands import CannotAsk
from circuit.studies.respond import timed
from circuit.verdict.judge import Verdict
from circuit.verdict.outcomes import Outcome, outcomes
from circuit.verdict.trade_changes import Change, Prices, cost, of_air, of_lines, of_setting, on_the_way

TRIED = 150
"""Combinations that are tried in the order of their cost; our choice."""
STEPS = 8
"""Steps that are taken one after another where those do not do; our choice."""
QUICK = Draws(8)
"""Plausible vehicles while searching; what is found is judged with all of them."""
FINALISTS = 6
"""Combinations that meet what was searched for and are judged whole, until one breaks nothing else; our choice."""
TIMES = ("application-time", "release-time", "application-time-at-coupling", "release-time-at-coupling")
AIR = ("air-builds-slowly", "reserve-too-small", "reservoirs-too-small")

Build = Callable[[Sequence[str]], Circuit]
"""Rows of the language to the design with them."""


class Missed(NamedTuple):
    """Something that is not met. asked_by: the clause as cited. turns: it is met, but not over the whole range."""

    rule: str
    thing: str
    says: str
    asked_by: str
    figure: Figure | None
    turns: bool


class Advised(NamedTuple):
    """changes: what to do, empty where nothing helps. healed, left: of what was missed. other: every check that
    comes out otherwise beside. tried: how many combinations. exact: whether all cheaper ones were tried. hangs: what
    is met only over a part of the range of what was assumed."""

    circuit: Circuit
    missed: tuple[Missed, ...]
    changes: tuple[Change, ...]
    healed: tuple[Missed, ...]
    left: tuple[Missed, ...]
    other: tuple[Outcome, ...]
    tried: int
    exact: bool
    hangs: tuple[Missed, ...]
    unsearched: tuple[str, ...]

    @property
    def rows(self) -> tuple[str, ...]:
        """The rows to add to the design."""
        return tuple(row for change in self.changes for row in change.rows)


class Target(NamedTuple):
    """What has to be met: a rule under a clause, or a question that a simulation answers."""

    rule: Rule | None
    question: str
    clause: Clause


def missed_of(verdict: Verdict) -> tuple[Missed, ...]:
    """What a verdict finds not met, and what turns within its range."""
    found = [_missed(each, False) for each in verdict.findings if each.is_open]
    found += [_missed(each, True) for each in verdict.judgements if each.result is Result.TURNS]
    found += [Missed(each.question, each.thing, each.says, each.clause.cited, each.figure, True) for each in verdict.predicted
              if each.result is Result.TURNS]
    return tuple(found)


def _missed(each: Judgement, turns: bool) -> Missed:
    return Missed(each.rule.name, each.answer.thing, each.answer.says, each.clause.cited, each.answer.figure, turns)


def advise(verdict: Verdict, build: Build, judged: Callable[[Circuit], Verdict], prices: Prices, whole_band: bool = False,
           tell: Callable[[str], None] = lambda words: None) -> Advised:
    """verdict: of the design, with what simulations say. build: the design with rows added. judged: a whole verdict."""
    circuit = verdict.circuit
    every = missed_of(verdict)
    asked = tuple(each for each in every if whole_band or not each.turns)
    hangs = () if whole_band else tuple(each for each in every if each.turns)
    searches = [_Search(verdict, build, prices, options, names, whole_band) for options, names in _groups(verdict, asked)]
    chosen: list[Change] = []
    tried, exact, best = 0, True, None
    for search in searches:
        tell(f"advise: {circuit.vehicle.name}: {len(search.options)} changes, several together")
        found = search.found()
        tried, exact = tried + search.tried, exact and search.exact
        for changes in [each for number, each in enumerate(found) if search.meets(each) or number == len(found) - 1]:
            tell(f"advise: {circuit.vehicle.name}: judging {', '.join(change.says for change in changes)}")
            after = judged(build(_rows((*chosen, *changes))))
            meets = not _worse(verdict, after) and not _left(after, search.names, whole_band)
            if meets or best is None or _open(after) < _open(best[1]):
                best = (*chosen, *changes), after
            if meets:
                break
        if best is not None:
            chosen = list(best[0])
    if best is None or _open(best[1]) >= _open(verdict) and not whole_band:
        return Advised(circuit, asked, (), (), asked, (), tried, exact, hangs, _unsearched(asked, searches))
    after = best[1]
    still = {(each.rule, each.thing) for each in missed_of(after) if whole_band or not each.turns}
    healed = tuple(each for each in asked if (each.rule, each.thing) not in still)
    return Advised(circuit, asked, tuple(chosen), healed, tuple(each for each in asked if each not in healed),
                   tuple(outcomes(verdict, after, {})), tried, exact, hangs, _unsearched(asked, searches))


def _rows(changes: Sequence[Change]) -> tuple[str, ...]:
    return tuple(row for change in changes for row in change.rows)


def _open(verdict: Verdict) -> int:
    return sum(each.is_open for each in verdict.findings)


def _worse(before: Verdict, after: Verdict) -> bool:
    """Whether something is found that was not found before."""
    known = {(each.rule.name, each.answer.thing) for each in before.findings}
    return any((each.rule.name, each.answer.thing) not in known for each in after.findings if each.is_open)


def _left(after: Verdict, names: Sequence[str], whole_band: bool) -> bool:
    """Whether something of what was searched for is still missed, judged with all plausible vehicles."""
    return any(each.rule in names for each in missed_of(after) if whole_band or not each.turns)


def _unsearched(asked: Sequence[Missed], searches: "Sequence[_Search]") -> tuple[str, ...]:
    """What no size and no setting of the trade could mend: it is laid otherwise, or lacks a part."""
    known = {name for search in searches for name in search.names}
    return tuple(dict.fromkeys(f"{each.rule} at {each.thing}" for each in asked if each.rule not in known))


def _groups(verdict: Verdict, asked: Sequence[Missed]) -> Iterator[tuple[list[Change], tuple[str, ...]]]:
    """The changes that may mend what is missed, with the rules and questions that they are held to: of braking, of air, and of
    each setting."""
    circuit = verdict.circuit
    if any(each.rule in TIMES for each in asked):
        yield list(of_lines(circuit, _slow_ways(verdict))), TIMES
    if any(each.rule in AIR for each in asked):
        yield list(of_air(circuit)), AIR
    for each in asked:
        if each.rule not in (*TIMES, *AIR) and each.figure is not None:
            settings = list(of_setting(circuit, each.thing, each.figure))
            if settings:
                yield settings, (each.rule,)


def _slow_ways(verdict: Verdict) -> Iterator[str]:
    """The lines on the way to each place that is late, or may be, and what feeds the valves there."""
    for target in _targets(verdict, TIMES):
        try:
            rows, _, _ = timed(verdict.circuit, target.clause, target.question.endswith("at-coupling"))
        except CannotAsk:
            continue
        for row in rows:
            if row.is_met is False or row.hangs:
                yield from on_the_way(verdict.circuit, [leg.name for leg in row.path.legs])


def _targets(verdict: Verdict, names: Sequence[str]) -> tuple[Target, ...]:
    """Everything that the verdict's sets ask under some names."""
    found: dict[tuple[str, str], Target] = {}
    for each in verdict.judgements:
        if each.rule.name in names and not each.by_simulation:
            for one in (each, *each.also):
                if not one.rule.bound:
                    found[one.rule.name, one.clause.key] = Target(one.rule, "", one.clause)
    for said in verdict.predicted:
        if said.question in names:
            found[said.question, said.clause.key] = Target(None, said.question, said.clause)
    return tuple(found.values())


class _Search:
    """The combinations of some changes, and how much of what is asked each leaves short."""

    def __init__(self, verdict: Verdict, build: Build, prices: Prices, options: Sequence[Change], names: tuple[str, ...],
                 whole_band: bool) -> None:
        self.build, self.prices, self.options, self.names, self.band = build, prices, list(options), names, whole_band
        self.targets = _targets(verdict, names)
        self.tried, self.exact = 0, True
        self.known: dict[frozenset[int], float] = {}

    def short(self, chosen: frozenset[int]) -> float:
        """How much is missed, as a share of the limits, summed; nothing where all is met."""
        if chosen not in self.known:
            self.tried += 1
            try:
                circuit = replace(self.build(_rows([self.options[n] for n in sorted(chosen)])), draws=QUICK)
            except Unreadable:  # changes that exclude each other, as a line that is cut twice
                self.known[chosen] = float("inf")
            else:
                self.known[chosen] = sum(_short(circuit, target, self.band) for target in self.targets)
        return self.known[chosen]

    def meets(self, changes: Sequence[Change]) -> bool:
        """Whether all that is searched for is met, with all plausible vehicles."""
        circuit = self.build(_rows(changes))
        return all(_short(circuit, target, self.band) == 0.0 for target in self.targets)

    def found(self) -> list[list[Change]]:
        """Combinations that meet all, the cheapest first."""
        found = []
        for chosen in self._in_order():
            if self.short(chosen) == 0.0:
                found.append(chosen)
                if len(found) >= FINALISTS:
                    break
        if not found:
            self.exact = self.tried < TRIED
            found = [each for each in (self._greedy(),) if each] if not self.exact else []
        return [[self.options[n] for n in sorted(chosen)] for chosen in found]

    def _cost(self, chosen: frozenset[int]) -> tuple[float, float, float]:
        return cost((self.options[n] for n in chosen), self.prices)

    def _in_order(self) -> Iterator[frozenset[int]]:
        """Combinations of changes of different things by their cost, up to `TRIED`."""
        number, heap = count(), [((0.0, 0.0, 0.0), 0, frozenset[int]())]
        order = sorted(range(len(self.options)), key=lambda n: self._cost(frozenset((n,))))
        for _ in range(TRIED):
            if not heap:
                return
            _, _, chosen = heappop(heap)
            if chosen:
                yield chosen
            first = max((order.index(n) for n in chosen), default=-1) + 1
            for n in order[first:]:
                if all(self.options[n].of != self.options[m].of for m in chosen):
                    more = chosen | {n}
                    heappush(heap, (self._cost(more), next(number), more))

    def _greedy(self) -> frozenset[int] | None:
        """The step that leaves least short, again and again; then without what was not needed. None where it gets stuck."""
        chosen: frozenset[int] = frozenset()
        for _ in range(STEPS):
            now = self.short(chosen)
            ways = [frozenset({*(m for m in chosen if self.options[m].of != self.options[n].of), n})
                    for n in range(len(self.options)) if n not in chosen]
            best = min(ways, key=lambda way: (self.short(way), self._cost(way)), default=chosen)
            if self.short(best) >= now:
                return None
            chosen = best
            if self.short(chosen) == 0.0:
                for n in sorted(chosen, key=lambda n: self._cost(frozenset((n,))), reverse=True):
                    if self.short(chosen - {n}) == 0.0:
                        chosen = chosen - {n}
                return chosen
        return None


def _short(circuit: Circuit, target: Target, whole_band: bool) -> float:
    """How much of a target is missed, as a share of its limit."""
    worst = 0.0
    if target.rule is not None:
        answers = [(each.result, each.figure) for each in target.rule.check(Evidence(circuit), target.clause.values)]
    else:
        question = questions.find(target.question)
        answers = [] if question is None else [(each.result, each.figure) for each in question.answer(circuit, target.clause)]
    for result, figure in answers:
        fell_short = result is Result.UNDECIDED and target.rule is None
        if result is Result.NOT_MET or fell_short or whole_band and result is Result.TURNS:
            miss = -figure.margin / abs(figure.limit) if figure is not None and figure.limit else 1.0
            worst = max(worst, min(1.0, max(miss, 1e-3)))
    return worst
