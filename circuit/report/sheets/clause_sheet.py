"""Clause coverage: for every clause one of the four outcomes, with figure, limit and margin where there are such."""

from circuit.judging.rule import Judgement, Result
from circuit.report.table import Table
from circuit.report.words import compared
from circuit.verdict.judge import Verdict

OUTCOMES = tuple(result.value for result in Result)
WAIVED = "not met, accepted"
SIMULATED = "; predicted by simulation"
COLUMNS = ("outcome", "clause", "asks", "where", "what was seen", "found", "limit", "margin", "known by")


def coverage(judged: Verdict) -> Table:
    """What was not met first, then met, then what a file cannot decide."""
    order = (Result.NOT_MET, Result.UNDECIDED, Result.TURNS, Result.MET, Result.LIFTED)
    rows: list[tuple[str, ...]] = []
    marks: list[tuple[str, ...]] = []
    for result in order:
        for each in judged.predicted:
            if each.result is result is not Result.NOT_MET:
                rows.append((result.value, each.clause.cited, each.clause.asks, each.thing,
                             each.says + SIMULATED, *compared(each.figure), each.clause.basis))
                marks.append((each.thing,) if each.thing in judged.circuit.by_name else ())
        for judgement in (one for each in judged.every for one in each.each()):
            if judgement.result is result:
                rows.append(_row(judgement))
                marks.append(parts_of(judged, judgement))
        for one in judged.open_clauses:
            if one.result is result:
                says = one.needs if result is Result.LIFTED else f"missing: {one.needs}"
                rows.append((result.value, one.clause.cited, one.clause.asks, "", says, "", "", "", one.clause.basis))
                marks.append(())
    for one in judged.open_clauses:
        if one.result is Result.UNDECIDABLE:
            rows.append((one.result.value, one.clause.cited, one.clause.asks, "", f"it takes {one.needs}", "", "", "",
                         one.clause.basis))
            marks.append(())
    notes = ("Met means predicted from the drawing, never measured. What cannot be decided is not met and not failed. Times "
             "and pressures that a check of the drawing counts from volumes are coarser than a simulation's.",)
    return Table("clauses", "Clause coverage", COLUMNS, tuple(rows), notes, marks=tuple(marks),
                 wide=frozenset({"asks", "what was seen"}), assumed=bool(judged.circuit.assumed),
                 bands=("outcome", "clause", "asks", "known by"))


def tally(judged: Verdict) -> dict[str, int]:
    """How many rows have each outcome."""
    found = dict.fromkeys((*OUTCOMES, WAIVED), 0)
    for outcome in coverage(judged).column("outcome"):
        found[outcome] += 1
    return found


def _row(judgement: Judgement) -> tuple[str, ...]:
    answer = judgement.answer
    says = seen(judgement)
    if judgement.waiver is not None:
        says += f"; accepted: {judgement.waiver.because}"
    if answer.missing:
        says += f"; missing: {answer.missing}"
    if answer.remark:
        says += f"; note: {answer.remark}"
    return (WAIVED if judgement.waiver else judgement.result.value, judgement.clause.cited, judgement.clause.asks,
            answer.thing, says, *compared(answer.figure), judgement.clause.basis)


def seen(judgement: Judgement) -> str:
    """What a judgement says, and whether it was played."""
    return judgement.answer.says + (SIMULATED if judgement.by_simulation else "")


def parts_of(judged: Verdict, judgement: Judgement) -> tuple[str, ...]:
    """The parts and lines a judgement is about: the thing itself, or what stands at its place, and the other places."""
    answer, circuit = judgement.answer, judged.circuit
    named = answer.thing in circuit.by_name
    places = [*(() if named else (answer.at,)), *(span for span, _ in answer.also)]
    at = {(span.source.name, span.line, span.column) for span in (place.outermost for place in places)}
    found = [answer.thing] if named else []
    for device in circuit.devices:
        own = device.span.outermost
        if (own.source.name, own.line, own.column) in at:
            found.append(device.name)
    return tuple(dict.fromkeys(found))
