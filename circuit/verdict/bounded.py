"""Clauses that a drawing bounds by a count, decided by simulation: how fast air builds up, and how long it lasts."""

from collections.abc import Iterator

from circuit.judging.prediction import Predicted
from circuit.judging.rule import AT_WORST, Figure, Judgement, Result
from circuit.model.circuit import Circuit
from circuit.studies.band import Band
from circuit.studies.charge import Charge, charge
from circuit.studies.hands import CannotAsk
from circuit.studies.holding import Held
from circuit.studies.reserve import Reserve, reserve
from circuit.units import shown


def bounded(circuit: Circuit, sets: tuple[str, ...]) -> Iterator[Predicted]:
    """What the studies of charging and of stored air say of every clause they answer."""
    try:
        filled = charge(circuit, sets)
        if filled.trace.complete:
            yield from _charged(filled)
    except CannotAsk:
        pass
    try:
        kept = reserve(circuit, sets)
        if kept.trace.complete:
            yield from _kept(kept)
    except CannotAsk:
        pass


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


def _charged(found: Charge) -> Iterator[Predicted]:
    name = found.circuit.vehicle.name
    if found.clause is not None and found.limit is not None and found.build is not None:
        yield _build_up(found, found.build, found.limit)
    slowest = found.slowest
    if found.filling_clause is not None and slowest is not None:
        for word, time, limit in zip(("65 %", "100 %"), (slowest.share, slowest.whole), found.limits):
            if limit is not None:
                figure = None if time is None else Figure("time to fill", time, limit, "time", at_least=False)
                yield Predicted(found.filling_clause, _result(figure), slowest.name,
                                f"{slowest.name} has {word} of the declared pressure " + _when(time), figure, found.assumed)
    yield from (_of_held(held, name, found) for held in found.held)


def _build_up(found: Charge, build: Band, limit: float) -> Predicted:
    assert found.clause is not None
    figure = None if build.value is None else Figure("time to build up", build.value, limit, "time", at_least=False)
    result = _result(figure)
    if result is Result.MET and (build.slow is None or build.slow > limit):
        result = Result.TURNS
    return Predicted(found.clause, result, found.circuit.vehicle.name,
                     f"every supply and service reservoir goes from 85 to 100 psi {_when(build.value)}", figure,
                     found.assumed)


def _kept(found: Reserve) -> Iterator[Predicted]:
    yield from (_of_held(held, found.circuit.vehicle.name, found) for held in found.held)


def _of_held(held: Held, name: str, found: "Charge | Reserve") -> Predicted:
    figure = held.figure if held.reached else None
    return Predicted(held.clause, _result(figure), name, f"{held.where}: {held.figure.what} "
                     + (shown(held.figure.found, held.figure.dimension) if held.reached else "is never reached"), figure,
                     found.assumed)


def _result(figure: Figure | None) -> Result:
    return Result.MET if figure is not None and figure.margin >= 0 else Result.NOT_MET


def _when(time: float | None) -> str:
    return "never" if time is None else f"in {shown(time, 'time')}"
