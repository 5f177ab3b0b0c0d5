"""A comparison as text for a reviewer and as JSON for other programs; `told` says what the JSON holds."""

import json
import textwrap
from typing import Any, cast

from circuit import __version__
from circuit.report.data import DIALECT, of_type
from circuit.report.table import Table
from circuit.report.terminal import WIDTH, Paint
from circuit.report.told import ChangeTold, ComparedTold, DroppedTold, OutcomeTold
from circuit.report.words import CAUTION, count
from circuit.verdict.demands import Dropped
from circuit.verdict.compare import Change, Comparison
from circuit.verdict.outcomes import Outcome

_DESIGN = (
    ("Parts", ("added", "removed", "replaced", "renamed", "moved")),
    ("Lines led elsewhere", ("re-routed",)),
    ("Settings", ("set",)),
    ("Declared", ("declared",)),
    ("Volumes", ("volume", "ratio")),
)
_RESULTS = (
    ("Not met any more", ("new", "worse")),
    ("Not asked any more", ("unasked",)),
    ("Accepted by a waiver", ("accepted",)),
    ("Met now", ("gone",)),
    ("Not decided any more", ("undecided",)),
    ("Decided now", ("decided",)),
    ("Met by another margin", ("margin",)),
)
_SIGNS = {"added": "+", "removed": "-", "new": "!", "worse": "!", "unasked": "!"}


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
        rows = [row for each in found.dropped if "unasked" in words for row in _folded(f"! {each.says}")]
        rows += [row for outcome in found.outcomes if outcome.what in words for row in _outcome(outcome, paint)]
        if rows:
            lines += ["", paint(title, "1"), *rows]
    return lines


def _judged(found: Comparison) -> str:
    new = sum(outcome.what in ("new", "worse") for outcome in found.outcomes)
    gone = sum(outcome.what == "gone" for outcome in found.outcomes)
    less = len(found.dropped) + sum(outcome.what == "unasked" for outcome in found.outcomes)
    unasked = f", {less} not asked any more" if less else ""
    if not new and not gone:
        return f"no finding more, none less{unasked}"
    return f"{count(new, 'new finding')}, {gone} gone{unasked}"


def _change(change: Change) -> list[str]:
    place = f"  (row {change.line}{' before' if change.what == 'removed' else ''})" if change.line else ""
    return _folded(f"{_SIGNS.get(change.what, '~')} {change.says}{place}")


def _outcome(outcome: Outcome, paint: Paint) -> list[str]:
    word = f"{paint.severity(outcome.severity)} " if outcome.what in ("new", "worse") else ""
    place = f"  (row {outcome.line})" if outcome.line and outcome.what in ("new", "worse") else ""
    clause = f" ({outcome.clause})" if outcome.clause else ""
    return _folded(f"{_SIGNS.get(outcome.what, '~')} {word}{outcome.rule} at {outcome.thing}{clause}: {outcome.says}{place}")


def _folded(row: str) -> list[str]:
    return textwrap.wrap(row, WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False,
                         break_on_hyphens=False)


def tables(found: Comparison) -> tuple[Table, ...]:
    """What changed, and what came of it, of a combination's vehicles too."""
    every = (found, *(own for _, own in found.vehicles))
    return (Table("changes", "Changes", ("file", *Change._fields),
                  tuple((one.new, *map(str, each)) for one in every for each in one.changes), numbers={"line"}),
            Table("outcomes", "Outcomes", ("file", *Outcome._fields),
                  tuple((one.new, *map(str, each)) for one in every for each in one.outcomes), numbers={"line"}),
            Table("dropped", "Not asked any more", ("file", *Dropped._fields),
                  tuple((one.new, *each) for one in every for each in one.dropped)))


def document(found: Comparison) -> str:
    """The whole comparison as JSON."""
    head = {"tool": "airwright", "version": __version__, "format": 1, "caution": CAUTION, **_entry(found)}
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def _entry(found: Comparison) -> ComparedTold:
    entry: ComparedTold = {
        "old": found.old, "new": found.new, "worse": found.is_worse,
        "changes": [cast(ChangeTold, change._asdict()) for change in found.changes],
        "outcomes": [cast(OutcomeTold, outcome._asdict()) for outcome in found.outcomes],
        "dropped": [cast(DroppedTold, each._asdict()) for each in found.dropped],
    }
    if found.vehicles:
        entry["vehicles"] = [{**_entry(own), "name": name} for name, own in found.vehicles]
    return entry


def schema() -> dict[str, Any]:
    """The JSON schema of a comparison, from the records that it is made of."""
    known: dict[str, Any] = {}
    of_type(ComparedTold, known)
    text = {"type": "string"}
    its = known["ComparedTold"]
    fixed = {"tool": {"const": "airwright"}, "version": text,
             "format": {"const": 1, "description": "Raised when a key changes its meaning or goes away."}, "caution": text,
             **{key: value for key, value in its["properties"].items() if key != "name"}}
    return {"$schema": DIALECT, "title": "Output of airwright compare --format json", "description": its["description"],
            "type": "object", "required": [*list(fixed)[:4], *its["required"]], "properties": fixed,
            "additionalProperties": False, "$defs": known}
