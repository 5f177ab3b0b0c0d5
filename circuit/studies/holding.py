"""Which clause of a design's rule sets holds a study's figure, and the limit for the class of vehicle."""

from collections.abc import Iterable
from typing import NamedTuple

from circuit.clauses import Clause, asking, clause
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Result
from circuit.model.circuit import Circuit

US, EUROPE = "us-federal", "un-r13"
_TIMES_AS = {US: US, EUROPE: EUROPE, "eu-2015-68": EUROPE}
"""How a set times brakes and starts them, by its name; sets of other standards speak of no response."""


class Held(NamedTuple):
    """A figure of a study with the clause whose limit stands beside it. where: what it was found at. reached:
    whether it was found at all; a time that is never reached is no number."""

    clause: Clause
    where: str
    figure: Figure
    reached: bool = True

    @property
    def is_met(self) -> bool:
        return self.reached and self.figure.margin >= 0


def sets_of(circuit: Circuit, named: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The rule sets a study holds its figures to: those named, or the design's own."""
    return named or circuit.rule_sets


def method(circuit: Circuit, named: tuple[str, ...] = ()) -> str:
    """How brakes are timed: as UN R13 does where it or its parallel for farm trailers is asked for first, else as
    571.121 does."""
    return next((_TIMES_AS[name] for name in sets_of(circuit, named) if name in _TIMES_AS), US)


def holding(circuit: Circuit, key: str, named: tuple[str, ...] = ()) -> Clause | None:
    """The clause of a key where its set is asked for and it holds for this vehicle and may be judged by; else None."""
    if key.split("/", 1)[0] not in sets_of(circuit, named):
        return None
    try:
        found = clause(key)
    except KeyError:
        return None
    held = found.holds(circuit.vehicle.vehicle_class, circuit.tows) and not found.is_too_vague
    return found if held else None


def first_holding(circuit: Circuit, keys: tuple[str, ...], named: tuple[str, ...] = ()) -> Clause | None:
    """The first clause of several keys that holds: sets that ask the same."""
    return next((found for key in keys if (found := holding(circuit, key, named)) is not None), None)


def all_holding(circuit: Circuit, keys: Iterable[str], named: tuple[str, ...] = ()) -> tuple[Clause, ...]:
    """Every clause of some keys that holds."""
    return tuple(found for key in keys if (found := holding(circuit, key, named)) is not None)


def asked(circuit: Circuit, question: str, named: tuple[str, ...] = ()) -> tuple[Clause, ...]:
    """Every clause that asks a question of this vehicle and may be judged by, set after set."""
    return tuple(one for one in asking(question, sets_of(circuit, named))
                 if one.holds(circuit.vehicle.vehicle_class, circuit.tows) and not one.is_too_vague)


def seconds(circuit: Circuit, found: Clause | None) -> float | None:
    """The time that a clause with a limit for each class of vehicle allows this one, s."""
    if found is None:
        return None
    vehicle = circuit.vehicle
    words: tuple[str, ...]
    if not circuit.is_towed:
        words = ("powered_s",)
    elif vehicle.vehicle_class == "dolly":
        words = ("dolly_s", "trailer_s")
    else:
        words = ("towing_trailer_s",) if vehicle.tows else ("trailer_s",)
    return next((float(found.values[word]) for word in words if word in found.values), None)


def fell_short(found: Clause) -> Predicted:
    """What is said of a clause when a run that decides it did not reach its end with the accuracy asked for."""
    return Predicted(found, Result.UNDECIDED, "", "a simulation of it that reaches its end: this one fell short", None)
