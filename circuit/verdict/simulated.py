"""What simulations found not met, as findings like those of the drawing: with a place, a severity and what to do."""

from collections.abc import Iterable, Iterator, Mapping

from circuit import rules
from circuit.judging.changed import with_rows
from circuit.judging.evidence import Evidence
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Answer, Judgement, Result, Rule
from circuit.model.circuit import Circuit
from circuit.source import Span
from circuit.verdict.lesson import told_of
from circuit.verdict.waivers import accepted


def findings(circuit: Circuit, predicted: Iterable[Predicted]) -> tuple[Judgement, ...]:
    """One for each question and place, under every clause that asks; waivers of the design accept each by its place."""
    said: dict[tuple[object, ...], list[Judgement]] = {}
    for each in predicted:
        if each.result is Result.NOT_MET:
            found = _finding(circuit, each)
            said.setdefault((found.rule.name, each.thing, each.says, each.figure), []).append(found)
    return tuple(accepted((first._replace(also=tuple(others)) for first, *others in said.values()), circuit))


def _finding(circuit: Circuit, each: Predicted) -> Judgement:
    name, told = each.question, told_of(each.question)
    thing, at = _place(circuit, each.thing)
    rule = rules.find(name) or Rule(name, name.replace("-", " "), "error", _played)
    severity = "warning" if each.clause.advisory else rule.severity
    answer = with_rows(circuit, Answer(Result.NOT_MET, thing, at, each.says, told.mend, each.figure))
    return Judgement(rule, each.clause, answer, severity, told.consequence, leans_on=each.leans_on, by_simulation=True)


def _place(circuit: Circuit, thing: str) -> tuple[str, Span]:
    """The part or line that a figure was found at, also by what is fitted on it for a test; else the vehicle."""
    name = thing.rpartition(" on ")[2].partition(",")[0]
    if name in circuit.by_name:
        return name, circuit.by_name[name].span
    return circuit.vehicle.name, circuit.vehicle.span


def _played(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    """A drawing has no answer to what only a simulation can be asked."""
    return iter(())
