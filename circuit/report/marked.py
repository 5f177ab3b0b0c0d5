"""The findings of a verdict as marks of a drawing."""

from circuit.draw.marks import Mark
from circuit.verdict.judge import Verdict


def marks_of(verdict: Verdict) -> tuple[Mark, ...]:
    """The open findings, of the drawing and of simulations, numbered as in the report, each vehicle's by itself too."""
    marks = []
    for of, own in (("", verdict), *verdict.vehicles):
        for number, judgement in enumerate((j for j in own.findings if j.is_open), 1):
            thing = judgement.answer.thing
            at = judgement.answer.at.outermost
            name = thing if thing in own.circuit.by_name else next(
                (d.name for d in own.circuit.devices if d.span.outermost == at), thing)
            marks.append(Mark(f"{of}.{name}" if of else name, f"{of} {number}".strip(), judgement.severity))
    return tuple(marks)
