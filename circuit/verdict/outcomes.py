"""What a change did to the checks: findings that are new or gone, and what is met by another margin."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from circuit.judging.rule import Figure, Judgement, Result
from circuit.units import alike, shown
from circuit.verdict.judge import Verdict
from circuit.verdict.leading import LAID_WRONG
from circuit.verdict.waivers import WAIVER


class Outcome(NamedTuple):
    """A check that comes out otherwise.

    what: new, gone, worse, accepted, unasked, undecided, decided, or margin. severity: of a finding that is there now, else "".
    clause: as it is cited. row_file: that of the row, "" where it is the design itself.
    """

    what: str
    rule: str
    thing: str
    says: str
    severity: str = ""
    line: int = 0
    clause: str = ""
    row_file: str = ""


_Marked = dict[tuple[str, str], Judgement]


def outcomes(old: Verdict, new: Verdict, names: Mapping[str, str]) -> Iterator[Outcome]:
    """Every check that comes out otherwise. names: old names of things to new ones."""
    before, after = _findings(old, names), _findings(new, {})
    for head in new.findings:
        for found in (head, *head.follows):
            what = _became(before.get((found.rule.name, found.answer.thing)), found)
            if what is None or (found is not head and _became(before.get(_key(head)), head) == "new"):
                continue
            says = found.answer.says
            with_it = [f"{j.rule.name} at {j.answer.thing}" for j in head.follows if _key(j) not in before]
            if found is head and with_it:
                says += f"; with it {', '.join(dict.fromkeys(with_it))}"
            at = found.answer.at.outermost
            yield Outcome(what, *_key(found), says, found.severity, at.line, found.clause.cited,
                          "" if at.source.name == new.circuit.source.name else at.source.name)
    decided = _decided(new)
    for key, found in before.items():
        if key not in after:
            yield _no_finding(found, key, decided)
    yield from _kept(old, new, names, {*before, *after})


def _no_finding(was: Judgement, key: tuple[str, str], decided: Mapping[str, set[tuple[str, bool]]]) -> Outcome:
    """What became of a finding that is not there: it is met now, or its thing is gone; or nobody asks or can tell any more."""
    rule, thing = key
    now = decided.get(rule, set())
    what, why = "gone", ""
    if rule != WAIVER and not was.answer.known_as and rule != LAID_WRONG:
        if not now:
            what, why = "unasked", "; no clause asks for it any more"
        elif (thing, False) in now and (thing, True) not in now:
            what, why = "unasked", "; it cannot be decided any more"
    return Outcome(what, rule, thing, was.answer.says + why, clause=was.clause.cited)


def _decided(verdict: Verdict) -> dict[str, set[tuple[str, bool]]]:
    """By rule the things that it was asked of, and whether it decided; one that is asked and says nothing has one of no name."""
    found: dict[str, set[tuple[str, bool]]] = {
        question: {("", True)} for each in verdict.sets for clause in each.clauses
        if verdict.circuit.is_asked(clause) for question in clause.questions}
    for judgement in verdict.judgements:
        for each in (judgement, *judgement.follows):
            found.setdefault(each.rule.name, set()).add((each.answer.thing, each.result is not Result.UNDECIDED))
    return found


def _became(before: Judgement | None, now: Judgement) -> str | None:
    """What a finding is to a reviewer who knew the old ones, or None where it is as it was."""
    if before is None or (before.waiver and not now.waiver):
        return "accepted" if now.waiver else "new"
    if now.waiver and not before.waiver:
        return "accepted"
    return "worse" if now.severity == "error" and before.severity != "error" else None


def _key(judgement: Judgement) -> tuple[str, str]:
    return judgement.rule.name, judgement.answer.thing


def _findings(verdict: Verdict, names: Mapping[str, str]) -> _Marked:
    """Every finding by rule and thing, those under another one too."""
    found: _Marked = {}
    for judgement in verdict.findings:
        for each in (judgement, *judgement.follows):
            found.setdefault((each.rule.name, _named(each.answer.thing, names)), each)
    return found


def _named(thing: str, names: Mapping[str, str]) -> str:
    head, dot, rest = thing.partition(".")
    return names.get(thing, f"{names[head]}{dot}{rest}" if head in names else thing)


def _kept(old: Verdict, new: Verdict, names: Mapping[str, str], faults: set[tuple[str, str]]) -> Iterator[Outcome]:
    """What is no finding in either: decided in one only, or met by another margin."""
    met_before, met_after = _with_result(old, names, Result.MET), _with_result(new, {}, Result.MET)
    open_before, open_after = _with_result(old, names, Result.UNDECIDED), _with_result(new, {}, Result.UNDECIDED)
    for key, judgement in open_after.items():
        if key in met_before and key not in met_after and key not in faults:
            yield Outcome("undecided", *key, judgement.answer.says, clause=judgement.clause.cited)
    for key, judgement in met_after.items():
        if key in open_before and key not in met_before and key not in faults:
            yield Outcome("decided", *key, judgement.answer.says, clause=judgement.clause.cited)
    was = _figures(old, names)
    for mark, figure in _figures(new, {}).items():
        rule, thing, cited, what = mark
        before = was.get(mark)
        if before is None or (rule, thing) in faults:
            continue
        texts = _margins(before, figure)
        if not alike(*texts):
            yield Outcome("margin", rule, thing, _told(what, before, figure, texts), clause=cited)


def _with_result(verdict: Verdict, names: Mapping[str, str], result: Result) -> _Marked:
    return {(j.rule.name, _named(j.answer.thing, names)): j for j in verdict.judgements if j.result is result}


def _figures(verdict: Verdict, names: Mapping[str, str]) -> dict[tuple[str, str, str, str], Figure]:
    """The figures of what is met by rule, thing, clause and what was compared."""
    drawn = {(j.rule.name, _named(j.answer.thing, names), j.clause.cited, j.answer.figure.what): j.answer.figure
             for j in verdict.judgements if j.result.is_kept and j.answer.figure is not None}
    played = {(one.question, _named(one.thing, names), one.clause.cited, f"predicted {one.figure.what}"): one.figure
              for one in verdict.predicted if one.result.is_kept and one.figure is not None}
    return drawn | played


def _told(what: str, was: Figure, now: Figure, spare: tuple[str, str]) -> str:
    """Both figures: of what was played the times themselves, of what was counted what there is to spare."""
    if what.startswith("predicted "):
        found = shown(was.found, was.dimension), shown(now.found, now.dimension)
        return f"{what}: {found[0]} before, {found[1]} now, limit {shown(now.limit, now.dimension)}"
    return f"{what}: {spare[0]} to spare before, {spare[1]} now"


def _margins(was: Figure, now: Figure) -> tuple[str, str]:
    """What there is to spare before and now; alike where nobody could read a difference."""
    dimension = "difference" if now.dimension == "pressure" else now.dimension
    return shown(was.margin, dimension), shown(now.margin, dimension)
