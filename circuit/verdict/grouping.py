"""Put every finding that follows from a mistake under that mistake, so that one swapped line is one finding.

A finding with mends shows the circuit as it would be with its remedy done. What is not found there follows from it.
"""

from collections import Counter

from circuit.clauses import Clause
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Judgement, Mend, Result, Rule
from circuit.model.circuit import Circuit

Asked = list[tuple[Rule, Clause]]
Found = Counter[tuple[str, str]]
"""Findings by rule and thing."""

MOST_TRIALS = 60
"""How many mended circuits are judged at most; a design with more slips than that is shown ungrouped beyond them."""

LARGE = 600
"""Things and lines beyond which fewer are tried, so that the cost of a design grows with its size alone."""


def affordable(trials: int, circuit: Circuit) -> int:
    """How many changed circuits of this size may be judged, of so many for a usual one; our choice, a vehicle has some 200."""
    return max(4, trials * LARGE // max(LARGE, len(circuit.devices)))


def grouped(judgements: list[Judgement], circuit: Circuit, asked: Asked) -> list[Judgement]:
    """The judgements with consequences under their mistakes.

    A mistake that names itself comes before one whose mends are guesses, an error before a warning, and of these the
    one that explains most. A mistake that vanishes with another is none of its own. What only goes when all are mended
    stands under the first. What a waiver accepts takes nothing with it, and stands under nothing: it was accepted alone.
    """
    faults = [j for j in judgements if j.is_open]
    before = Counter(key(j) for j in faults)
    trials: dict[int, tuple[Mend, Found]] = {}
    left = affordable(MOST_TRIALS, circuit)
    for root in sorted((j for j in faults if j.answer.mends), key=lambda j: j.answer.guessed):
        best = [(mend, _vanishing(mend(circuit), before, asked)) for mend in root.answer.mends[:max(0, left)]]
        left -= len(best)
        if best:
            trials[id(root)] = max(best, key=lambda trial: trial[1].total())
    roots = sorted((j for j in faults if id(j) in trials),
                   key=lambda j: (j.answer.guessed, j.severity != "error", -trials[id(j)][1].total()))
    under: dict[int, list[Judgement]] = {}
    gone: set[int] = set()

    def take(root: Judgement, vanishing: Found) -> None:
        follows = [j for j in faults
                   if j is not root and id(j) not in gone and id(j) not in under and vanishing[key(j)]]
        gone.update(id(j) for j in follows)
        under.setdefault(id(root), []).extend(follows)

    for root in roots:
        if id(root) not in gone:
            take(root, trials[id(root)][1])
    heads = [root for root in roots if id(root) in under]
    if len(heads) > 1:
        mended = circuit
        for root in heads:
            mended = trials[id(root)][0](mended)
        take(heads[0], _vanishing(mended, before, asked))
    return [j._replace(follows=tuple(under.get(id(j), ()))) for j in judgements if id(j) not in gone]


def key(judgement: Judgement) -> tuple[str, str]:
    return judgement.rule.name, judgement.answer.thing


def found_in(evidence: Evidence, asked: Asked) -> Found:
    """What every rule that is asked finds of a circuit."""
    return Counter((rule.name, s.thing) for rule, asking in asked
                   for s in rule.check(evidence, asking.values) if s.result is Result.NOT_MET)


def _vanishing(mended: Circuit, before: Found, asked: Asked) -> Found:
    """The findings that a mended circuit has no more."""
    return before - found_in(Evidence(mended), asked)
