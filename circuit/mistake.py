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
