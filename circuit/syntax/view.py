"""A statement that does not parse, as the search for slips sees it."""

import re
import unicodedata
from dataclasses import dataclass

from circuit.mistake import Mistake
from circuit.source import Source, Span
from circuit.syntax.cut import Piece
from circuit.syntax.vocabulary import Lookup

TEXT = "\ue000"
"""Stands for every character of a closed text, so that no pattern looks into one."""

_UNSEEN = "\\x00-\\x08\\x0a-\\x1f\\x7f-\\x9f\\u202a-\\u202e\\u2066-\\u2069\\ud800-\\udfff"
_QUOTED = re.compile(rf'(?<=\d)"|(?<=\d)[ \t]"(?![^"\n]*")|"[^"{_UNSEEN}]*"')
_KIND = re.compile(r"[^\W\d_][\w-]*")

MOST = 6000
"""Characters that are searched, counted back from the row that does not parse."""


def masked(text: str) -> str:
    """The text with closed quotes filled up; a mark behind a figure is the inch mark, and opens no text."""
    if '"' not in text:
        return text
    return _QUOTED.sub(lambda m: m.group() if m.group().strip() == '"' else TEXT * len(m.group()), text)


class Word(str):
    """A piece of the text to be shown in a message; a format says how it should have been written."""

    def __format__(self, how: str) -> str:
        text = str(self)
        if how == "hyphens":
            return re.sub(r"[\W_]+", "-", text).strip("-") or "a word"
        if how == "joined":
            return re.sub(r"\W", "", text)
        if how == "plain":
            return re.sub(r"\D", "", text)
        if how == "point":
            return text.replace(",", ".")
        if how == "point-last":
            whole, _, part = text.rpartition(",")
            return f"{re.sub(r'[^0-9]', '', whole)}.{part}"
        if how == "keyboard":
            return unicodedata.normalize("NFKC", text).replace("\u2044", "/").strip()
        if how == "code":
            return f"U+{ord(text[0]):04X}" if text else ""
        short = text if len(text) <= 40 else text[:39] + "…"
        return "".join(letter if letter.isprintable() else "\ufffd" for letter in short)


@dataclass(frozen=True, slots=True)
class View:
    """text: masked, up to the end of the row in which parsing stopped. start: where the search begins in it.

    error: where parsing stopped, or None for a statement that parses and yet cannot be meant.
    """

    source: Source
    piece: Piece
    text: str
    error: int | None
    words: Lookup
    start: int = 0

    @property
    def kind(self) -> str:
        """The first word."""
        found = _KIND.match(self.text)
        return found.group() if found else ""

    def mistake(self, start: int, stop: int, says: str, expected: str) -> Mistake:
        """One at a place in the text."""
        line, column = self.piece.place(start)
        end = self.text.find("\n", start, stop)
        return Mistake(Span(self.source, line, column, max(1, (stop if end < 0 else end) - start)), says, expected)


def view(source: Source, piece: Piece, error: int | None, words: Lookup) -> View:
    """The part of a statement that matters."""
    end = piece.text.find("\n", error) if error is not None else -1
    text = masked(piece.text if end < 0 else piece.text[:end])
    start = 0 if len(text) <= MOST else text.find("\n", len(text) - MOST) + 1
    return View(source, piece, text, error, words, start)
