"""Puts the line that was laid wrong in front of what suffers from it."""

from collections.abc import Iterable

from circuit import rules
from circuit.clauses import asking
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Judgement, not_met
from circuit.verdict.grouping import Asked, key
from circuit.verdict.repairs import Repair, repair

LAID_WRONG = "laid-wrong"


def led(judgements: list[Judgement], evidence: Evidence, asked: Asked) -> list[Judgement]:
    """The judgements with the likeliest single mistake in front. Where one finding stands for all that it heals, the row of the
    mistake stands beside it; where several do, it leads and they follow. What a mend of their own explains stays as it is."""
    faults = [one for one in judgements if one.is_open]
    errors = [one for one in faults if one.severity == "error"]
    broken = [one for one in errors if _duties(one)]
    unhealed = [one for one in errors if not one.answer.mends and not one.answer.figure]
    if not (broken or unhealed) or (len(faults) == 1 and broken and broken[0].answer.mends and not broken[0].answer.guessed):
        return judgements
    found = repair(evidence, asked, frozenset(key(one) for one in unhealed if not _duties(one)))
    if found is None:
        return judgements
    healed = [one for one in faults if not any(found.left[key(each)] for each in (one, *one.follows))]
    if not healed:
        return judgements
    if len(healed) == 1:
        return [_beside(one, found) if one is healed[0] else one for one in judgements]
    rule = rules.find(LAID_WRONG)
    assert rule is not None
    (clause,) = asking(LAID_WRONG)
    answer = not_met(found.thing, found.at, f"{found.thing} is laid wrong: {found.says}; with one change here "
                     f"{len(healed)} findings are gone", found.remedy, also=found.also)
    return [Judgement(rule, clause, answer, rule.severity, follows=tuple(_flat(healed))),
            *(one for one in judgements if not any(one is other for other in healed))]


def _beside(one: Judgement, found: Repair) -> Judgement:
    """A finding with the row of the mistake beside its own, and the change after its own remedy."""
    answer = one.answer
    shown = {answer.at, *(span for span, _ in answer.also)}
    rows = tuple((span, says) for span, says in ((found.at, f"laid wrong: {found.says}"), *found.also) if span not in shown)
    return one._replace(answer=answer._replace(
        also=(*answer.also, *rows), remedy=f"{answer.remedy}; perhaps {found.remedy}" if rows else answer.remedy))


def _duties(one: Judgement) -> bool:
    """Whether a finding is a broken duty, or has one under it."""
    return any(each.answer.known_as for each in (one, *one.follows))


def _flat(broken: Iterable[Judgement]) -> Iterable[Judgement]:
    for one in broken:
        yield one._replace(follows=())
        yield from one.follows
