"""A mended design held against the answer of an exercise: judged by the same check, duties among it, and asked no less."""

from typing import NamedTuple

from circuit.gate.earlier import with_earlier
from circuit.model.circuit import Circuit
from circuit.pipeline import judged, load_source
from circuit.plant.answer import AnswerKey
from circuit.source import Source


class Mended(NamedTuple):
    """left: what is still found that the good design did not have: rule, thing and sentence."""

    answer: AnswerKey
    left: tuple[tuple[str, str, str], ...]

    @property
    def found(self) -> bool:
        return not self.left


def judged_mend(answer: AnswerKey, circuit: Circuit) -> Mended:
    """What a student's design still has. Raises mistake.Unreadable where the good design's files are not beside it."""
    good = load_source(Source(circuit.source.name, answer.good))
    known = {(rule, thing) for rule, thing, _ in answer.known}
    found = [each for one in with_earlier(judged(circuit), good).judgements if one.is_open for each in (one, *one.follows)]
    return Mended(answer, tuple((one.rule.name, one.answer.thing, one.answer.says) for one in found
                                if (one.rule.name, one.answer.thing) not in known))


def told(mended: Mended) -> str:
    """In sentences for a class; what was planted is not given away while something is left."""
    if mended.found:
        return ("Mended: nothing is found that the good design did not have, and nothing is asked less.\n"
                f"The mistake that was planted: {mended.answer.says} ({mended.answer.title}).\n")
    rows = [f"  {rule}: {says}" for rule, _, says in mended.left[:6]]
    return "\n".join(["Not mended: this is still found, and the good design did not have it.", *rows]) + "\n"
