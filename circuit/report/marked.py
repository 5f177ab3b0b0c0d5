"""The findings of a verdict as marks of a drawing."""

from circuit.draw.marks import Mark
from circuit.verdict.compare import Comparison
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


def changes_of(verdict: Verdict, found: Comparison) -> tuple[Mark, ...]:
    """The findings as above, and each part and line that is other than before, marked with its sign."""
    marks = marks_of(verdict)
    marked = {mark.device_name for mark in marks}
    signs = {"added": "+", "removed": "-"}
    other = {change.thing: signs.get(change.what, "~") for change in found.changes if change.thing in verdict.circuit.by_name}
    return (*marks, *(Mark(thing, sign, "note") for thing, sign in other.items() if thing not in marked))
