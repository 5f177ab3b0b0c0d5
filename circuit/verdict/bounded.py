"""What a count at its worst finds too little is played before it is called a fault."""

from circuit.judging.rule import AT_WORST, Judgement, Result
from circuit.model.circuit import Circuit
from circuit.studies.hands import CannotAsk
from circuit.studies.holding import Held
from circuit.studies.reserve import reserve
from circuit.units import shown


def played_out(judgements: list[Judgement], circuit: Circuit, sets: tuple[str, ...]) -> list[Judgement]:
    """Judgements in which what a count at its worst finds too little is played, and decided by what is played.

    Where it cannot be played, the count stands."""
    try:
        found = reserve(circuit, sets)
    except CannotAsk:
        return judgements
    if not found.trace.complete:
        return judgements
    held = {one.clause.key: one for one in found.held}
    return [_played(each, held) if each.rule.bound == AT_WORST and each.result is Result.NOT_MET else each
            for each in judgements]


def _played(judgement: Judgement, held: dict[str, Held]) -> Judgement:
    also = tuple(_played(one, held) for one in judgement.also)
    one = held.get(judgement.clause.key)
    if one is None or (judgement.answer.thing != one.where and one.is_met is False):
        return judgement._replace(also=also)
    shown_ = f"{one.figure.what} {shown(one.figure.found, one.figure.dimension)}" if one.reached else "never reached"
    answer = judgement.answer._replace(result=Result.MET if one.is_met else Result.NOT_MET, figure=one.figure,
                                       says=f"{judgement.answer.thing}: {shown_} (played)")
    return judgement._replace(answer=answer, also=also)
