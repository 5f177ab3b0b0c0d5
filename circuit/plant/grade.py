"""A student's list held against the answer of an exercise, by what it means, in sentences for a class.

A claim is a place on the way of the fault and what is wrong with it. A claim with a place that is not on it, or with words for
another sort of trouble, is wrong, and a list with more wrong claims than FREE is guessing and finds nothing.
"""

import re
import textwrap
from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from circuit import glossary, kinds, rules
from circuit.plant.answer import AnswerKey
from circuit.plant.meaning import Change, meant, sorts_of
from circuit.report.words import count
from circuit.verdict.lesson import lesson_of

FREE = 3
"""So many wrong claims a list may have; common practice, no source."""
FULL, LOST = 10, 2
"""Marks for the mistake alone, and what each wrong claim before or behind it takes off."""
_ROW = re.compile(r"^\s*(\d+)\b(?![.\-/]\w)|\b(?:line|row)s?\s+(\d+)|\.air:(\d+)", re.IGNORECASE)
_WORD = re.compile(r"[\w.<>/-]*\w")


class Remark(NamedTuple):
    """What is to be said of one line of a student's list. found: whether it names the mistake and its place. true: whether it
    is no wrong claim, though it may not be the mistake."""

    line: str
    found: bool
    says: str
    true: bool = False


class Grade(NamedTuple):
    """A graded list. found: whether the mistake is in it, and it is no guessing. marks: of FULL."""

    answer: AnswerKey
    remarks: tuple[Remark, ...]

    @property
    def wrong(self) -> int:
        """Claims that are wrong."""
        return sum(not remark.found and not remark.true for remark in self.remarks)

    @property
    def guessed(self) -> bool:
        return self.wrong > FREE

    @property
    def found(self) -> bool:
        return not self.guessed and any(remark.found for remark in self.remarks)

    @property
    def marks(self) -> int:
        return FULL - LOST * self.wrong if self.found else 0


def grade(answer: AnswerKey, findings: str) -> Grade:
    """Each line of a student's list with what is to be said of it."""
    lines = [row.split("#")[0].strip() for row in findings.splitlines()]
    return Grade(answer, tuple(_remark(answer, line) for line in lines if line))


def grade_all(answers: Iterable[AnswerKey], findings: str) -> tuple[Grade, ...]:
    """The grade for each of several mistakes: a line that finds one of them is no wrong claim of the others."""
    found = [grade(answer, findings) for answer in answers]
    return tuple(each._replace(remarks=tuple(
        remark._replace(true=remark.true or any(other.remarks[place].found for other in found))
        for place, remark in enumerate(each.remarks))) for each in found)


def _remark(answer: AnswerKey, line: str) -> Remark:
    rows, names, named = _rows(line), _names(answer, line), _rule(line)
    place = _is_there(answer, rows, names)
    fault = named in answer.rules if named else _says_it(answer, line, names)
    if place and fault:
        return Remark(line, True, "right: that is the mistake, and that is its place")
    if named and _listed(answer.known, named, rows, names):
        return Remark(line, False, "true, but it was in the design before: it is not the mistake that was planted", True)
    if named and _listed(answer.follows, named, rows, names):
        return Remark(line, False, "true, and it comes with the mistake: look for what causes it", True)
    if place and not named and not meant(line):
        return Remark(line, False, "a place on the way of the mistake: say what is wrong with it")
    if place:
        return Remark(line, False, "a place on the way of the mistake, but this is not what is wrong there")
    if fault:
        return Remark(line, False, "the right kind of mistake, but not there" if rows or names else
                      "the right kind of mistake: say where, with a row or a name", not (rows or names))
    if not rows and not names:
        return Remark(line, False, "it names no row and no thing of the design, so nothing can be said of it")
    return Remark(line, False, "not planted: what stands there is as it was in the good design")


def _is_there(answer: AnswerKey, rows: set[int], names: list[str]) -> bool:
    """Whether a row or a name is on the way of the fault: what was changed, and what the changed rows join.

    Where only figures changed it is the thing that has the figure, and no other of the same row.
    """
    own = [change[0] for change in answer.changes]
    figures = own and not answer.gone and all(change[4] is not None for change in answer.changes)
    wanted = own if figures or set(own) & set(answer.things) and len(own) == 1 else [*answer.things, *answer.way]
    if figures and any(any(_same(name, other) for other in answer.names if other not in own) for name in names[:1]):
        return False
    return bool(rows & set(answer.lines)) or any(_same(name, thing) for name in names for thing in wanted)


def _says_it(answer: AnswerKey, line: str, names: list[str]) -> bool:
    """Whether what a line says is wrong is what is wrong."""
    bare = _without(line, names)
    changes = tuple(Change(*each) for each in answer.changes)
    if _other_setting(changes, bare):
        return False
    means, sorts = meant(bare), sorts_of(answer.mistake, changes)
    if not means:
        return any(_stated(change, line) for change in changes)
    if not all(each & sorts for each in means):
        return False
    if frozenset({"missing"}) in means and any(kind in answer.left_out for name in names for kind in answer.kind_of(name)):
        return False  # what is said to be missing stands there
    said = _kinds_said(bare) - {kind for name in names for kind in answer.kind_of(name)}
    return not (answer.left_out and frozenset({"missing"}) in means and said and not said & set(answer.left_out)
                and not said & set(answer.kinds_of_way()))


def _stated(change: Change, line: str) -> bool:
    """Whether a line gives the figure as it is beside the figure as it should be."""
    def has(text: str) -> bool:
        return re.search(rf"(?<![\d.]){re.escape(text)}(?![\d.])", line) is not None

    return has(change.new) and has(change.old)


def _other_setting(changes: tuple[Change, ...], line: str) -> bool:
    """Whether a line speaks of another setting of the thing than the one that was changed."""
    spaced = line.lower().replace("-", " ")
    settings = {change.setting.replace("-", " ") for change in changes}
    known = {"cut in", "cut out", "stroke", "rated", "volume", "displacement"}
    said = {word for word in known if re.search(rf"\b{word}\b", spaced)}
    return bool(settings and said) and not any(word in setting or setting in word for word in said for setting in settings)


def _without(line: str, names: Iterable[str]) -> str:
    """A line without the names of things, which may hold words of the trade."""
    for name in sorted(names, key=len, reverse=True):
        line = re.sub(rf"(?<![\w-]){re.escape(name)}(?![\w-])", " ; ", line)
    return line


@cache
def _nouns() -> tuple[tuple[re.Pattern[str], str], ...]:
    """Patterns of what people call each kind, the longest first."""
    found = [(name, kind.name) for kind in kinds.every() for name in (kind.name, *kind.aliases) if len(name) > 3]
    found += [(name, word.part) for _, words in glossary.groups() for word in words if word.name.endswith(("valve", "reservoir"))
              for name in (word.name, *word.also)]
    found += glossary.spoken()
    return tuple((re.compile(r"\b" + "[- ]".join(map(re.escape, name.split("-"))) + r"s?\b", re.I), kind)
                 for name, kind in sorted(found, key=lambda each: -len(each[0])))


def _kinds_said(line: str) -> set[str]:
    """The kinds that a line speaks of."""
    found = set()
    for pattern, kind in _nouns():
        line, many = pattern.subn(" ; ", line)
        if many:
            found.add(kind)
    return found


def _rows(line: str) -> set[int]:
    return {int(next(filter(None, found.groups()))) for found in _ROW.finditer(line)}


def _names(answer: AnswerKey, line: str) -> list[str]:
    known = {*answer.names, *answer.things, *answer.way}
    return [word for word in _WORD.findall(line) if any(_same(word, name) for name in known)]


def _same(word: str, name: str) -> bool:
    return word == name or word.startswith(f"{name}.") or name.startswith(f"{word}.")


def _rule(line: str) -> str:
    return next((word for word in _WORD.findall(line) if rules.find(word)), "")


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
    if graded.guessed:
        return "\n".join([*out[:12], *(["  ..."] if len(out) > 12 else []), "", *_wrapped(
            f"Guessed: {graded.wrong} claims are wrong, and more than {FREE} are no finding. Say once what is wrong and where."),
            ""])
    out += ["", f"Found: {graded.marks} of {FULL} marks." if graded.found else "Missed.",
            *_wrapped(f"The mistake that was planted: {answer.says} ({answer.title})."),
            *_wrapped(_where(answer))]
    out += [f"It stands no longer there: {row}" for row in answer.gone]
    if graded.wrong:
        out.append(f"{count(graded.wrong, 'claim')} of the list {'is' if graded.wrong == 1 else 'are'} wrong.")
    taught = lesson_of(answer.rules[0])
    out += ["", *_wrapped(f"Why it matters: {taught.why}"), *_wrapped(f"What happens: {taught.consequence}"),
            f"More: airwright explain {answer.rules[0]}"]
    return "\n".join(out) + "\n"


def _where(answer: AnswerKey) -> str:
    rows = ("row " if len(answer.lines) == 1 else "rows ") + ", ".join(map(str, answer.lines))
    return f"Its place: {rows}; what is wrong is {', '.join(answer.things)}."


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, 110, subsequent_indent="  ", break_on_hyphens=False)
