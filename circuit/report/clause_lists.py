"""Clauses and sets of rules for people: what became of each clause, where sets differ, and the list of them all."""

import textwrap

from circuit.clauses import ALWAYS, Clause, rule_set, set_names
from circuit.judging.rule import Result
from circuit.report.plain import as_text
from circuit.report.table import Table
from circuit.report.words import compared
from circuit.verdict.answering import answered_by
from circuit.verdict.coverage import Covered, coverage, differences
from circuit.verdict.judge import Verdict

_WIDTH, _COVERAGE = 110, 160
_OUTCOMES = {Result.MET: "met", Result.TURNS: "met, turns", Result.NOT_MET: "not met",
             Result.LIFTED: "lifted", Result.UNDECIDED: "not decided", Result.UNDECIDABLE: "no file"}
_COLUMNS = ("clause", "outcome", "found", "limit", "margin", "rule")
_HEAD = "Sets of rules. A design names them with `rules SET`; `airwright standards SET` lists one."
COMMON = "common practice, no source"
_DECIDED = {"declared": "declaration"}
"""How a clause is decided, where a reader knows it by another word."""


def clauses_table(judged: Verdict) -> list[str]:
    """The coverage table: clause, outcome of four, figure, limit, margin, rule."""
    shown = [row for row in coverage(judged) if row.rules or not row.clause.key.startswith(f"{ALWAYS}/")]
    outcomes = ["waived" if row.waived else _OUTCOMES[row.outcome] for row in shown]
    rows = tuple((_id(row.clause), outcome, *(cell or "-" for cell in compared(row.figure)), ", ".join(row.rules) or "-")
                 for row, outcome in zip(shown, outcomes))
    doubtful = [row for row in shown if row.clause.basis not in ("read", COMMON)]
    notes = [f"{len(doubtful)} of these clauses are known otherwise than by reading them, from a parallel text, a copy or "
             "memory: airwright explain CLAUSE tells how"] if doubtful else []
    tally = {word: outcomes.count(word) for word in (*_OUTCOMES.values(), "waived")}
    notes.append(", ".join(f"{number} {word}" for word, number in tally.items() if number)
                 + "; no file: it takes a physical test")
    return as_text(Table("coverage", "Clauses", _COLUMNS, rows, tuple(notes), wide={"rule"}), _COVERAGE)


def _id(clause: Clause) -> str:
    doubt = " (from memory)" if clause.grade else ""
    return f"{clause.key}{doubt}{' (advisory)' if clause.advisory else ''}"


def where_sets_differ(judged: Verdict) -> list[str]:
    """Each question that several of the chosen sets answer, with their answers one under the other."""
    found = differences(judged)
    lines = []
    for difference in found:
        lines += textwrap.wrap(difference.title, _WIDTH, initial_indent="  ", subsequent_indent="  ")
        width = max(len(name) for name, _ in difference.answers) + 2
        for name, answer in difference.answers:
            lead = f"    {name:<{width}}"
            text = _answer(answer) if answer else "asks nothing of this vehicle"
            lines += textwrap.wrap(text, _WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead),
                                   break_long_words=False, break_on_hyphens=False)
    return lines


def _answer(row: Covered) -> str:
    text = f"{row.clause.number}: {'waived' if row.waived else _OUTCOMES[row.outcome]}"
    if row.figure is not None:
        found, limit, margin = compared(row.figure)
        text += f"; {row.figure.what} {found}, {limit}, margin {margin}"
    elif row.says:
        missing = row.outcome in (Result.UNDECIDED, Result.UNDECIDABLE) and not row.rules
        text += f"; {'missing: ' if missing else ''}{row.says}"
    return text + (f" [{row.clause.known}]" if row.clause.grade else "")


def standards(names: tuple[str, ...] = ()) -> str:
    """The sets and their clauses: how each is decided, by which rule, and how its text is known."""
    named = names or set_names()
    lines = [] if names else [_HEAD, ""]
    for name in named:
        one = rule_set(name)
        if not names:
            lines.append(f"  {name:<16}{len(one.clauses):>3} clauses  {one.title}")
            continue
        lines += [f"{name}: {one.title}", ""]
        for clause in one.clauses:
            decided = _DECIDED.get(clause.decided, clause.decided)
            by = ", ".join(answered_by(clause)) or ("no rule" if clause.decided == "drawing" else "")
            head = f"{clause.number}  ({decided}{', by ' + by if by else ''}; {clause.known}"
            head += "; advisory)" if clause.advisory else ")"
            lines += textwrap.wrap(head, _WIDTH, initial_indent="  ", subsequent_indent="      ",
                                   break_on_hyphens=False)
            lines += textwrap.wrap(clause.asks, _WIDTH, initial_indent="      ", subsequent_indent="      ")
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"
