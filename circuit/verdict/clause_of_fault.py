"""Which clauses ask of each single fault, and whether it keeps them: the questions of faults put to one fault at a time.

Only what the graph answers at rest is told of each; a clause that takes a run of its own is decided by its worst fault, as
`check --simulate` says.
"""

from typing import NamedTuple

from circuit import questions
from circuit.clauses import Clause
from circuit.faults.asking import AskedAtRest, NeedsRun
from circuit.faults.effect import Effect
from circuit.faults.study import Study
from circuit.judging.question import Question
from circuit.studies.holding import asked_at_all


class ClausesOfFault(NamedTuple):
    """What one fault does to the clauses of the vehicle's sets that ask of it: keys. open: what this file cannot tell."""

    breaks: tuple[str, ...] = ()
    keeps: tuple[str, ...] = ()
    open: tuple[str, ...] = ()

    @property
    def is_asked(self) -> bool:
        return bool(self.breaks or self.keeps or self.open)


def held_to(study: Study, effects: tuple[Effect, ...]) -> dict[str, ClausesOfFault]:
    """By the name of each fault; a combination is not asked, for each of its vehicles is from its own file."""
    circuit = study.circuit
    if circuit.is_combination:
        return {effect.fault.name: ClausesOfFault() for effect in effects}
    asking = [(clause, question) for clause in asked_at_all(circuit, circuit.rule_sets) for name in clause.questions
              if (question := questions.find(name)) is not None and question.of_faults is not None]
    return {effect.fault.name: _held(study, effect, asking) for effect in effects}


def _held(study: Study, effect: Effect, asking: list[tuple[Clause, Question]]) -> ClausesOfFault:
    found: dict[bool | None, list[str]] = {True: [], False: [], None: []}
    asked = AskedAtRest(study._replace(effects=(effect,)))
    for clause, question in asking:
        assert question.of_faults is not None
        try:
            answer = question.of_faults(asked, clause)
        except NeedsRun:
            continue
        if answer is not None:
            found[answer.met].append(clause.key)
    return ClausesOfFault(*(tuple(dict.fromkeys(found[met])) for met in (False, True, None)))
