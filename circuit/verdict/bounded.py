"""What a count at its worst does not find enough is played before it is called a fault, or left open."""

from circuit.judging.rule import AT_WORST, Judgement, Result
from circuit.model.circuit import Circuit
from circuit.studies.hands import CannotAsk
from circuit.studies.reserve import held_by_each, reserve
from circuit.units import shown


def is_open(judgement: Judgement) -> bool:
    """Whether a count was made and did not decide that it is met."""
    return judgement.rule.bound == AT_WORST and judgement.answer.figure is not None and not judgement.result.is_kept


def played_out(judgements: list[Judgement], circuit: Circuit, sets: tuple[str, ...]) -> list[Judgement]:
    """Judgements in which what a count at its worst does not find enough is played, and decided by what is played at the
    same store.

    Where it cannot be played, the count stands."""
    try:
        complete = reserve(circuit, sets).trace.complete
    except CannotAsk:
        return judgements
    return [_played(each, circuit) for each in judgements] if complete else judgements


def _played(judgement: Judgement, circuit: Circuit) -> Judgement:
    judgement = judgement._replace(also=tuple(_played(one, circuit) for one in judgement.also))
    if not is_open(judgement):
        return judgement
    answer = judgement.answer
    held = next((one for one in held_by_each(circuit, judgement.clause) if one.where == answer.thing), None)
    if held is None:
        return judgement
    says = f"{answer.thing}: {held.figure.what} {shown(held.figure.found, held.figure.dimension)} (played)"
    result = Result.MET if held.is_met else Result.NOT_MET
    return judgement._replace(answer=answer._replace(result=result, figure=held.figure, says=says, missing=""))
