"""A student's list held against the answer of an exercise, in sentences for a class."""

import re
import textwrap
from typing import NamedTuple

from circuit import rules
from circuit.plant.answer import AnswerKey
from circuit.report.words import count
from circuit.verdict.lesson import lesson_of

_ROW = re.compile(r"^\s*(\d+)\b(?![.\-/]\w)|\b(?:line|row)s?\s+(\d+)|\.air:(\d+)", re.IGNORECASE)
_WORD = re.compile(r"[\w.<>/-]*\w")


class Remark(NamedTuple):
    """What is to be said of one line of a student's list. found: whether it names the mistake and its place."""

    line: str
    found: bool
    says: str


class Grade(NamedTuple):
    """A graded list. found: whether the mistake is in it."""

    answer: AnswerKey
    remarks: tuple[Remark, ...]

    @property
    def found(self) -> bool:
        return any(remark.found for remark in self.remarks)


def grade(answer: AnswerKey, findings: str) -> Grade:
    """Each line of a student's list with what is to be said of it."""
    lines = [row.split("#")[0].strip() for row in findings.splitlines()]
    return Grade(answer, tuple(_remark(answer, line) for line in lines if line))


def _remark(answer: AnswerKey, line: str) -> Remark:
    rows, names, named = _rows(line), _names(answer, line), _rule(line)
    place = bool(rows & set(answer.lines)) or any(_same(name, thing) for name in names for thing in answer.things)
    fault = named in answer.rules if named else _called(answer, line)
    if place and fault:
        return Remark(line, True, "right: that is the mistake, and that is its place")
    if named and _listed(answer.known, named, rows, names):
        return Remark(line, False, "true, but it was in the design before: it is not the mistake that was planted")
    if named and _listed(answer.follows, named, rows, names):
        return Remark(line, False, "true, and it comes with the mistake: look for what causes it")
    if place:
        return Remark(line, False, "the right place, but not what is wrong there")
    if fault:
        return Remark(line, False, "the right kind of mistake, but not there" if rows or names else
                      "the right kind of mistake: say where, with a row or a name")
    if not rows and not names:
        return Remark(line, False, "it names no row and no thing of the design, so nothing can be said of it")
    return Remark(line, False, "not planted: what stands there is as it was in the good design")


def _rows(line: str) -> set[int]:
    return {int(next(filter(None, found.groups()))) for found in _ROW.finditer(line)}


def _names(answer: AnswerKey, line: str) -> list[str]:
    known = {*answer.names, *answer.things}
    return [word for word in _WORD.findall(line) if any(_same(word, name) for name in known)]


def _same(word: str, name: str) -> bool:
    return word == name or word.startswith(f"{name}.") or name.startswith(f"{word}.")


def _rule(line: str) -> str:
    return next((word for word in _WORD.findall(line) if rules.find(word)), "")


def _called(answer: AnswerKey, line: str) -> bool:
    """Whether a line has a word for the fault: one of its own, or the words of a rule's or the class's name."""
    spaced = line.lower().replace("-", " ")
    names = (*answer.words, *answer.rules, answer.mistake)
    return any(re.search(rf"\b{re.escape(word.lower().replace('-', ' '))}", spaced) for word in names)


def _listed(found: tuple[tuple[str, str, int], ...], rule: str, rows: set[int], names: list[str]) -> bool:
    return any(name == rule and (not rows and not names or line in rows or any(_same(word, thing) for word in names))
               for name, thing, line in found)


def told(graded: Grade) -> str:
    """The grade for the class: what was right, what was not, what was missed, and the lesson of the rule."""
    answer = graded.answer
    out = []
    for remark in graded.remarks:
        out += [f"  {remark.line}", *textwrap.indent(textwrap.fill(remark.says, 104), " " * 6).split("\n")]
    if not graded.remarks:
        out.append("  The list has no findings.")
    others = sum(not remark.found for remark in graded.remarks)
    out += ["", "Found." if graded.found else "Missed.",
            *_wrapped(f"The mistake that was planted: {answer.says} ({answer.title})."),
            *_wrapped(_where(answer))]
    out += [f"It stands no longer there: {row}" for row in answer.gone]
    if others:
        out.append(f"{count(others, 'further line')} of the list {'is' if others == 1 else 'are'} not the mistake.")
    taught = lesson_of(answer.rules[0])
    out += ["", *_wrapped(f"Why it matters: {taught.why}"), *_wrapped(f"What happens: {taught.consequence}"),
            f"More: airwright explain {answer.rules[0]}"]
    return "\n".join(out) + "\n"


def _where(answer: AnswerKey) -> str:
    rows = ("row " if len(answer.lines) == 1 else "rows ") + ", ".join(map(str, answer.lines))
    return f"Its place: {rows}; what is wrong is {', '.join(answer.things)}."


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, 110, subsequent_indent="  ", break_on_hyphens=False)
