"""What is wrong with a design and what was found of it, at its places, for an editor to show."""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.judging.rule import Judgement
from circuit.mistake import Mistake
from circuit.source import Span
from circuit.editor.desk import Desk
from circuit.editor.spots import Range, range_of
from circuit.verdict.judge import Verdict, consequence
from circuit.verdict.standing import HANGS

MISTAKE = "unreadable"
"""The code of what is no finding of a rule but a mistake of the text."""


class Problem(NamedTuple):
    """One thing to show. severity: error, warning or note. code: the rule, whose lesson `explain` prints. more: other places
    with what they are. path: the file it stands in."""

    path: str
    at: Range
    severity: str
    code: str
    says: str
    more: tuple[tuple[str, Range, str], ...] = ()


def of_text(desk: Desk, path: str) -> list[Problem]:
    """The mistakes alone: names and settings are looked up, nothing is judged."""
    return [_of_mistake(one) for one in desk.known(path).mistakes]


def problems(desk: Desk, path: str) -> list[Problem]:
    """Mistakes, and findings that stand, each at its outermost place; of a rig those of its vehicles' own files too."""
    found = of_text(desk, path)
    verdict = desk.verdict(path)
    if found and verdict is not None:
        hanging = sum(one.answer.missing.startswith(HANGS) for one in verdict.judgements)
        if hanging:
            found[0] = found[0]._replace(says=f"{found[0].says}\n{hanging} checks hang on "
                                         f"{'it' if len(found) == 1 else 'these mistakes'} and are not decided")
    if verdict is not None:
        found += [_of_finding(one) for one in _findings(verdict)]
    return list(dict.fromkeys(found))


def _findings(verdict: Verdict) -> Iterator[Judgement]:
    yield from (one for one in verdict.findings if one.is_open)
    for _, own in verdict.vehicles:
        yield from _findings(own)


def _of_mistake(one: Mistake) -> Problem:
    more = ((one.other[0], one.other[1]),) if one.other else ()
    inside = ((one.at, "in the assembly"),) if one.at.via else ()
    return Problem(_path(one.at), range_of(one.at.outermost), "error", MISTAKE,
                   one.says + (f"\n{one.expected}" if one.expected else ""), tuple(_place(*each) for each in (*more, *inside)))


def _of_finding(one: Judgement) -> Problem:
    answer = one.answer
    follows = dict.fromkeys(f"{each.rule.name} at {each.answer.thing}" for each in one.follows)
    says = [answer.says, f"so: {consequence(one)}", f"mend: {answer.remedy}", f"asked by {one.clause.cited}"]
    if follows:
        says.insert(3, "with it go: " + ", ".join(follows))
    return Problem(_path(answer.at), range_of(answer.at.outermost), one.severity, one.rule.name, "\n".join(says),
                   tuple(_place(span, what) for span, what in answer.also))


def _path(span: Span) -> str:
    return span.outermost.source.name


def _place(span: Span, what: str) -> tuple[str, Range, str]:
    where = span if what == "in the assembly" else span.outermost
    return where.source.name, range_of(where), what
