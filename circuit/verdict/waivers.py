"""What a design accepts of what was found: each waiver the finding of its rule at its place, and nothing that follows from it."""

import os
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime

from circuit import rules
from circuit.clauses import asking
from circuit.judging.rule import Judgement, Result, not_met
from circuit.model.accepting import place
from circuit.model.circuit import Circuit
from circuit.model.devices import Waiver

WAIVER = "waiver-without-finding"


def today() -> date:
    """The day by which waivers end; SOURCE_DATE_EPOCH (seconds) sets it for a run that is to be repeated."""
    fixed = os.environ.get("SOURCE_DATE_EPOCH", "")
    return datetime.fromtimestamp(int(fixed), UTC).date() if fixed.isdigit() and len(fixed) < 12 else date.today()


def is_over(waiver: Waiver) -> bool:
    """Whether its last day has passed."""
    return bool(waiver.until) and date.fromisoformat(waiver.until) < today()


def accepted(judgements: Iterable[Judgement], circuit: Circuit) -> list[Judgement]:
    """The judgements with each finding marked that a waiver accepts by its rule and its place."""
    by_place = {(one.rule, one.at): one for one in circuit.waivers if not is_over(one)}
    if not by_place:
        return list(judgements)
    return [one._replace(waiver=by_place.get(_key(one, circuit)) or by_place.get((one.rule.name, "")))
            if one.result is Result.NOT_MET else one for one in judgements]


def lead_accepted(judgements: list[Judgement], circuit: Circuit) -> list[Judgement]:
    """As `accepted`, for what was found last and leads others: what stood under it comes up again."""
    return [each for one, was in zip(accepted(judgements, circuit), judgements, strict=True)
            for each in ((one._replace(follows=()), *one.follows) if one.waiver and not was.waiver else (was,))]


def idle(judgements: Iterable[Judgement], circuit: Circuit) -> Iterator[Judgement]:
    """A finding for each waiver that accepts nothing, unless it waits for a simulation; an error for one that is over."""
    found = list(judgements)
    used = {_key(one, circuit) for one in found if one.waiver is not None}
    for waiver in circuit.waivers:
        if waiver.is_outside:
            continue
        if is_over(waiver) or ((waiver.rule, waiver.at) not in used and not waits(waiver)):
            yield unused(waiver, found, circuit)


def waits(waiver: Waiver) -> bool:
    """Whether only a simulation can find what a waiver accepts."""
    rule = rules.find(waiver.rule)
    return bool(rule.bound if rule else asking(waiver.rule))


def unused(waiver: Waiver, found: Iterable[Judgement], circuit: Circuit) -> Judgement:
    """The finding that a waiver accepts nothing: it is over, its rule is not known, or its place has no such finding."""
    rule = rules.find(WAIVER)
    assert rule is not None
    severity = rule.severity
    if is_over(waiver):
        severity = "error"
        says = f"this waiver ended with {waiver.until}: {waiver.rule} at {waiver.at} is accepted no longer"
        remedy = "mend what was found, or have it accepted anew"
    elif not asking(waiver.rule):
        says, remedy = f"no rule is called `{waiver.rule}`", "see the names: airwright explain rules"
    else:
        says, remedy = f"this waiver accepts nothing: there is no finding {waiver.rule} at {waiver.at}", "remove the waiver"
        others = dict.fromkeys(each.answer.thing for one in found for each in (one, *one.follows)
                               if each.rule.name == waiver.rule and each.result is Result.NOT_MET)
        if others:
            remedy += "; a waiver accepts one finding, by the place that it names: " + " or ".join(
                f'at "{each}"' for each in list(others)[:4])
    return Judgement(rule, asking(WAIVER)[0], not_met(waiver.at, waiver.span, says, remedy), severity)


def _key(judgement: Judgement, circuit: Circuit) -> tuple[str, str]:
    return judgement.rule.name, place(judgement.answer.thing, circuit.by_name, circuit.vehicle.name)
