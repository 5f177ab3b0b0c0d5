"""Pieces of the page as HTML. Every text of a design passes `text` on its way."""

import re
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.draw.glyphs import escape
from circuit.draw.pressure import BANDS, band_titles
from circuit.judging.rule import SEVERITIES, Figure, Judgement, Result
from circuit.report.sheets.cautions import CAUTIONS
from circuit.report.sheets.clause_sheet import OUTCOMES, WAIVED, parts_of, tally
from circuit.report.sheets.findings import labelled
from circuit.report.table import Table, in_minutes, without_columns, without_empty
from circuit.report.words import compared, count
from circuit.verdict.judge import Verdict, consequence

CLASS_OF = dict(zip((*OUTCOMES, WAIVED), ("met", "turns", "not-met", "lifted", "undecided", "never", "waived"), strict=True))
SIGN_OF = dict(zip((*OUTCOMES, WAIVED), ("\u25cf", "\u25d0", "\u25b2", "\u25c7", "\u25cb", "\u25a1", "\u25b3"), strict=True))
"""A sign for each outcome, so that it is told without colour."""


def text(words: str) -> str:
    """Words for HTML, also inside an attribute."""
    return escape(words).replace("'", "&#39;")


def schematic(picture: str) -> str:
    """The drawing for the page: without its own size, title row and ids that could meet the page's."""
    picture = re.sub(r'(<svg [^>]*?) width="[\d.]+" height="[\d.]+"', r'\1 id="sheet" role="group" '
                     'aria-label="Schematic of the circuit"', picture, count=1)
    return re.sub(r"\n<title>.*?</title>", "", picture, count=1)


def verdict(judged: Verdict) -> str:
    """The verdict in words: never more than what a drawing can say."""
    own = [judged, *(other for _, other in judged.vehicles)]
    errors, warnings, notes = (sum(j.is_open and j.severity == wanted for v in own for j in v.findings)
                               for wanted in SEVERITIES)
    waived = sum(j.waiver is not None for v in own for j in v.findings)
    played = sum(j.is_open and j.by_simulation for v in own for j in v.findings)
    counts = tally(judged)
    if errors or warnings or notes:
        head = ", ".join(filter(None, (count(errors, "error") if errors else "",
                                       count(warnings, "warning") if warnings else "",
                                       count(notes, "note") if notes else "")))
        state, head = "not-met", f"Not met: {head}" + (f", {played} of them by simulation" if played else "")
    else:
        state, head = "none", "No finding in what was checked"
    turning = counts[Result.TURNS.value]
    rest = [f"{counts[Result.MET.value]} met", *([f"{turning} met, but turning within the range of what was assumed"]
                                                 if turning else []),
            f"{counts[Result.UNDECIDED.value]} not decided from this file",
            f"{counts[Result.UNDECIDABLE.value]} that no file decides"]
    if counts[Result.LIFTED.value]:
        rest.append(f"{counts[Result.LIFTED.value]} lifted by what the design declares")
    if waived:
        rest.insert(0, f"{waived} accepted")
    return (f'<div class="verdict {state}"><p class="verdict-head">{text(head)}</p><p>{text(", ".join(rest))}</p>'
            "<p>Predicted from the drawing. No approval.</p></div>")


class Found(NamedTuple):
    """What is not met, under its label. word: error, warning or accepted. body: paragraphs of HTML.
    parts: the names, in the circuit on the page, of what it is about. of: the vehicle whose own file it was found in,
    empty for the design itself."""

    label: str
    word: str
    says: str
    body: str
    parts: tuple[str, ...]
    of: str = ""


def found_in(judged: Verdict) -> list[Found]:
    """Findings labelled as on the drawing; last those of each vehicle."""
    found = []
    for of, own in (("", judged), *judged.vehicles):
        new = [Found(label, "accepted" if each.waiver else str(each.severity), each.answer.says, _body(each),
                     parts_of(own, each)) for label, each in labelled(own)]
        for each in new:
            parts = (f"{of}.{part}" if of else part for part in each.parts)
            known = tuple(part for part in parts if part in judged.circuit.by_name)
            found.append(each._replace(label=f"{of} {each.label}".strip(), parts=known, of=of))
    return found


def rail(found: list[Found]) -> str:
    """Everything found as a button above the schematic, which lights up its parts."""
    rows = "".join(
        f'<li><button type="button" class="chip {_class_of(each)}" data-finding="{text(each.label)}" '
        f'aria-pressed="false">{_flag(each)} {text(each.says)}</button></li>' for each in found)
    return f'<ul class="rail" aria-label="Findings">{rows}</ul>' if rows else ""


def findings(found: list[Found]) -> str:
    """Everything found as a list for each vehicle; each can be chosen, and lights up its parts."""
    if not found:
        return ('<p class="empty">No finding. That is what was checked and predicted, not an approval; see what is not '
                "decided among the clauses.</p>")
    pieces = []
    for of in dict.fromkeys(each.of for each in found):
        rows = "".join(_finding(each) for each in found if each.of == of)
        pieces.append((f"<h3>{text(of)}, by itself</h3>" if of else "") + f'<ol class="findings">{rows}</ol>')
    return "".join(pieces)


def _finding(found: Found) -> str:
    return (f'<li class="finding {_class_of(found)}" data-finding="{text(found.label)}">'
            f'<button type="button" class="pick" aria-pressed="false">{_flag(found)} '
            f'<span class="says">{text(found.says)}</span></button>{found.body}</li>')


def _flag(found: Found) -> str:
    return f'<span class="flag">{text(found.label)}</span> <span class="severity">{text(found.word)}</span>'


def _class_of(found: Found) -> str:
    return found.word


def _body(judgement: Judgement) -> str:
    """What a finding says beneath its first sentence."""
    answer = judgement.answer
    body = [_figure(answer.figure), f'<p class="so"><b>So</b> {text(consequence(judgement))}</p>',
            f'<p class="mend"><b>Mend</b> {text(answer.remedy)}</p>']
    if judgement.follows:
        gone = dict.fromkeys(f"{j.rule.name} at {j.answer.thing}" for j in judgement.follows)
        body.append(f"<p><b>With it</b> {text(', '.join(gone))} would go too</p>")
    if judgement.waiver:
        by = f" ({judgement.waiver.by})" if judgement.waiver.by else ""
        body.append(f"<p><b>Accepted</b> {text(judgement.waiver.because + by)}</p>")
    body.append(_asked(judgement.clause))
    played = " \u00b7 by simulation" if judgement.by_simulation else ""
    body.append(f'<p class="small">{text(str(answer.at.outermost))} \u00b7 {text(judgement.rule.name)}{played}</p>')
    return "".join(body)


def _figure(figure: Figure | None) -> str:
    if figure is None:
        return ""
    found, limit, margin = compared(figure)
    return f"<p><b>{text(figure.what)}</b> found {text(found)}, limit {text(limit)}, margin {text(margin)}</p>"


def _asked(clause: Clause) -> str:
    return f'<p class="small"><b>Asked by</b> {text(clause.cited)}: {text(clause.asks)}</p>'


def clause_table(rows: Table) -> str:
    """Clause coverage with a filter by outcome."""
    present = [outcome for outcome in CLASS_OF if outcome in rows.column("outcome")]
    choices = [f'<label><input type="radio" name="outcome" value="" checked> all ({len(rows.rows)})</label>']
    for outcome in present:
        number = rows.column("outcome").count(outcome)
        choices.append(f'<label><input type="radio" name="outcome" value="{CLASS_OF[outcome]}"> '
                       f'<span aria-hidden="true">{SIGN_OF[outcome]}</span> {text(outcome)} ({number})</label>')
    return (f'<div class="bar filter"><fieldset class="choices"><legend>Outcome</legend>{"".join(choices)}</fieldset>'
            '<label>Find <input type="search" id="clause-filter" placeholder="a clause, a part, a word" '
            'autocomplete="off"></label><output id="clause-count" for="clause-filter"></output></div>'
            + table(rows, "clauses"))


def table(rows: Table, name: str = "", banded: bool = False) -> str:
    """A table with a caption, heads for columns and rows, notes below. banded: what rows share is said once above them."""
    shown = without_columns(rows, set(rows.bands)) if banded else rows
    heads = "".join(f'<th scope="col"{_class(rows, column)}>{text(column)}</th>' for column in shown.columns)
    body, before = [], ""
    for place, (row, whole) in enumerate(zip(shown.rows, rows.rows)):
        marks = rows.marks[place] if place < len(rows.marks) else ()
        band = " \u00b7 ".join(cell for column, cell in zip(rows.columns, whole) if cell and column in rows.bands)
        if banded and band != before:
            body.append(f'<tr class="band"><th scope="rowgroup" colspan="{len(shown.columns)}">{text(band)}</th></tr>')
            before = band
        cells = [_cell(shown, column, cell, marks, number == 0) for number, (column, cell) in enumerate(zip(shown.columns, row))]
        outcome = f' class="{CLASS_OF[row[0]]}"' if row[0] in CLASS_OF else ""
        parts = f' data-parts="{text(chr(10).join(marks))}"' if marks else ""
        body.append(f"<tr{outcome}{parts}>{''.join(cells)}</tr>")
    notes = "".join(f'<p class="note">{text(note)}</p>' for note in rows.notes)
    ident = f' id="table-{name}"' if name else ""
    return (f'<div class="scroll" tabindex="0" role="region" aria-label="{text(rows.title)}"><table{ident}>'
            f"<caption>{text(rows.title)}</caption><thead><tr>{heads}</tr></thead><tbody>{''.join(body)}</tbody></table>"
            f"</div>{notes}")


def _cell(rows: Table, column: str, cell: str, marks: tuple[str, ...], first: bool) -> str:
    words = text(cell)
    if cell in CLASS_OF and column == "outcome":
        words = f'<span class="sign" aria-hidden="true">{SIGN_OF[cell]}</span> {words}'
    elif cell in marks:
        words = f'<button type="button" class="part" data-part="{text(cell)}">{words}</button>'
    return f'<th scope="row">{words}</th>' if first else f"<td{_class(rows, column)}>{words}</td>"


def tables(several: tuple[Table, ...]) -> str:
    """Several tables, without the columns for a pen and those that hold nothing."""
    return "".join(table(in_minutes(without_empty(without_columns(each, each.blank))), banded=bool(each.bands))
                   for each in several)


def section(key: str, title: str, inside: str) -> str:
    """A section of the page, or nothing where there is nothing in it."""
    if not inside:
        return ""
    return (f'<section class="block" id="{key}" aria-labelledby="h-{key}"><h2 id="h-{key}">{text(title)}</h2>'
            f"{inside}</section>")


def _class(rows: Table, column: str) -> str:
    return ' class="number"' if column in rows.numbers else ' class="wide"' if column in rows.wide else ""


def vehicles(names: tuple[str, ...]) -> str:
    """A button for each vehicle of a combination, which brings it into sight."""
    return "".join(f'<button type="button" data-vehicle="{text(name)}">{text(name)}</button>' for name in names)


def cautions() -> str:
    return "<ol>" + "".join(f"<li>{text(caution)}</li>" for caution in CAUTIONS) + "</ol>"


def legend(unit: str) -> str:
    """The bands of pressure; the words are exchanged when the unit is."""
    rows = []
    for band, psi, bar in zip(BANDS, band_titles("psi"), band_titles("bar")):
        dash = f' stroke-dasharray="{band.dash}"' if band.dash else ""
        rows.append(
            f'<li><svg width="40" height="8" aria-hidden="true"><path d="M0 4H40" stroke="{band.colour}" '
            f'stroke-width="{band.weight:g}"{dash}/></svg> <span data-psi="{text(psi)}" data-bar="{text(bar)}">'
            f"{text(psi if unit == 'psi' else bar)}</span></li>")
    return "".join(rows)
