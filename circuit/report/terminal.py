"""Reports for people, as plain text; colour only on a terminal that wants it."""

import textwrap
from collections.abc import Iterable

from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.judging.leaning import RANGE
from circuit.judging.prediction import Predicted
from circuit.judging.causes import listed
from circuit.judging.rule import SEVERITIES, Answer, Figure, Judgement, Result
from circuit.mistake import Mistake
from circuit.report.words import CAUTION, cited, compared, count
from circuit.source import Span
from circuit.verdict.judge import NOTHING, Verdict, consequence

WIDTH = 110


class Paint:
    """ANSI colour, or none. wanted: whether to colour."""

    def __init__(self, wanted: bool) -> None:
        self.wanted = wanted

    def __call__(self, text: str, code: str) -> str:
        return f"\x1b[{code}m{text}\x1b[0m" if self.wanted else text

    def severity(self, word: str) -> str:
        return self(word.upper(), {"error": "1;31", "warning": "1;33"}.get(word, "1"))


# --- a place in a text --------------------------------------------------------------------------------------------


def place(span: Span, label: str = "", gutter: int = 6) -> list[str]:
    """The row of a place and a marker under it. label: what it is, behind the marker."""
    row = span.source.row(span.line)
    head, tail = row[: span.column - 1], row[span.column - 1:]
    shown_head, shown_tail = _harmless(head.expandtabs(4)), _harmless(tail.expandtabs(4))
    text = shown_head + shown_tail
    start, length = _width(shown_head), max(1, min(span.length, max(1, len(tail.rstrip()))))
    if len(text) > WIDTH - 12:
        cut = max(0, len(shown_head) - 30)
        text = ("..." if cut else "") + text[cut: cut + WIDTH - 20] + "..."
        start = start - cut + (3 if cut else 0)
        length = min(length, WIDTH - 20)
    lines = [f"{span.line:>{gutter}} | {text.rstrip()}"]
    lines.append(f"{'':>{gutter}} | {' ' * start}{'^' * length}" + (f"  {label}" if label else ""))
    return lines


def _harmless(text: str) -> str:
    """A text without the letters that steer a terminal or turn the direction of writing."""
    import unicodedata

    return "".join("\ufffd" if unicodedata.category(letter)[0] == "C" else letter for letter in text)


def _width(text: str) -> int:
    import unicodedata

    return sum(2 if unicodedata.east_asian_width(letter) in "WF" else 0 if unicodedata.combining(letter) else 1
               for letter in text)


def _place_with_use(span: Span, label: str = "") -> list[str]:
    """A place; for one inside an assembly, where it was used first and then the statement in the assembly."""
    if span.via is None:
        return place(span, label)
    outer = span.outermost
    return [*place(outer, label or "placed here"), f"       inside the assembly, {span}:", *place(span)]


def _folded(word: str, text: str, indent: int = 2, width: int = 9) -> list[str]:
    lead = f"{'':{indent}}{word:<{width}}"
    return textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=" " * (indent + width),
                         break_long_words=False, break_on_hyphens=False)


# --- a text that cannot be read -----------------------------------------------------------------------------------


def mistakes(found: Iterable[Mistake], paint: Paint, stands: bool = False) -> str:
    """Everything that keeps a design from being read. stands: something of it is judged all the same."""
    lines: list[str] = []
    number = 0
    for number, mistake in enumerate(found, 1):
        at = mistake.at.outermost
        lines.append(f"{at}: {paint(mistake.says, '1')}")
        if at.source.text:
            lines += _place_with_use(mistake.at)
        if mistake.expected:
            lines += _folded("", mistake.expected, 7, 2)
        if mistake.other is not None:
            span, what = mistake.other
            lines.append(f"       and {what}, {span.outermost}:")
            lines += place(span.outermost)
        lines.append("")
    mended = f"until {'this is' if number == 1 else f'these {number} are'} mended"
    lines.append(f"What hangs on {'it' if number == 1 else 'them'} is not decided {mended}. All else is judged as far as the "
                 "design is understood." if stands else f"This design cannot be checked {mended}.")
    return "\n".join(lines) + "\n"


# --- a verdict ----------------------------------------------------------------------------------------------------


def verdict(judged: Verdict, paint: Paint, assumed: bool = False, short: bool = False, clauses: bool = False,
            stands: bool = False) -> str:
    """Findings, then a summary of the four outcomes; under several sets of rules also where they differ.

    assumed: list every assumed value too. short: count what was met and what is open instead of listing it. clauses:
    add the coverage table. stands: the text has mistakes, and this is what is judged all the same.
    """
    far = ", as far as it is understood" if stands else ""
    lines = ["As far as it is understood, what hangs on no mistake:", ""] if stands else []
    lines += _body(judged, paint, assumed, short, clauses, far)
    for name, own in judged.vehicles:
        lines += ["", paint(f"{name}, by itself", "1"), ""] + _body(own, paint, assumed, short, clauses, far)
    lines += ["", *textwrap.wrap(CAUTION, WIDTH)]
    return "\n".join(lines) + "\n"


def _body(judged: Verdict, paint: Paint, assumed: bool, short: bool, clauses: bool, far: str) -> list[str]:
    circuit = judged.circuit
    vehicle = circuit.vehicle
    sets = " and ".join(each.name for each in judged.sets)
    lines = [paint(f"{vehicle.title}", "1") + f"  ({vehicle.vehicle_class}, {circuit.source.name})",
             f"held to {sets}", *(f"  {each.name}: {each.caution}" for each in judged.sets if each.caution), ""]
    number = 0
    told: dict[tuple[str, str], int] = {}
    for judgement in judged.findings:
        if judgement.is_open:
            number += 1
        key = (judgement.rule.name, judgement.clause.key)
        lines += _finding(judgement, number, paint, told.get(key, 0)) + [""]
        if judgement.is_open and judgement.by_simulation:
            told.setdefault(key, number)
    lines += _summary(judged, paint, short, far)
    lines += _predicted(judged, paint) if judged.predicted else []
    if clauses or len(judged.sets) > 2:
        from circuit.report.clause_lists import clauses_table, where_sets_differ

        apart = where_sets_differ(judged)
        lines += ["", paint("Where the sets differ", "1"), *apart] if apart else []
        lines += ["", paint("Clauses", "1"), *clauses_table(judged)] if clauses else []
    if assumed:
        lines += ["", paint("Assumed values", "1") + ": left out of the design, typical parts taken instead"]
        lines += [f"  {device.title}: {name} {given.text}  ({given.source})" for device, name, given in circuit.assumed]
    return lines


def _predicted(judged: Verdict, paint: Paint) -> list[str]:
    """What simulations decided, clause by clause, what is not met first."""
    by_clause: dict[str, list[Predicted]] = {}
    for each in sorted(judged.predicted, key=lambda one: one.result is not Result.NOT_MET):
        by_clause.setdefault(each.clause.key, []).append(each)
    missed = sum(each.result is Result.NOT_MET for each in judged.predicted)
    held = count(len(by_clause), "clause")
    lines = ["", paint("Predicted from simulations", "1") + f": {held}, {count(missed, 'place')} not met"]
    for found in by_clause.values():
        bad = sum(not each.result.is_kept for each in found)
        lines += _folded("-" if bad else "+", cited(found[0].clause), 2, 2)
        if bad:
            lines += _folded(paint("NOT MET", "1;31"), f"at {count(bad, 'place')} of {len(found)}: see the findings", 6, 9)
            continue
        each = found[0]
        lines += _folded(_PREDICTED[each.result], f"{each.says}; {figure(each.figure)}" if each.figure else each.says, 6, 9)
        lines += _leaning(each.leans_on, 6)
        if len(found) > 1:
            lines.append(f"      and {count(len(found) - 1, 'more place')} with more to spare")
    return lines


_PREDICTED = {Result.MET: "met", Result.TURNS: "turns"}


def _leaning(assumed: tuple[Assumed, ...], indent: int) -> list[str]:
    """What a figure leans on, where the design does not say it."""
    if not assumed:
        return []
    named = "; ".join(map(str, assumed[:3])) + (f"; and {len(assumed) - 3} more" if len(assumed) > 3 else "")
    return _folded("leans on", f"{named} (assumed)", indent, 9)


def figure(value: Figure) -> str:
    """`found ..., limit ..., margin ...`"""
    found, limit, margin = compared(value)
    return f"{value.what}: found {found}, limit {limit}, {margin}{' to spare' if value.margin >= 0 else ''}"


def _finding(judgement: Judgement, number: int, paint: Paint, told: int) -> list[str]:
    """A finding. told: the number of one for which the same clause was played, 0 if there is none."""
    answer = judgement.answer
    head = "waived" if judgement.waiver else f"{number}"
    word = paint("WAIVED", "1;36") if judgement.waiver else paint.severity(judgement.severity)
    played = ", by simulation" if judgement.by_simulation else ""
    lines = [f"{'' if judgement.waiver else head + ' '}{word}  {judgement.rule.name}{played}",
             f"  {paint(answer.says, '1')}", f"  {answer.at.outermost}"]
    lines += _place_with_use(answer.at)
    shown_also = answer.also[:6]
    file = answer.at.outermost.source.name
    for span, what in shown_also:
        if span.outermost.source.name != file:
            file = span.outermost.source.name
            lines.append(f"  {span.outermost}")
        lines += place(span.outermost, what)
    if len(answer.also) > len(shown_also):
        lines.append(f"       and {count(len(answer.also) - len(shown_also), 'more place')}")
    if answer.figure:
        lines += _folded("figures", figure(answer.figure))
    if told and judgement.waiver is None:
        return [*lines, *_folded("so, mend", f"as at {told}")]
    lines += _leaning(judgement.leans_on, 2)
    lines += _folded("so", consequence(judgement))
    lines += _folded("mend", answer.remedy)
    if judgement.follows:
        gone = dict.fromkeys(f"{j.rule.name} at {j.answer.thing}" for j in judgement.follows)
        lines += _folded("with it", f"{count(len(gone), 'finding')} that would go too: " + ", ".join(gone))
    lines += _folded("asked by", cited(judgement.clause))
    for one in judgement.also:
        other = one.answer.figure
        differs = f"; {figure(other)}" if other is not None and other != answer.figure else ""
        lines += _folded("also by", f"{one.clause.cited} [{one.clause.known}]{differs}")
    if judgement.waiver:
        waiver = judgement.waiver
        by = (f" ({waiver.by})" if waiver.by else "") + (f", until {waiver.until}" if waiver.until else "")
        lines += _folded("accepted", f"{waiver.because}{by}, {waiver.span}")
    else:
        lines += _folded("more", f"airwright explain {judgement.rule.name}")
    return lines


def _summary(judged: Verdict, paint: Paint, short: bool, far: str) -> list[str]:
    """What was met, not met and not decided. far: what to say behind the first two of a design with mistakes."""
    by_rule: dict[str, list[Judgement]] = {}
    for judgement in judged.judgements:
        if judgement.result.is_kept:
            by_rule.setdefault(judgement.rule.name, []).append(judgement)
    open_ones = [j for j in judged.findings if j.is_open]
    waived = [j for j in judged.findings if j.waiver]
    undecided = [j for j in judged.judgements if j.result is Result.UNDECIDED]
    checks = count(sum(map(len, by_rule.values())), "check")
    turning = sum(j.result is Result.TURNS for each in by_rule.values() for j in each)
    turn = f", {turning} of them turning within the range of what was assumed" if turning else ""
    lines = [paint(f"Met{far}", "1") + f": {checks} of {count(len(by_rule), 'rule')}{turn}"]
    for judgements in by_rule.values() if not short else ():
        lines += _met(judgements)
    lines.append(paint(f"Not met{far}", "1") + f": {_severities(open_ones)}" + (f", {len(waived)} waived" if waived else ""))
    for number, judgement in enumerate(open_ones, 1):
        lines += _folded(f"{number}", f"{judgement.rule.name}: {judgement.answer.says}", 2, 3)
    for judgement in waived:
        lines += _folded("-", f"waived: {judgement.rule.name}: {judgement.answer.says}", 2, 3)
    from_file = [o for o in judged.open_clauses if o.result is Result.UNDECIDED]
    lines.append(paint("Cannot be decided from this file", "1") + f": {len(undecided) + len(from_file)}")
    for judgement in undecided if not short else ():
        said = judgement.answer
        lines += _folded("-", f"{judgement.rule.title}: {said.says}; missing: {said.missing}", 2, 2)
    bare = [o.clause.cited for o in from_file if o.needs == NOTHING]
    if bare and not short:
        lines += _folded("-", f"nothing is written of what these clauses are about: {', '.join(bare)}", 2, 2)
    for one in (o for o in from_file if o.needs != NOTHING) if not short else ():
        lines += _folded("-", f"{one.clause.cited}: {one.clause.asks}{_doubt(one.clause)} Missing: {one.needs}", 2, 2)
    lifted = [o for o in judged.open_clauses if o.result is Result.LIFTED]
    lines += [paint("Lifted by what the design declares", "1") + f": {len(lifted)}"] if lifted else []
    for reason in dict.fromkeys(o.needs for o in lifted) if not short else ():
        names = ", ".join(o.clause.cited for o in lifted if o.needs == reason)
        lines += _folded("-", f"{names}: {reason}; the declaration is taken as written", 2, 2)
    never = [o for o in judged.open_clauses if o.result is Result.UNDECIDABLE]
    lines.append(paint("Cannot be decided from any file", "1") + f": {len(never)}")
    for one in never if not short else ():
        lines += _folded("-", f"{one.clause.cited}: {one.clause.asks}{_doubt(one.clause)} It takes {one.needs}", 2, 2)
    if judged.circuit.trials:
        lines.append(f"{count(len(judged.circuit.trials), 'trial')} in the design: airwright run plays them")
    values = len(judged.circuit.assumed)
    if values:
        lines.append(f"{count(values, 'value')} not written in the design {'was' if values == 1 else 'were'} taken as "
                     "typical; --assumed lists them")
    return lines


def _doubt(clause: Clause) -> str:
    """What to say of a clause that is only remembered."""
    return f" [{clause.known}]" if clause.grade else ""


def _met(judgements: list[Judgement]) -> list[str]:
    """One rule's met statements: its title, then what was seen, or only where when that would be long."""
    says = list(dict.fromkeys(_with_limit(j.answer) for j in judgements))
    text = "; ".join(says)
    if len(says) > 1 and len(text) > 2 * WIDTH:
        figures = [j.answer.figure for j in judgements if j.answer.figure]
        things = list(dict.fromkeys(j.answer.thing for j in judgements))
        more = f" and {len(things) - 12} more" if len(things) > 12 else ""
        text = ", ".join(things[:12]) + more
        if figures:
            tightest = min(figures, key=lambda f: f.margin / max(abs(f.limit), 1e-9))
            text += "; closest: " + figure(tightest)
    lines = _folded("+", judgements[0].rule.title, 2, 2) + _folded("", text, 6, 0)
    for remark in dict.fromkeys(j.answer.remark for j in judgements if j.answer.remark):
        lines += _folded("note:", remark, 6, 6)
    turned = [j for j in judgements if j.turns is not None]
    if turned:
        names = ", ".join(dict.fromkeys(j.answer.thing for j in turned))
        lines += _folded("turns:", f"{names}: not met any more with {turned[0].turns} off by {RANGE:.0%}", 6, 6)
    lines += _leaning(tuple(dict.fromkeys(one for j in judgements for one in j.leans_on)), 6)
    return lines


def _with_limit(answer: Answer) -> str:
    if answer.figure is None:
        return answer.says
    _, limit, margin = compared(answer.figure)
    return f"{answer.says}; {limit}, {margin} to spare"


def _severities(judgements: list[Judgement]) -> str:
    errors, warnings, notes = (sum(j.severity == one for j in judgements) for one in SEVERITIES)
    played = sum(j.by_simulation for j in judgements)
    return listed([count(errors, "error")] + ([count(warnings, "warning")] if warnings else []) + (
        [count(notes, "note")] if notes else [])) + (
        f", {played} of them by simulation" if played else "")
