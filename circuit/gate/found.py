"""Findings and mistakes as plain rows: what every format of a code host and of a test runner is made from."""

import hashlib
from collections import Counter
from collections.abc import Iterable
from typing import Any

from circuit.gate.baseline import key
from circuit.judging.rule import SEVERITIES, Judgement
from circuit.mistake import Mistake
from circuit.source import Span
from circuit.verdict.judge import Verdict, consequence

UNREADABLE = "unreadable"
"""What a mistake of a text is called among the rules."""

Row = dict[str, Any]
"""rule, severity, thing, says, remedy, consequence, clause, file, line, column, length, waived, print, follows."""


def rows(verdict: Verdict) -> list[Row]:
    """Every finding, accepted ones too, then those of a combination's vehicles."""
    seen: Counter[tuple[str, str]] = Counter()
    found = []
    for one in verdict.findings:
        name = key(one, verdict.circuit)
        seen[name] += 1
        found.append(_row(one, fingerprint(*name, str(seen[name]))))
    return [*found, *(row for _, own in verdict.vehicles for row in rows(own))]


def fingerprint(*parts: str) -> str:
    """By which a finding is the same after rows have moved: its rule, its place, and which of several it is."""
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()[:24]


def _row(one: Judgement, mark: str) -> Row:
    waiver = one.waiver
    return {"rule": one.rule.name, "severity": one.severity, "thing": one.answer.thing, "says": one.answer.says,
            "remedy": one.answer.remedy, "consequence": consequence(one), "clause": one.clause.cited, "title": one.rule.title,
            **_spot(one.answer.at), "waived": waiver.because if waiver else "", "is_outside": bool(waiver and waiver.is_outside),
            "print": mark, "follows": [f"{each.rule.name} at {each.answer.thing}" for each in one.follows]}


def mistake_rows(mistakes: Iterable[Mistake]) -> list[Row]:
    """What keeps a text from being read, as errors."""
    seen: Counter[str] = Counter()
    found = []
    for one in mistakes:
        seen[one.says] += 1
        found.append({"rule": UNREADABLE, "severity": "error", "thing": "", "says": one.says, "remedy": one.expected,
                      "consequence": "What hangs on this row is not decided until it is mended.", "clause": "",
                      "title": "the design can be read", **_spot(one.at), "waived": "", "is_outside": False,
                      "print": fingerprint(UNREADABLE, one.says, str(seen[one.says])), "follows": []})
    return found


def _spot(span: Span) -> dict[str, Any]:
    outer = span.outermost
    return {"file": outer.source.name, "line": outer.line, "column": outer.column, "length": outer.length}


def counted(verdict: Verdict) -> dict[str, int]:
    """How many findings of each severity are open, how many accepted, of the vehicles of a combination too; and checks met."""
    every = [verdict, *(own for _, own in verdict.vehicles)]
    findings = [one for each in every for one in each.findings]
    return {**{word: sum(one.is_open and one.severity == word for one in findings) for word in SEVERITIES},
            "waived": sum(one.waiver is not None for one in findings),
            "met": sum(one.result.is_kept for each in every for one in each.judgements)}
