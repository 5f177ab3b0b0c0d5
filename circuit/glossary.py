"""The words of the trade and of the language: one sentence each, other names, what pushes what. Data of `shared/glossary`."""

from functools import cache
from typing import NamedTuple

from circuit.tables import table

GROUPS = ("air", "making", "storing", "braking", "wheel", "parking", "language")
"""The files of `shared/glossary`, as a student meets them."""


class Word(NamedTuple):
    """A word and what is said of it.

    also: other names. push: what it pushes or is pushed by, or "". part: the kind of part that it is or is inside of, or "".
    see: other topics of `explain`. command: what works it out for a design, or "".
    """

    name: str
    also: tuple[str, ...]
    says: str
    push: str
    part: str
    see: tuple[str, ...]
    command: str


class Beside(NamedTuple):
    """What stands beside a kind's own words: what pushes what, and what one hears and where."""

    push: str
    hear: str


@cache
def groups() -> tuple[tuple[str, tuple[Word, ...]], ...]:
    """Every group's title with its words, in the order of the files."""
    found = []
    for name in GROUPS:
        written = table(f"glossary/{name}")
        found.append((written["title"], tuple(
            Word(word, tuple(row.get("also", ())), row["says"], row.get("push", ""), row.get("in", ""),
                 tuple(row.get("see", ())), row.get("command", "")) for word, row in written["word"].items())))
    return tuple(found)


@cache
def _answers() -> dict[str, Word]:
    return {plain(name): word for _, words in groups() for word in words for name in (word.name, *word.also)}


def find(name: str) -> Word | None:
    """The word of a name or of another name; of many as of one, with blanks or hyphens. None where there is none."""
    wanted = plain(name)
    return _answers().get(wanted) or _answers().get(singular(wanted))


def names() -> tuple[str, ...]:
    """Every name that is answered."""
    return tuple(sorted({name for _, words in groups() for word in words for name in (word.name, *word.also)}))


def beside(kind: str) -> Beside | None:
    """What is said of a kind beside its own words, or None."""
    row = table("glossary/parts")["kind"].get(kind)
    return Beside(row["push"], row["hear"]) if row else None


def kinds_told() -> tuple[str, ...]:
    """The kinds that `beside` has something of."""
    return tuple(table("glossary/parts")["kind"])


def spoken() -> tuple[tuple[str, str], ...]:
    """What a student calls a kind besides its own names, with the kind."""
    return tuple(table("glossary/parts")["spoken"].items())


def plain(name: str) -> str:
    """A name as somebody may type it, in small letters and without what joins words.

    >>> plain("Push-Rod"), plain("wet reservoir"), plain("S_cam")
    ('pushrod', 'wetreservoir', 'scam')
    """
    return "".join(letter for letter in name.lower() if letter not in " -_'")


def singular(name: str) -> str:
    """One of many.

    >>> singular("linings"), singular("shoes"), singular("press")
    ('lining', 'shoe', 'press')
    """
    return name[:-1] if name.endswith("s") and not name.endswith("ss") else name
