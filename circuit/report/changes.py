"""A comparison as text for a reviewer and as JSON for other programs; `told` says what the JSON holds."""

import json
import textwrap
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any, cast
from urllib.parse import quote

from circuit import __version__
from circuit.report.ci.markdown import code, plain
from circuit.report.ci.markdown import table as md_table
from circuit.report.data import DIALECT, of_type
from circuit.report.table import Table, as_one
from circuit.report.terminal import WIDTH, Paint
from circuit.report.told import ChangeTold, ComparedTold, DroppedTold, OutcomeTold
from circuit.report.words import CAUTION, count
from circuit.verdict.demands import Dropped
from circuit.verdict.compare import Change, Comparison
from circuit.verdict.judge import Verdict
from circuit.verdict.outcomes import Outcome

_DESIGN = (
    ("Parts", ("added", "removed", "replaced", "renamed", "moved")),
    ("Lines led elsewhere", ("re-routed",)),
    ("Lines cut, lengthened, shortened", ("cut", "lengthened", "shortened")),
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


def told(found: Sequence[Comparison], kind: str, paint: Paint, pictures: Mapping[str, str] = MappingProxyType({})) -> str:
    """Comparisons in a format. pictures: files of drawings by the design's new name."""
    if kind == "json":
        return document(found)
    if kind == "csv":
        return as_one(tuple(table for each in found for table in tables(each)))
    if kind == "markdown":
        return markdown(found, pictures)
    return "\n".join(text(each, paint) for each in found)


def begun(name: str, judged: Verdict) -> Comparison:
    """A design that was not there before: its findings are new."""
    new = tuple(Outcome("new", one.rule.name, one.answer.thing, one.answer.says, one.severity, one.answer.at.outermost.line,
                        one.clause.cited) for one in judged.findings if one.is_open)
    return Comparison("", name, (Change("added", name, f"{name} is new"),), new)


def markdown(found: Sequence[Comparison], pictures: Mapping[str, str]) -> str:
    """For a pull request: what is worse in each design first, then its changes, and its drawing where there is one."""
    worse = sum(each.is_worse for each in found)
    parts = [f"## Airwright: {count(len(found), 'design')} changed, {worse} of them with a finding more or asked less", ""]
    for each in found:
        parts += [f"### {code(each.new or each.old)}", "", _judged(each), ""]
        for title, own in (("", each), *each.vehicles):
            rows = _rows(own)
            parts += [f"**{plain(title)}, by itself**", ""] if title and rows else []
            parts += [*md_table(("", "what", "row"), rows), ""] if rows else []
        if each.new in pictures:
            parts += [f"![The schematic of {plain(each.new)}, its changes marked]({quote(pictures[each.new])})", ""]
    return "\n".join([*parts, f"_{CAUTION}_"]) + "\n"


def _rows(own: Comparison) -> list[tuple[str, str, str]]:
    """Rows of a table: what is not met any more, not asked any more, and so on, then what changed."""
    rows = [("not asked any more", plain(each.says), "") for each in own.dropped]
    for title, words in _RESULTS:
        rows += [(f"{title.lower()}{': ' + each.severity if each.severity else ''}",
                  f"{code(each.rule)} at {code(each.thing)} ({plain(each.clause)}): {plain(each.says)}", str(each.line or ""))
                 for each in own.outcomes if each.what in words]
    for title, of in _DESIGN:
        rows += [(title.lower(), plain(each.says), str(each.line or "")) for each in own.changes if each.what in of]
    return rows


def text(found: Comparison, paint: Paint) -> str:
    """What changed, in the trade's words."""
    lines = _body(found, paint)
    for name, own in found.vehicles:
        if own.is_other:
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
    of = f" of {change.row_file}" if change.row_file else ""
    place = f"  (row {change.line}{of}{' before' if change.what == 'removed' else ''})" if change.line else ""
    return _folded(f"{_SIGNS.get(change.what, '~')} {change.says}{place}")


def _outcome(outcome: Outcome, paint: Paint) -> list[str]:
    word = f"{paint.severity(outcome.severity)} " if outcome.what in ("new", "worse") else ""
    of = f" of {outcome.row_file}" if outcome.row_file else ""
    place = f"  (row {outcome.line}{of})" if outcome.line and outcome.what in ("new", "worse") else ""
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


def document(found: Comparison | Sequence[Comparison]) -> str:
    """One comparison as JSON, or several under `designs`."""
    head = {"tool": "airwright", "version": __version__, "format": 1, "caution": CAUTION}
    several = [found] if isinstance(found, Comparison) else list(found)
    whole = {**head, **_entry(several[0])} if len(several) == 1 else {
        **head, "worse": any(each.is_worse for each in several), "designs": [_entry(each) for each in several]}
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


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
    """The JSON schema of comparisons, from the records that they are made of: of one design, or of several."""
    known: dict[str, Any] = {}
    several = of_type(list[ComparedTold], known)
    its, text = known["ComparedTold"], {"type": "string"}
    head = {"tool": {"const": "airwright"}, "version": text,
            "format": {"const": 1, "description": "Raised when a key changes its meaning or goes away."}, "caution": text}
    one = {**head, **{key: value for key, value in its["properties"].items() if key != "name"}}
    many = {**head, "worse": {"type": "boolean"}, "designs": several}
    either = [{"description": its["description"], "type": "object", "required": [*head, *its["required"]], "properties": one,
               "additionalProperties": False},
              {"description": "Several designs that changed, each as a comparison.", "type": "object", "required": list(many),
               "properties": many, "additionalProperties": False}]
    return {"$schema": DIALECT, "title": "Output of airwright compare --format json", "oneOf": either, "$defs": known}
