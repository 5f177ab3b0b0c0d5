"""What a rule's docstring tells: what `explain` prints and what the tests run."""

import inspect
import re
from importlib import import_module
from typing import NamedTuple

from circuit.clauses import ALWAYS, asking, rule_set


class Lesson(NamedTuple):
    """A rule's docstring, taken apart."""

    fault: str
    why: str
    consequence: str
    not_checked: str
    bad: str
    good: str


class QuestionTold(NamedTuple):
    """A question's docstring, taken apart. mend: an order, lower case, no full stop."""

    question: str
    consequence: str
    mend: str


_HEADINGS = ("Why", "What happens", "What is not checked", "Bad", "Good")


def lesson_of(name: str) -> Lesson:
    """What the file of a rule tells; its designs name a set of clauses that asks for it. Raises ValueError as `lesson`."""
    module = import_module(f"circuit.rules.{name.replace('-', '_')}")
    told = lesson(inspect.cleandoc(module.__doc__ or ""))
    return told._replace(bad=_held(told.bad, name), good=_held(told.good, name))


def _held(design: str, question: str) -> str:
    """A design with the set it is to be held to, unless every design is held to a clause that asks for the rule.

    Of several sets the one whose clause says the most, and then the one with the most clauses.
    """
    if asking(question, (ALWAYS,)):
        return design
    written = re.search(r"\bclass ([a-z-]+)", design)
    vehicle, tows = written.group(1) if written else "truck", "tows yes" in design
    clauses = [one for one in asking(question) if one.holds(vehicle, tows)] or list(asking(question))
    best = max(clauses, key=lambda one: (len(one.values), len(rule_set(one.set_name).clauses)))
    return f"rules {best.set_name}\n{design}"


def lesson(docstring: str) -> Lesson:
    """The parts of a rule's docstring; raises ValueError when a heading is missing."""
    parts = re.split(r"^(" + "|".join(_HEADINGS) + r")\n-+\n", docstring, flags=re.MULTILINE)
    found = dict(zip(parts[1::2], parts[2::2]))
    missing = [heading for heading in _HEADINGS if heading not in found]
    if missing:
        raise ValueError(f"a rule's docstring lacks {', '.join(missing)}")

    def prose(heading: str) -> str:
        return " ".join(found[heading].split())

    def design(heading: str) -> str:
        return "\n".join(line[4:] for line in found[heading].strip("\n").split("\n")).rstrip() + "\n"

    return Lesson(" ".join(parts[0].split()), prose("Why"), prose("What happens"), prose("What is not checked"),
                  design("Bad"), design("Good"))


def told_of(name: str) -> QuestionTold:
    """What the file of a question tells; raises ValueError when a heading is missing."""
    module = import_module(f"circuit.questions.{name.replace('-', '_')}")
    parts = re.split(r"^(What happens|Mend)\n-+\n", inspect.cleandoc(module.__doc__ or ""), flags=re.MULTILINE)
    if parts[1::2] != ["What happens", "Mend"]:
        raise ValueError(f"circuit/questions/{name.replace('-', '_')}.py does not tell what happens and how it is mended")
    question, so, mend = (" ".join(part.split()) for part in parts[::2])
    return QuestionTold(question, so, mend[0].lower() + mend[1:].removesuffix("."))
