"""What became of every clause a design is held to, and where several sets of rules answer one question differently."""

from typing import NamedTuple

from circuit.clauses import ALWAYS, Clause
from circuit.judging.assumed import Assumed
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Judgement, Result
from circuit.tables import table
from circuit.verdict.judge import Verdict

_WORST_FIRST = (Result.NOT_MET, Result.UNDECIDED, Result.UNDECIDABLE, Result.TURNS, Result.MET, Result.LIFTED)


class Covered(NamedTuple):
    """A clause and its outcome, the worst of all that its rules say.

    figure: the one with the least to spare. rules: names of the rules that judged it. says: what was seen or is
    missing. waived: whether every finding against it is accepted. leans_on: the assumed values in the figure.
    """

    clause: Clause
    outcome: Result
    figure: Figure | None = None
    rules: tuple[str, ...] = ()
    says: str = ""
    waived: bool = False
    leans_on: tuple[Assumed, ...] = ()


class Difference(NamedTuple):
    """One question and each set's answer to it: the set's name and its clause, or None where it has none."""

    title: str
    answers: tuple[tuple[str, Covered | None], ...]


def coverage(judged: Verdict) -> tuple[Covered, ...]:
    """Every clause of the sets that holds for the vehicle, in their order; of good practice what was judged."""
    found: dict[str, list[Judgement]] = {}
    for judgement in judged.every:
        for one in judgement.each():
            found.setdefault(one.clause.key, []).append(one)
    missing = {one.clause.key: one for one in judged.open_clauses}
    predicted: dict[str, list[Predicted]] = {}
    for known in judged.predicted:
        predicted.setdefault(known.clause.key, []).append(known)
    rows = []
    for each_set in judged.sets:
        for clause in each_set.clauses:
            if clause.key in found:
                rows.append(_judged(clause, found[clause.key]))
            elif clause.key in predicted:
                worst = min(predicted[clause.key], key=lambda one: _WORST_FIRST.index(one.result))
                rows.append(Covered(clause, worst.result, worst.figure, (worst.question,),
                                    f"predicted: {worst.says}", leans_on=worst.leans_on))
            elif clause.key in missing:
                rows.append(Covered(clause, missing[clause.key].result, says=missing[clause.key].needs))
    return tuple(rows)


def _judged(clause: Clause, judgements: list[Judgement]) -> Covered:
    outcome = min((j.result for j in judgements), key=_WORST_FIRST.index)
    worst = [j for j in judgements if j.result is outcome]
    figures = [j for j in worst if j.answer.figure is not None]
    shown = min(figures, key=_to_spare) if figures else worst[0]
    says = ("predicted: " if shown.by_simulation else "") + shown.answer.says
    says += f"; missing: {shown.answer.missing}" if shown.answer.missing else ""
    return Covered(clause, outcome, shown.answer.figure, tuple(dict.fromkeys(j.rule.name for j in judgements)), says,
                   outcome is Result.NOT_MET and all(j.waiver is not None for j in worst), shown.leans_on)


def _to_spare(judgement: Judgement) -> float:
    figure = judgement.answer.figure
    assert figure is not None
    return figure.margin / max(abs(figure.limit), 1e-9)


def differences(judged: Verdict) -> tuple[Difference, ...]:
    """The questions that two or more of the chosen sets answer, each with its own clause; none for a single set."""
    names = [each.name for each in judged.sets if each.name != ALWAYS]
    if len(names) < 2:
        return ()
    covered = {row.clause.key: row for row in coverage(judged)}
    found = []
    for topic in table("topics")["topic"]:
        answers = tuple(
            (name, next((covered[key] for key in topic["clauses"]
                         if key.startswith(f"{name}/") and key in covered), None))
            for name in names
        )
        if sum(answer is not None for _, answer in answers) > 1:
            found.append(Difference(topic["title"], answers))
    return tuple(found)
