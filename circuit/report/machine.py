"""The verdict as JSON for other programs; `told` says what it holds, and the schema is made from it."""

import json
import textwrap
from collections.abc import Iterable, Sequence
from typing import Any, cast

from circuit import __version__
from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Judgement, Result
from circuit.mistake import Mistake
from circuit.report.data import DIALECT, of_type
from circuit.report.told import (
    AssumedTold,
    ClauseOpen,
    ClauseTold,
    CoveredTold,
    DifferenceTold,
    FigureTold,
    FindingTold,
    FoundTold,
    JudgedTold,
    MistakeTold,
    PredictedTold,
    Severity,
    Spot,
    StatementOpen,
    StatementTold,
    UnreadableTold,
    WaiverTold,
)
from circuit.report.words import CAUTION
from circuit.source import Span
from circuit.units import ATMOSPHERE
from circuit.verdict.coverage import Covered, Difference, coverage, differences
from circuit.verdict.judge import Verdict, consequence

_UNITS = {"pressure": ("bar", 1e5), "difference": ("bar", 1e5), "volume": ("L", 1e-3), "time": ("s", 1.0),
          "length": ("mm", 1e-3)}


def document(designs: Sequence[Any]) -> str:
    """The whole output of one run: a header and one entry for each file."""
    head = {"tool": "airwright", "version": __version__, "format": 1, "caution": CAUTION, "designs": list(designs)}
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def joined(entries: Iterable[str]) -> str:
    """The whole output of one run, from entries that are texts already."""
    head = document([])
    told = ",\n".join(entries)
    return head.replace('"designs": []', f'"designs": [\n{told}\n  ]') if told else head


def indented(entry: Any) -> str:
    """An entry as it stands in the document."""
    return textwrap.indent(json.dumps(entry, indent=2, ensure_ascii=False), "    ")


def unreadable(name: str, found: tuple[Mistake, ...], judged: Verdict | None = None,
               only_findings: bool = False) -> UnreadableTold:
    """The entry of a file that cannot be read. judged: what stands of it all the same, if anything does."""
    entry: UnreadableTold = {"file": name, "readable": False, "mistakes": [_mistake(one) for one in found]}
    if judged is not None:
        stands = findings_alone(judged) if only_findings else design(judged)
        stands["clean"] = False  # nothing is, whose text is not understood
        entry["stands"] = stands
    return entry


def _mistake(one: Mistake) -> MistakeTold:
    entry: MistakeTold = {"at": _at(one.at), "says": one.says, "expected": one.expected}
    if one.other:
        entry["other"] = {"at": _at(one.other[0]), "what": one.other[1]}
    return entry


def schema() -> dict[str, Any]:
    """The JSON schema of the whole output, from the records that it is made of."""
    known: dict[str, Any] = {}
    designs = [of_type(kind, known) for kind in (UnreadableTold, JudgedTold, FoundTold)]
    text = {"type": "string"}
    fixed = {"tool": {"const": "airwright"}, "version": text,
             "format": {"const": 1, "description": "Raised when a key changes its meaning or goes away."}, "caution": text,
             "designs": {"type": "array", "items": {"oneOf": designs}}}
    return {"$schema": DIALECT, "title": "Output of airwright check --format json", "type": "object", "required": list(fixed),
            "properties": fixed, "additionalProperties": False, "$defs": known}


def findings_alone(judged: Verdict) -> FoundTold:
    """The entry of a file without what was met and what is open."""
    entry: FoundTold = {"file": judged.circuit.source.name, "readable": True, "clean": judged.is_clean,
                        "findings": [_finding(j) for j in judged.findings]}
    if judged.vehicles:
        entry["vehicles"] = [{**findings_alone(own), "name": name} for name, own in judged.vehicles]
    return entry


def design(judged: Verdict) -> JudgedTold:
    """The entry of a file that was judged."""
    circuit = judged.circuit
    statements = [_undecided(j) for j in judged.judgements if j.result is Result.UNDECIDED]
    entry: JudgedTold = {
        "file": circuit.source.name,
        "readable": True,
        "vehicle": {"name": circuit.vehicle.name, "class": circuit.vehicle.vehicle_class, "title": circuit.vehicle.title},
        "sets": [each.name for each in judged.sets],
        "clean": judged.is_clean,
        "findings": [_finding(j) for j in judged.findings],
        "met": [_statement(j) for j in judged.judgements if j.result.is_kept],
        "undecided": [*statements, *_open(judged, Result.UNDECIDED)],
        "undecidable": _open(judged, Result.UNDECIDABLE),
        "coverage": [_covered(row) for row in coverage(judged)],
        "differences": [_difference(one) for one in differences(judged)],
        "assumed": [{"thing": device.name, "setting": name, "value": given.text, "source": given.source}
                    for device, name, given in circuit.assumed],
    }
    if lifted := _open(judged, Result.LIFTED):
        entry["lifted"] = [{"clause": each["clause"], "says": each["says"], "because": each["missing"]} for each in lifted]
    if judged.predicted:
        entry["predicted"] = [_predicted(each) for each in judged.predicted]
    if judged.vehicles:
        entry["vehicles"] = [{**design(own), "name": name} for name, own in judged.vehicles]
    return entry


def _open(judged: Verdict, result: Result) -> list[ClauseOpen]:
    """The clauses that nothing decided with this result."""
    return [{"clause": _clause(o.clause), "says": o.clause.asks, "missing": o.needs} for o in judged.open_clauses
            if o.result is result]


def _predicted(each: Predicted) -> PredictedTold:
    entry: PredictedTold = {"clause": _clause(each.clause), "question": each.question, "outcome": each.result.value,
                            "thing": each.thing, "says": each.says, "leans_on": _leaning(each.leans_on)}
    if each.figure is not None:
        entry["figure"] = _figure(each.figure)
    return entry


def _difference(one: Difference) -> DifferenceTold:
    entry: DifferenceTold = {"question": one.title, "answers": []}
    for name, row in one.answers:
        entry["answers"].append({"set": name, "answer": _covered(row)} if row else {"set": name})
    return entry


def _covered(row: Covered) -> CoveredTold:
    entry: CoveredTold = {"clause": row.clause.key, "outcome": row.outcome.value, "waived": row.waived, "rules": list(row.rules),
                          "says": row.says, "leans_on": _leaning(row.leans_on)}
    if row.figure is not None:
        entry["figure"] = _figure(row.figure)
    return entry


def _at(span: Span) -> Spot:
    outer = span.outermost
    place: Spot = {"file": outer.source.name, "line": outer.line, "column": outer.column, "length": outer.length}
    if span.via is not None:
        place["inside"] = {"file": span.source.name, "line": span.line, "column": span.column, "length": span.length}
    return place


def _clause(clause: Clause) -> ClauseTold:
    return {"key": clause.key, "cited": clause.cited, "asks": clause.asks, "edition": clause.edition,
            "basis": clause.known, "source": clause.source}


def _figure(figure: Figure) -> FigureTold:
    unit, scale = _UNITS.get(figure.dimension, ("", 1.0))
    shift = ATMOSPHERE if figure.dimension == "pressure" else 0.0
    return {"what": figure.what, "found": round((figure.found - shift) / scale, 6),
            "limit": round((figure.limit - shift) / scale, 6), "margin": round(figure.margin / scale, 6), "unit": unit,
            "bound": "at least" if figure.at_least else "at most"}


def _statement(judgement: Judgement) -> StatementTold:
    answer = judgement.answer
    entry: StatementTold = {"rule": judgement.rule.name, "thing": answer.thing, "at": _at(answer.at), "says": answer.says,
                            "clause": _clause(judgement.clause), "leans_on": _leaning(judgement.leans_on)}
    if answer.figure is not None:
        entry["figure"] = _figure(answer.figure)
    if answer.remark:
        entry["remark"] = answer.remark
    if judgement.turns is not None:
        (entry["turns_with"],) = _leaning((judgement.turns,))
    return entry


def _undecided(judgement: Judgement) -> StatementOpen:
    return {**_statement(judgement), "missing": judgement.answer.missing}


def _leaning(on: tuple[Assumed, ...]) -> list[AssumedTold]:
    """What a figure leans on."""
    return [{"part": one.part, "setting": one.setting, "value": one.value, "source": one.source} for one in on]


def _finding(judgement: Judgement) -> FindingTold:
    answer, waiver = judgement.answer, judgement.waiver
    entry: FindingTold = {
        **_statement(judgement),  # type: ignore[typeddict-item]  # mypy asks for a key here that need not be there
        "severity": cast(Severity, judgement.severity),
        "consequence": consequence(judgement),
        "remedy": answer.remedy,
        "follows": [{"rule": j.rule.name, "thing": j.answer.thing, "says": j.answer.says} for j in judgement.follows],
        "waived": waiver is not None,
        "by_simulation": judgement.by_simulation,
        "also": [{"at": _at(span), "what": what} for span, what in answer.also],
        "also_asked": [_clause(one.clause) for one in judgement.also],
    }
    if waiver is not None:
        told: WaiverTold = {"because": waiver.because, "by": waiver.by, "at": _at(waiver.span)}
        if waiver.until:
            told["until"] = waiver.until
        entry["waiver"] = told
    return entry
