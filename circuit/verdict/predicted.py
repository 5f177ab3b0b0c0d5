"""Clauses that ask for pressures over time, decided from the studies: what `check --simulate` adds to a verdict."""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.faults import answers, timed_braking, timed_parking
from circuit.judging.prediction import Predicted
from circuit.judging.assumed import Assumed
from circuit.judging.rule import Figure, Judgement, Result
from circuit.model.circuit import Circuit
from circuit.studies import timed_lines
from circuit.studies.hands import CannotAsk
from circuit.studies.holding import fell_short, holding
from circuit.studies.respond import Timed, respond
from circuit.verdict.bounded import bounded
from circuit.verdict.judge import NOTHING, Verdict, idle, waits


def with_predictions(verdict: Verdict, tell: Callable[[str], None] = lambda words: None) -> Verdict:
    """The verdict with every clause decided that a simulation can decide; they leave the list of open ones.

    tell: is told what is worked on.
    """
    sets = tuple(each.name for each in verdict.sets)
    tell(f"{verdict.circuit.vehicle.name}: filling and stored air")
    counted = tuple(bounded(verdict.circuit, sets))
    every = (*counted, *predictions(verdict.circuit, sets, tell))
    found = tuple(each for each in every if each.result is not Result.UNDECIDED)
    keys = {each.clause.key for each in found}
    lacks = {each.clause.key: each.says for each in every if each.result is Result.UNDECIDED}
    left = tuple(each._replace(needs=lacks.get(
        each.clause.key, NOTHING if each.clause.decided == "simulation" else each.needs))
        for each in verdict.open_clauses if each.clause.key not in keys)
    played = frozenset(each.clause.key for each in counted)
    judgements = tuple(kept for each in verdict.judgements if (kept := _without(each, played)) is not None)
    done = verdict._replace(predicted=found, open_clauses=left, judgements=judgements)
    accepted = [judgement.waiver for judgement in done.findings]
    idly = (idle(one) for one in verdict.circuit.waivers if one not in accepted and waits(one))
    return done._replace(judgements=(*judgements, *idly))


def _without(judgement: Judgement, played: frozenset[str]) -> Judgement | None:
    """A judgement without the clauses that a run has decided, which it could only bound; None where none is left."""
    if not judgement.rule.bound:
        return judgement
    left = [one for one in (judgement, *judgement.also) if one.clause.key not in played]
    return left[0]._replace(also=tuple(left[1:])) if left else None


def predictions(circuit: Circuit, sets: tuple[str, ...], tell: Callable[[str], None] = lambda words: None
                ) -> Iterator[Predicted]:
    """One for each clause and place, worst first within a clause; a run that fell short decides nothing."""
    asked = _Asked(circuit, sets)
    tell(f"{circuit.vehicle.name}: timing the brakes")
    yield from _response(circuit, sets)
    for keys, decide in ASKED:
        for key in keys:
            if (one := asked.clause(key)) is not None:
                tell(f"{circuit.vehicle.name}: {one.cited}")
                yield from decide(circuit, one)
    tell(f"{circuit.vehicle.name}: single faults")
    yield from answers.predicted(circuit, sets)


ASKED: tuple[tuple[tuple[str, ...], Callable[[Circuit, Clause], Iterator[Predicted]]], ...] = (
    (("us-federal/S5.3.5",), timed_lines.balance),
    (("us-federal/S5.6.3.3",), timed_parking.comes_on),
    (("us-federal/S5.6.5",), timed_parking.applies_again),
    (("us-federal/S5.6.6",), timed_parking.stored_for_parking),
    (("us-federal/S5.7.2",), timed_braking.by_degrees),
    (("us-federal/5.3-spring-brakes",), timed_parking.comes_on_by_itself),
    (("us-federal/393.43(d)",), timed_lines.breaks_away),
    (("un-r13/5.2.2.12 (supply line)", "eu-2015-68/Annex I 2.2.2.13"), timed_lines.brakes_as_supply_falls),
    (("un-r13/Annex 8 2.3.3",), timed_parking.held_while_filling),
    (("un-r13/Annex 8 2.8", "eu-2015-68/Annex V 2.12.1"), timed_lines.springs_follow_the_reserve),
)
"""Clauses that ask the same, and what decides them."""


TWINS = {"un-r13/Annex 6 3.5": "eu-2015-68/Annex III 4.5.1"}
"""Clauses of response that ask the same as another set's."""


class _Asked(NamedTuple):
    circuit: Circuit
    sets: tuple[str, ...]

    def clause(self, key: str) -> Clause | None:
        return holding(self.circuit, key, self.sets)


def _response(circuit: Circuit, sets: tuple[str, ...]) -> Iterator[Predicted]:
    try:
        found = respond(circuit, sets)
    except CannotAsk:
        return
    if not found.complete:
        asking = {each.clause.key: each.clause for each in (*found.applied, *found.released) if each.clause}
        yield from (fell_short(one) for one in asking.values())
        return
    for timed, verb in (*((t, "comes on") for t in found.applied), *((t, "lets go") for t in found.released)):
        if timed.clause is not None and timed.limit is not None:
            yield (told := _timed(timed, verb, timed.clause, timed.limit, found.assumed))
            twin = _Asked(circuit, sets).clause(TWINS.get(timed.clause.key, timed.clause.key))
            if twin is not None and twin.key != timed.clause.key:
                yield told._replace(clause=twin)


def _timed(timed: Timed, verb: str, clause: Clause, limit: float, assumed: tuple[Assumed, ...]) -> Predicted:
    if timed.time.value is None:
        return Predicted(clause, Result.NOT_MET, timed.name, f"{timed.name} does not get there", None)
    figure = Figure("time", timed.time.value, limit, "time", at_least=False)
    says = f"{timed.name} {verb}" + ("" if timed.is_met or timed.hangs else " too late")
    result = Result.MET if timed.is_met else Result.NOT_MET
    if timed.hangs:
        says += " in time, but not over the whole" if timed.is_met else " too late, though not over the whole"
        says += " band of valve and tube flow, 20 % less and more"
        result = Result.TURNS if timed.is_met else result
    return Predicted(clause, result, timed.name, says, figure, assumed)
