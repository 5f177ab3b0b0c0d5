"""A comparison as text for a reviewer and as JSON for other programs; `compare.schema.json` says what the JSON holds."""

import json
import textwrap
from pathlib import Path
from typing import Any

from circuit import __version__
from circuit.report.table import Table
from circuit.report.terminal import WIDTH, Paint
from circuit.report.words import CAUTION, count
from circuit.verdict.compare import Change, Comparison
from circuit.verdict.outcomes import Outcome

SCHEMA = Path(__file__).resolve().parent / "compare.schema.json"
_DESIGN = (
    ("Parts", ("added", "removed", "replaced", "renamed", "moved")),
    ("Lines led elsewhere", ("re-routed",)),
    ("Settings", ("set",)),
    ("Declared", ("declared",)),
    ("Volumes", ("volume", "ratio")),
)
_RESULTS = (
    ("Not met any more", ("new", "worse")),
    ("Accepted by a waiver", ("accepted",)),
    ("Met now", ("gone",)),
    ("Not decided any more", ("undecided",)),
    ("Decided now", ("decided",)),
    ("Met by another margin", ("margin",)),
)
_SIGNS = {"added": "+", "removed": "-", "new": "!", "worse": "!"}


def text(found: Comparison, paint: Paint) -> str:
    """What changed, in the trade's words."""
    lines = _body(found, paint)
    for name, own in found.vehicles:
        if own.changes or own.outcomes:
            lines += ["", paint(f"{name}, by itself", "1"), "", *_body(own, paint)]
    return "\n".join([*lines, "", *textwrap.wrap(CAUTION, WIDTH)]) + "\n"


def _body(found: Comparison, paint: Paint) -> list[str]:
    lines = [paint(f"{found.old} -> {found.new}", "1")]
    lines += [f"{count(len(found.changes), 'change')}, " + _judged(found)]
    for title, words in _DESIGN:
        group = [change for change in found.changes if change.what in words]
        if group:
            lines += ["", paint(title, "1"), *(row for change in group for row in _change(change))]
    for title, words in _RESULTS:
        outcomes = [outcome for outcome in found.outcomes if outcome.what in words]
        if outcomes:
            lines += ["", paint(title, "1"), *(row for outcome in outcomes for row in _outcome(outcome, paint))]
    return lines


def _judged(found: Comparison) -> str:
    new = sum(outcome.what in ("new", "worse") for outcome in found.outcomes)
    gone = sum(outcome.what == "gone" for outcome in found.outcomes)
    if not new and not gone:
        return "no finding more, none less"
    return f"{count(new, 'new finding')}, {gone} gone"


def _change(change: Change) -> list[str]:
    place = f"  (row {change.line}{' before' if change.what == 'removed' else ''})" if change.line else ""
    return _folded(f"{_SIGNS.get(change.what, '~')} {change.says}{place}")


def _outcome(outcome: Outcome, paint: Paint) -> list[str]:
    word = f"{paint.severity(outcome.severity)} " if outcome.what in ("new", "worse") else ""
    place = f"  (row {outcome.line})" if outcome.line and outcome.what in ("new", "worse") else ""
    return _folded(f"{_SIGNS.get(outcome.what, '~')} {word}{outcome.rule}: {outcome.says}{place}")


def _folded(row: str) -> list[str]:
    return textwrap.wrap(row, WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False,
                         break_on_hyphens=False)


def tables(found: Comparison) -> tuple[Table, ...]:
    """What changed, and what came of it, of a combination's vehicles too."""
    every = (found, *(own for _, own in found.vehicles))
    return (Table("changes", "Changes", ("file", *Change._fields),
                  tuple((one.new, *map(str, each)) for one in every for each in one.changes), numbers={"line"}),
            Table("outcomes", "Outcomes", ("file", *Outcome._fields),
                  tuple((one.new, *map(str, each)) for one in every for each in one.outcomes), numbers={"line"}))


def document(found: Comparison) -> str:
    """The whole comparison as JSON."""
    head = {"tool": "airwright", "version": __version__, "format": 1, "caution": CAUTION, **_entry(found)}
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def _entry(found: Comparison) -> dict[str, Any]:
    entry: dict[str, Any] = {
        "old": found.old, "new": found.new, "worse": found.is_worse,
        "changes": [change._asdict() for change in found.changes],
        "outcomes": [outcome._asdict() for outcome in found.outcomes],
    }
    if found.vehicles:
        entry["vehicles"] = [{"name": name, **_entry(own)} for name, own in found.vehicles]
    return entry
