"""Which single change of a broken design lets most duties be kept again: the line or part that was laid wrong, not its victims.

The changes stand in `alternatives`. One that breaks another duty, or lets a rule find more than before, is no repair.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import NamedTuple

from circuit import duties
from circuit.judging.causes import loose_ends
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Result
from circuit.source import Span
from circuit.verdict.alternatives import Broken, Change
from circuit.verdict.alternatives import changes as possible
from circuit.verdict.grouping import Asked, Found, found_in

TRIALS, SETTLED = 200, 9000
"""How many changes are tried where no duty is broken, and how many states are settled at most in trials of changes."""
CLOSER = 8
"""How many changes that help are held to every rule."""
HEALS = 0.75
"""Share of the broken duties that a change has to let be kept again."""
STATES_OF_LOSS = 3
"""How many states are settled for each store that is lost."""
MANY = 99
"""Loose ends that are counted: of two repairs the one that leaves fewer is the likelier."""


class Repair(NamedTuple):
    """A change, and what it heals. thing, at: the line or part that it is done to; says: what stands there now; remedy: an order.
    also: the other row of an exchange. left: the findings that are there with it done."""

    thing: str
    at: Span
    says: str
    remedy: str
    also: tuple[tuple[Span, str], ...]
    left: Found


def repair(evidence: Evidence, asked: Asked, faults: Broken) -> Repair | None:
    """The change after which the fewest findings are left, of several the first tried; None where no single change helps.

    asked: every rule with its clause. faults: findings of rules that no remedy of their own heals; where no duty is
    broken a change has to heal one of them.
    """
    trial = _Trial(evidence, asked, faults)
    if not trial.before:
        return None
    known, loose_before = found_in(evidence, asked), len(loose_ends(evidence.circuit, MANY))
    best: tuple[Change, Found, int] | None = None
    changes = islice(possible(evidence, trial.before), None if trial.duties else TRIALS)
    for change, mended in islice(trial.helping(changes), CLOSER if trial.duties else CLOSER // 2):
        left = found_in(mended, asked)
        loose = len(loose_ends(mended.circuit, MANY))
        least = (best[1].total(), best[2]) if best else (known.total(), 0)
        if not _by_rule(left) - _by_rule(known) and (left.total(), loose) < least:
            best = change, left, loose
            if not left and loose <= loose_before:
                break
    if best is None:
        return None
    change, left, _ = best
    return Repair(change.thing.name, change.thing.span.outermost, change.says, change.remedy, change.also, left)


def _by_rule(found: Found) -> Counter[str]:
    """Findings by rule: what was found of two stores may be found of one of them with a line mended."""
    counts: Counter[str] = Counter()
    for (name, _), count in found.items():
        counts[name] += count
    return counts


class _Trial:
    """What is broken of a circuit, and how much of it a changed one heals."""

    def __init__(self, evidence: Evidence, asked: Asked, faults: Broken) -> None:
        self.circuit = evidence.circuit
        self.duties = _broken(evidence)
        self.faults = Broken() if self.duties else faults
        names = {name for name, _ in self.faults}
        self.rules = [(rule, clause) for rule, clause in asked if rule.name in names]
        self.before = self.duties or faults
        self.most = int(len(self.duties) * (1 - HEALS)) if self.duties else len(faults) - 1
        self.asked = sorted((duty for duty in duties.every() if duty.name in {name for name, _ in self.duties}), key=self._cost)

    def _cost(self, duty: duties.Duty) -> int:
        """How many states a duty asks for: those that ask for few are asked first, and most changes fail at them."""
        evidence = Evidence(self.circuit)
        for _ in duty.judge(duties.cases_of(evidence)):
            pass
        return _settled(evidence)

    def helping(self, changes: Iterable[Change]) -> Iterator[tuple[Change, Evidence]]:
        """The changes that heal all duties, or a finding, and break none, as they come; then the others, the best first."""
        some: list[tuple[int, Change, Evidence]] = []
        spent = 0
        for change in changes:
            mended = Evidence(change.mend(self.circuit))
            left = self._left(mended)
            spent += _settled(mended)
            if spent > SETTLED:
                break
            if left <= self.most and _broken(mended) <= self.duties:
                if left == 0 or self.faults:
                    yield change, mended
                else:
                    some = sorted((*some, (left, change, mended)), key=lambda one: one[0])[:CLOSER]
        yield from ((change, mended) for _, change, mended in some)

    def _left(self, evidence: Evidence) -> int:
        """How much of what was broken still is; no more is counted once it is more than a repair may leave."""
        left, cases = 0, duties.cases_of(evidence)
        for duty in self.asked:
            for found in duty.judge(cases):
                left += found.kept is duties.Kept.BROKEN and (duty.name, found.place) in self.duties
                if left > self.most:
                    return left
        for rule, clause in self.rules:
            left += len({(rule.name, answer.thing) for answer in rule.check(evidence, clause.values)
                         if answer.result is Result.NOT_MET} & self.faults)
            if left > self.most:
                return left
        return left


def _settled(evidence: Evidence) -> int:
    """About how many states were settled to answer what was asked of a circuit so far."""
    cases = vars(duties.cases_of(evidence))
    return len(vars(evidence)) + len(cases) + len(cases.get("losses", ())) * STATES_OF_LOSS


def _broken(evidence: Evidence) -> Broken:
    """The duties that are broken."""
    return frozenset((each.duty.name, each.found.place) for each in duties.held(evidence) if each.is_broken)
