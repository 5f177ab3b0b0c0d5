"""The verdict as JSON for other programs; `check.schema.json` beside this file says what it holds."""

import json
from pathlib import Path
from typing import Any

from circuit import __version__
from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.judging.rule import Figure, Judgement, Result
from circuit.mistake import Mistake
from circuit.report.words import CAUTION
from circuit.source import Span
from circuit.units import ATMOSPHERE
from circuit.verdict.coverage import Covered, coverage, differences
from circuit.verdict.judge import Verdict, consequence

SCHEMA = Path(__file__).resolve().parent / "check.schema.json"

_UNITS = {"pressure": ("bar", 1e5), "difference": ("bar", 1e5), "volume": ("L", 1e-3), "time": ("s", 1.0),
          "length": ("mm", 1e-3)}


def document(designs: list[dict[str, Any]]) -> str:
    """The whole output of one run: a header and one entry for each file."""
    head = {"tool": "airwright", "version": __version__, "format": 1, "caution": CAUTION, "designs": designs}
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def unreadable(name: str, found: tuple[Mistake, ...]) -> dict[str, Any]:
    """The entry of a file that cannot be read."""
    return {
        "file": name,
        "readable": False,
        "mistakes": [
            {"at": _at(m.at), "says": m.says, "expected": m.expected,
             **({"other": {"at": _at(m.other[0]), "what": m.other[1]}} if m.other else {})}
            for m in found
        ],
    }


def design(judged: Verdict) -> dict[str, Any]:
    """The entry of a file that was judged."""
    circuit = judged.circuit
    lifted = [{"clause": _clause(o.clause), "says": o.clause.asks, "because": o.needs}
              for o in judged.open_clauses if o.result is Result.LIFTED]
    return {
        "file": circuit.source.name,
        "readable": True,
        "vehicle": {"name": circuit.vehicle.name, "class": circuit.vehicle.vehicle_class, "title": circuit.vehicle.title},
        "sets": [each.name for each in judged.sets],
        "clean": judged.is_clean,
        "findings": [_finding(j) for j in judged.findings],
        "met": [_statement(j) for j in judged.judgements if j.result.is_kept],
        "undecided": [
            *({**_statement(j), "missing": j.answer.missing} for j in judged.judgements
              if j.result is Result.UNDECIDED),
            *({"clause": _clause(o.clause), "says": o.clause.asks, "missing": o.needs} for o in judged.open_clauses
              if o.result is Result.UNDECIDED),
        ],
        **({"lifted": lifted} if lifted else {}),
        "undecidable": [{"clause": _clause(o.clause), "says": o.clause.asks, "missing": o.needs}
                        for o in judged.open_clauses if o.result is Result.UNDECIDABLE],
        **({"predicted": [{"clause": _clause(p.clause), "question": p.question, "outcome": p.result.value, "thing": p.thing,
                           "says": p.says, **({"figure": _figure(p.figure)} if p.figure is not None else {}),
                           **_leaning(p.leans_on)}
                          for p in judged.predicted]} if judged.predicted else {}),
        "coverage": [_covered(row) for row in coverage(judged)],
        "differences": [
            {"question": one.title, "answers": [{"set": name, **({"answer": _covered(row)} if row else {})}
                                                for name, row in one.answers]} for one in differences(judged)
        ],
        "assumed": [{"thing": device.name, "setting": name, "value": given.text, "source": given.source}
                    for device, name, given in circuit.assumed],
        **({"vehicles": [{"name": name, **design(own)} for name, own in judged.vehicles]} if judged.vehicles else {}),
    }


def _covered(row: Covered) -> dict[str, Any]:
    return {"clause": row.clause.key, "outcome": row.outcome.value, "waived": row.waived, "rules": list(row.rules),
            "says": row.says, **({"figure": _figure(row.figure)} if row.figure is not None else {}),
            **_leaning(row.leans_on)}


def _at(span: Span) -> dict[str, Any]:
    outer = span.outermost
    place = {"file": outer.source.name, "line": outer.line, "column": outer.column, "length": outer.length}
    if span.via is not None:
        place["inside"] = {"file": span.source.name, "line": span.line, "column": span.column, "length": span.length}
    return place


def _clause(clause: Clause) -> dict[str, str]:
    return {"key": clause.key, "cited": clause.cited, "asks": clause.asks, "edition": clause.edition,
            "basis": clause.known, "source": clause.source}


def _figure(figure: Figure) -> dict[str, Any]:
    unit, scale = _UNITS.get(figure.dimension, ("", 1.0))
    shift = ATMOSPHERE if figure.dimension == "pressure" else 0.0
    return {"what": figure.what, "found": round((figure.found - shift) / scale, 6),
            "limit": round((figure.limit - shift) / scale, 6), "margin": round(figure.margin / scale, 6), "unit": unit,
            "bound": "at least" if figure.at_least else "at most"}


def _statement(judgement: Judgement) -> dict[str, Any]:
    answer = judgement.answer
    entry: dict[str, Any] = {"rule": judgement.rule.name, "thing": answer.thing, "at": _at(answer.at),
                             "says": answer.says, "clause": _clause(judgement.clause)}
    if answer.figure is not None:
        entry["figure"] = _figure(answer.figure)
    if answer.remark:
        entry["remark"] = answer.remark
    return {**entry, **_leaning(judgement.leans_on, judgement.turns)}


def _leaning(on: tuple[Assumed, ...], turns: Assumed | None = None) -> dict[str, Any]:
    """What a figure leans on, and what turns it."""
    return {"leans_on": [one._asdict() for one in on], **({"turns_with": turns._asdict()} if turns else {})}


def _finding(judgement: Judgement) -> dict[str, Any]:
    answer = judgement.answer
    entry = {
        **_statement(judgement),
        "severity": judgement.severity,
        "consequence": consequence(judgement),
        "remedy": answer.remedy,
        "follows": [{"rule": j.rule.name, "thing": j.answer.thing, "says": j.answer.says} for j in judgement.follows],
        "waived": judgement.waiver is not None,
        "by_simulation": judgement.by_simulation,
        "also": [{"at": _at(span), "what": what} for span, what in answer.also],
        "also_asked": [_clause(one.clause) for one in judgement.also],
    }
    if judgement.waiver is not None:
        waiver = judgement.waiver
        entry["waiver"] = {"because": waiver.because, "by": waiver.by, "at": _at(waiver.span),
                           **({"until": waiver.until} if waiver.until else {})}
    return entry
