"""A design file's text, and places in it. Lines and columns count from 1, here and everywhere else."""

from dataclasses import dataclass, field
from typing import NamedTuple


TURNING = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Signs that turn the direction of writing (Unicode Standard Annex 9): with them a text shows what it does not say."""


def harmless(text: str) -> str:
    """A text without the letters that steer a terminal, end a row or turn the direction of writing.

    >>> harmless("a\\x1b[31m.air"), harmless("truck é.air")
    ('a\ufffd[31m.air', 'truck é.air')
    """
    if text.isascii() and text.isprintable():
        return text
    import unicodedata

    return "".join("\ufffd" if unicodedata.category(letter) in ("Cc", "Cf", "Zl", "Zp") else letter for letter in text)


@dataclass(frozen=True, slots=True)
class Source:
    """The text of one file.

    name: the path as the user wrote it.
    text: the whole text, line ends as `\\n`.
    """

    name: str
    text: str = field(repr=False)
    rows: tuple[str, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "rows", tuple(self.text.split("\n")))

    def row(self, line: int) -> str:
        """The text of a line, empty past the end."""
        return self.rows[line - 1] if 0 < line <= len(self.rows) else ""


class Span(NamedTuple):
    """A place in a source: a line, the first column and how many characters.

    via: for a statement inside an assembly, the place where the assembly was used; else None.
    """

    source: Source
    line: int
    column: int
    length: int = 1
    via: "Span | None" = None

    def __str__(self) -> str:
        return f"{self.source.name}:{self.line}:{self.column}"

    def used_at(self, place: "Span") -> "Span":
        """The same place, seen through an assembly that was used at `place`."""
        inner = self.via.used_at(place) if self.via else place
        return Span(self.source, self.line, self.column, self.length, inner)

    @property
    def outermost(self) -> "Span":
        """Where the reader of the design meets it: the place of use, through any depth of assemblies."""
        return self.via.outermost if self.via else self

    def to(self, other: "Span") -> "Span":
        """From the start of this place to the end of `other`, or to the end of the line."""
        if other.line == self.line:
            return Span(self.source, self.line, self.column, other.column + other.length - self.column, self.via)
        row = self.source.row(self.line)
        return Span(self.source, self.line, self.column, max(1, len(row.rstrip()) - self.column + 1), self.via)
