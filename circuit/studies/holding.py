"""Which clauses of a design's rule sets hold a study's figure."""

from typing import NamedTuple

from circuit.clauses import ALWAYS, Clause, asking, rule_set
from circuit.judging.assumed import Assumed
from circuit.judging.prediction import Predicted
from circuit.judging.question import by
from circuit.judging.rule import Figure
from circuit.model.circuit import POWERED, Circuit
from circuit.units import shown


class Held(NamedTuple):
    """A figure of a study with the clause whose limit stands beside it. where: what it was found at. reached:
    whether it was found at all; a time that is never reached is no number. share, runs: of plausible vehicles that keep the
    limit, of how many; None where none were drawn."""

    clause: Clause
    where: str
    figure: Figure
    reached: bool = True
    share: float | None = None
    runs: int = 0

    @property
    def is_met(self) -> bool:
        return self.reached and self.figure.margin >= 0


def sets_of(circuit: Circuit, named: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The rule sets a study holds its figures to: those named, or the design's own."""
    return named or circuit.rule_sets


def asked_at_all(circuit: Circuit, sets: tuple[str, ...]) -> tuple[Clause, ...]:
    """Every clause of some sets that holds for this vehicle and may be judged by, set after set."""
    return tuple(one for name in sets for one in rule_set(name).clauses
                 if circuit.is_asked(one) and not one.is_too_vague)


def asked(circuit: Circuit, question: str, named: tuple[str, ...] = ()) -> tuple[Clause, ...]:
    """Those of them that ask a question; of the named sets, or of the design's own."""
    return tuple(one for one in asked_at_all(circuit, sets_of(circuit, named)) if question in one.questions)


def asked_any(circuit: Circuit, questions: tuple[str, ...]) -> tuple[Clause, ...]:
    """The clauses of the design's own sets that ask one of some questions."""
    return tuple(dict((one.key, one) for question in questions for one in asked(circuit, question)).values())


def sets_asking(circuit: Circuit, question: str, named: tuple[str, ...]) -> tuple[str, ...]:
    """Of the named sets, or the design's own, those that ask a question of this vehicle, so that what others are chosen
    beside them makes no further run; good practice where none does."""
    if circuit.is_combination:
        return sets_of(circuit, named)
    return tuple(dict.fromkeys(one.set_name for one in asked(circuit, question, named))) or (ALWAYS,)


def way_of(circuit: Circuit, question: str, named: tuple[str, ...] = ()) -> Clause | None:
    """The first clause that asks a question, whose procedure a study plays. No clause holds for a combination, which is
    played as its powered vehicle is asked to be."""
    found = asked(circuit, question, named)
    if not found and circuit.is_combination:
        found = tuple(one for one in asking(question, sets_of(circuit, named))
                      if set(one.vehicles) & set(POWERED) and not one.is_too_vague)
    return next(iter(found), None)


def predicted(held: Held, circuit: Circuit, assumed: tuple[Assumed, ...]) -> Predicted:
    """A study's figure as the answer to its clause."""
    figure = held.figure if held.reached else None
    says = shown(held.figure.found, held.figure.dimension) if held.reached else "is never reached"
    return by(held.clause, -1.0 if figure is None else figure.margin, circuit.vehicle.name,
              f"{held.where}: {held.figure.what} {says}", figure, assumed, held.share is not None and 0.0 < held.share < 1.0)
