"""Which clause of a design's rule sets holds a study's figure, and the limit for the class of vehicle."""

from circuit.clauses import Clause, clause
from circuit.model.circuit import Circuit

US, EUROPE = "us-federal", "un-r13"


def sets_of(circuit: Circuit, named: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The rule sets a study holds its figures to: those named, or the design's own."""
    return named or circuit.rule_sets


def method(circuit: Circuit, named: tuple[str, ...] = ()) -> str:
    """How brakes are timed: as UN R13 does where that set is asked for first, else as 571.121 does."""
    return next((name for name in sets_of(circuit, named) if name in (US, EUROPE)), US)


def holding(circuit: Circuit, key: str, named: tuple[str, ...] = ()) -> Clause | None:
    """The clause of a key where its set is asked for and it holds for this class of vehicle; else None."""
    if key.split("/", 1)[0] not in sets_of(circuit, named):
        return None
    try:
        found = clause(key)
    except KeyError:
        return None
    return found if circuit.vehicle.vehicle_class in found.vehicles else None


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
