"""What a clause says of a design, asked of its own rules and questions alone."""

from typing import NamedTuple

from circuit import questions, rules
from circuit.clauses import Clause
from circuit.judging.rule import Result
from circuit.model.circuit import Circuit
from circuit.report.words import compared
from circuit.verdict import judge as judging
from circuit.verdict.coverage import coverage


class Said(NamedTuple):
    """result: the worst. figures: what was compared, as it is printed. says: the sentence."""

    result: Result
    figures: tuple[str, str, str]
    says: str


_WORST_FIRST = (Result.NOT_MET, Result.UNDECIDED, Result.TURNS, Result.MET)


def drawn(circuit: Circuit, one: Clause) -> Said:
    """What the drawing says: a verdict of the clause's own rules, with all that a verdict does to them but for the search of
    what leads, which says who stands in front and not what is found."""
    every, led = rules.every, judging.led
    own = tuple(rule for rule in every() if rule.name in one.questions)
    rules.every = lambda: own  # type: ignore[assignment]
    judging.led = lambda found, *_: found
    try:
        judged = judging.judge(circuit, (one.set_name,))
    finally:
        rules.every, judging.led = every, led
    (row,) = [row for row in coverage(judged) if row.clause.key == one.key]
    return Said(row.outcome, compared(row.figure), row.says)


def played(circuit: Circuit, one: Clause) -> Said:
    """What simulations say, the worst of all places."""
    found = [each for name in one.questions if (question := questions.find(name)) is not None
             for each in question.answer(circuit, one)]
    assert found, f"nothing answers {one.key}"
    worst = min(found, key=lambda each: (_WORST_FIRST.index(each.result),
                                         each.figure.margin if each.figure is not None else 0.0))
    return Said(worst.result, compared(worst.figure), worst.says)
