"""Clauses that ask for pressures over time or for single faults, decided: what `check --simulate` adds to a verdict."""

from collections.abc import Callable, Iterator

from circuit import questions
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Judgement, Result
from circuit.model.circuit import Circuit
from circuit.studies.holding import asked_at_all
from circuit.verdict.judge import NOTHING, Verdict
from circuit.verdict.waivers import is_over, unused, waits


def with_predictions(verdict: Verdict, tell: Callable[[str], None] = lambda words: None) -> Verdict:
    """The verdict with every clause decided whose question a simulation answers; they leave the list of open ones.

    tell: is told what is worked on.
    """
    every = tuple(predictions(verdict.circuit, tuple(each.name for each in verdict.sets), tell))
    found = tuple(each for each in every if each.result is not Result.UNDECIDED)
    keys = {each.clause.key for each in found}
    lacks = {each.clause.key: each.says for each in every if each.result is Result.UNDECIDED}
    left = tuple(each if each.result is Result.LIFTED else each._replace(needs=lacks.get(
        each.clause.key, NOTHING if each.clause.decided == "simulation" else each.needs))
        for each in verdict.open_clauses if each.clause.key not in keys)
    judgements = tuple(kept for each in verdict.judgements if (kept := _without(each, keys)) is not None)
    done = verdict._replace(predicted=found, open_clauses=left, judgements=judgements)
    accepted = [judgement.waiver for judgement in done.findings]
    idly = (unused(one, done.findings, verdict.circuit) for one in verdict.circuit.waivers
            if one not in accepted and waits(one) and not is_over(one) and not one.is_outside)
    return done._replace(judgements=(*judgements, *idly))


def _without(judgement: Judgement, played: set[str]) -> Judgement | None:
    """A judgement without the clauses that a run has decided, which it could only bound; None where none is left."""
    if not judgement.rule.bound:
        return judgement
    left = [one for one in (judgement, *judgement.also) if one.clause.key not in played]
    return left[0]._replace(also=tuple(left[1:])) if left else None


def predictions(circuit: Circuit, sets: tuple[str, ...], tell: Callable[[str], None] = lambda words: None
                ) -> Iterator[Predicted]:
    """One for each clause and place, worst first within a clause; a run that fell short decides nothing."""
    for one in asked_at_all(circuit, sets):
        for name in one.questions:
            question = questions.find(name)
            if question is not None:
                tell(f"{circuit.vehicle.name}: {question.title}, for {one.cited}")
                yield from (each._replace(question=name) for each in question.answer(circuit, one))
