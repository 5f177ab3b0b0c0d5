"""Pieces of the page as HTML. Every text of a design passes `text` on its way."""

import re

from circuit.draw.glyphs import escape
from circuit.draw.pressure import BANDS, band_titles
from circuit.report.sheets.cautions import CAUTIONS
from circuit.report.sheets.clauses import OUTCOMES, WAIVED, figures, parts_of, tally
from circuit.report.sheets.findings import labelled
from circuit.report.sheets.table import Table, without_columns
from circuit.report.words import count
from circuit.rules.judge import Verdict, consequence
from circuit.rules.rule import Result

CLASS_OF = dict(zip((*OUTCOMES, WAIVED), ("met", "not-met", "undecided", "never", "waived")))
SIGN_OF = dict(zip((*OUTCOMES, WAIVED), ("\u25cf", "\u25b2", "\u25cb", "\u25a1", "\u25b3")))
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
    errors, warnings = (sum(j.is_open and (j.severity == "error") is wanted for v in own for j in v.findings)
                        for wanted in (True, False))
    waived = sum(j.waiver is not None for v in own for j in v.findings)
    late = sum(each.result is Result.NOT_MET for v in own for each in v.predicted)
    counts = tally(judged)
    if errors or warnings or late:
        head = ", ".join(filter(None, (count(errors, "error") if errors else "",
                                       count(warnings, "warning") if warnings else "",
                                       f"{late} by simulation" if late else "")))
        state, head = "not-met", f"Not met: {head}"
    else:
        state, head = "none", "No finding in what was checked"
    rest = [f"{counts['met']} met", f"{counts[OUTCOMES[2]]} not decided from this file",
            f"{counts[OUTCOMES[3]]} that no file decides"]
    if waived:
        rest.insert(0, f"{waived} accepted")
    return (f'<div class="verdict {state}"><p class="verdict-head">{text(head)}</p><p>{text(", ".join(rest))}</p>'
            "<p>Predicted from the drawing. No approval.</p></div>")


def finding_parts(judged: Verdict) -> list[tuple[str, tuple[str, ...]]]:
    """Label and parts of each finding, numbered as in the text report; accepted ones by letter w."""
    return [(label, parts_of(judged, judgement)) for label, judgement in labelled(judged)]


def findings(judged: Verdict) -> str:
    """The findings as a list; each can be chosen, and lights up its parts."""
    rows = []
    for label, judgement in labelled(judged):
        statement = judgement.statement
        word = "accepted" if judgement.waiver else judgement.severity
        body = [f'<p class="so"><b>So</b> {text(consequence(judgement.rule))}</p>',
                f'<p class="mend"><b>Mend</b> {text(statement.remedy)}</p>']
        if statement.figure is not None:
            found, limit, margin = figures(statement.figure)
            body.insert(0, f"<p><b>{text(statement.figure.what)}</b> found {text(found)}, limit {text(limit)}, "
                           f"margin {text(margin)}</p>")
        if judgement.follows:
            gone = dict.fromkeys(f"{j.rule.name} at {j.statement.thing}" for j in judgement.follows)
            body.append(f"<p><b>With it</b> {text(', '.join(gone))} would go too</p>")
        if judgement.waiver:
            by = f" ({judgement.waiver.by})" if judgement.waiver.by else ""
            body.append(f"<p><b>Accepted</b> {text(judgement.waiver.because + by)}</p>")
        body.append(f'<p class="small"><b>Asked by</b> {text(judgement.clause.cited)}: {text(judgement.clause.asks)}</p>')
        body.append(f'<p class="small">{text(str(statement.at.outermost))} \u00b7 {text(judgement.rule.name)}</p>')
        rows.append(
            f'<li class="finding {text(word)}" data-finding="{label}"><button type="button" class="pick" '
            f'aria-pressed="false"><span class="flag">{label}</span> <span class="severity">{text(word)}</span> '
            f'<span class="says">{text(statement.says)}</span></button>{"".join(body)}</li>')
    if not rows:
        return '<p class="empty">No finding. That is what was checked and predicted, not an approval; see what is not ' \
               "decided among the clauses.</p>"
    return f'<ol class="findings">{"".join(rows)}</ol>'


def clause_table(rows: Table) -> str:
    """Clause coverage with a filter by outcome."""
    present = [outcome for outcome in CLASS_OF if outcome in rows.column("outcome")]
    choices = [f'<label><input type="radio" name="outcome" value="" checked> all ({len(rows.rows)})</label>']
    for outcome in present:
        number = rows.column("outcome").count(outcome)
        choices.append(f'<label><input type="radio" name="outcome" value="{CLASS_OF[outcome]}"> '
                       f'<span aria-hidden="true">{SIGN_OF[outcome]}</span> {text(outcome)} ({number})</label>')
    return (f'<fieldset class="choices filter"><legend>Outcome</legend>{"".join(choices)}</fieldset>'
            + table(rows, "clauses"))


def table(rows: Table, name: str = "") -> str:
    """A table with a caption, heads for columns and rows, notes below."""
    heads = "".join(f'<th scope="col"{_class(rows, column)}>{text(column)}</th>' for column in rows.columns)
    body = []
    for place, row in enumerate(rows.rows):
        marks = rows.marks[place] if place < len(rows.marks) else ()
        cells = []
        for number, (column, cell) in enumerate(zip(rows.columns, row)):
            words = text(cell)
            if cell in CLASS_OF and column == "outcome":
                words = f'<span class="sign" aria-hidden="true">{SIGN_OF[cell]}</span> {words}'
            elif cell in marks:
                words = f'<button type="button" class="part" data-part="{text(cell)}">{words}</button>'
            cells.append(f'<th scope="row">{words}</th>' if number == 0 else f"<td{_class(rows, column)}>{words}</td>")
        outcome = f' class="{CLASS_OF[row[0]]}"' if row[0] in CLASS_OF else ""
        parts = f' data-parts="{text(chr(10).join(marks))}"' if marks else ""
        body.append(f"<tr{outcome}{parts}>{''.join(cells)}</tr>")
    notes = "".join(f'<p class="note">{text(note)}</p>' for note in rows.notes)
    ident = f' id="table-{name}"' if name else ""
    return (f'<div class="scroll" tabindex="0" role="region" aria-label="{text(rows.title)}"><table{ident}>'
            f"<caption>{text(rows.title)}</caption><thead><tr>{heads}</tr></thead><tbody>{''.join(body)}</tbody></table>"
            f"</div>{notes}")


def moving(tables: tuple[Table, ...]) -> str:
    """What simulations say of times, without the columns for a pen."""
    if not tables:
        return ""
    shown = "".join(table(without_columns(each, each.blank)) for each in tables)
    return f'<section class="block" aria-labelledby="h-moving"><h2 id="h-moving">Response prediction</h2>{shown}</section>'


def _class(rows: Table, column: str) -> str:
    return ' class="number"' if column in rows.numbers else ' class="wide"' if column in rows.wide else ""


def assumed(judged: Verdict) -> str:
    """Every typical value that was taken for one left out."""
    rows = "".join(
        f'<tr data-parts="{text(device.name)}"><th scope="row"><button type="button" class="part" '
        f'data-part="{text(device.name)}">{text(device.name)}</button></th><td>{text(name)}</td><td>{text(given.text)}</td>'
        f"<td>{text(given.source)}</td></tr>" for device, name, given in judged.circuit.assumed)
    if not rows:
        return "<p>No value was assumed.</p>"
    return ('<div class="scroll" tabindex="0" role="region" aria-label="Assumed values"><table><caption>Assumed values'
            '</caption><thead><tr><th scope="col">part</th><th scope="col">setting</th><th scope="col">taken as</th>'
            f'<th scope="col">source</th></tr></thead><tbody>{rows}</tbody></table></div>')


def other_vehicles(judged: Verdict) -> str:
    """For a combination: what each vehicle by itself has open."""
    pieces = []
    for name, own in judged.vehicles:
        pieces.append(f"<h3>{text(name)}, by itself</h3>")
        open_ones = [j for j in own.findings if j.is_open]
        rows = "".join(f"<li><b>{text(j.severity)}</b> {text(j.rule.name)}: {text(j.statement.says)}</li>" for j in open_ones)
        pieces.append(f"<ul>{rows}</ul>" if rows else "<p>No finding in what was checked.</p>")
    return f'<section class="block" aria-labelledby="h-vehicles"><h2 id="h-vehicles">Vehicles</h2>{"".join(pieces)}' \
           "</section>" if pieces else ""


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
