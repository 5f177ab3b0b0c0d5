"""What is not met, numbered as on the schematic, with what comes of it and the remedy."""

from circuit.judging.rule import Judgement
from circuit.report.sheets.clause_sheet import parts_of, seen
from circuit.report.table import Table
from circuit.report.words import compared
from circuit.verdict.judge import Verdict, consequence

_COLUMNS = ("no.", "severity", "what is wrong", "at", "so", "mend", "found", "limit", "asked by", "mended by, date")
NONE = ("No finding in what was checked. That is predicted from the drawing and is no approval; the clause coverage says "
        "what is not decided.")


def labelled(judged: Verdict) -> list[tuple[str, Judgement]]:
    """Every finding with the label it has on the schematic: a number, or `w` and a number where it is accepted."""
    found, number, waived = [], 0, 0
    for judgement in judged.findings:
        if judgement.is_open:
            number += 1
            found.append((str(number), judgement))
        else:
            waived += 1
            found.append((f"w{waived}", judgement))
    return found


def findings(judged: Verdict) -> Table:
    """Findings of the drawing, then of simulations."""
    rows, marks = [], []
    for label, judgement in labelled(judged):
        answer = judgement.answer
        found, limit, _ = compared(answer.figure)
        mend = answer.remedy
        if judgement.waiver is not None:
            by = f" ({judgement.waiver.by})" if judgement.waiver.by else ""
            mend = f"accepted: {judgement.waiver.because}{by}"
        if judgement.follows:
            gone = dict.fromkeys(f"{each.rule.name} at {each.answer.thing}" for each in judgement.follows)
            mend += f"; with it would go {', '.join(gone)}"
        place = answer.at.outermost
        rows.append((label, "accepted" if judgement.waiver else judgement.severity, seen(judgement),
                     f"row {place.line}", consequence(judgement), mend, found, limit, judgement.clause.cited, ""))
        marks.append(parts_of(judged, judgement))
    return Table("findings", "Findings", _COLUMNS, tuple(rows), () if rows else (NONE,), frozenset({"mended by, date"}),
                 wide=frozenset({"what is wrong", "so", "mend"}), assumed=bool(rows and judged.circuit.assumed),
                 marks=tuple(marks))
