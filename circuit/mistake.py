"""What is wrong with a text, as data: the words are shown by `report`."""

from typing import NamedTuple

from circuit.source import Span


class Mistake(NamedTuple):
    """One thing in a design file that cannot be understood.

    at: the place; says: what is wrong there, lower case, no full stop; expected: what to write instead, or "";
    other: a second place that clashes with the first, with what it is, or None.
    """

    at: Span
    says: str
    expected: str = ""
    other: tuple[Span, str] | None = None


class Unreadable(Exception):
    """The design has mistakes, so there is no circuit to check."""

    def __init__(self, mistakes: tuple[Mistake, ...]):
        super().__init__(f"{len(mistakes)} mistakes")
        self.mistakes = mistakes


MOST_TOLD = 200
"""Mistakes that are told of one design beside those of its text; past them nothing more is looked for."""


class Hopeless(Exception):
    """So much is wrong that nothing more is looked for."""


def give_up(mistakes: "list[Mistake]", already: int) -> None:
    """Raises Hopeless when far too much is wrong. already: how many mistakes the text had."""
    if len(mistakes) - already > MOST_TOLD:
        raise Hopeless


def told(mistakes: "list[Mistake]", already: int) -> "tuple[Mistake, ...]":
    """The mistakes that are shown, and that there are more where there are."""
    most = MOST_TOLD + already
    if len(mistakes) <= most:
        return tuple(mistakes)
    return (*mistakes[:most], Mistake(mistakes[most - 1].at, f"at least {len(mistakes) - most} more are wrong and not shown",
                                      "mend those above first, then check again"))
