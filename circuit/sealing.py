"""A sealed exercise: a design that its checker does not judge until the teacher opens it. It is a courtesy, no lock."""

from circuit.mistake import Mistake, Unreadable
from circuit.source import Source, Span

SEAL = "# airwright: a sealed exercise"
"""The first row of one."""


def unsealed(text: str) -> str:
    """The text without the seal."""
    return text.split("\n", 1)[-1] if text.startswith(SEAL) else text


def is_sealed(source: Source) -> bool:
    """Whether a text is a sealed exercise."""
    return source.text.startswith(SEAL)


def refuse_sealed(source: Source) -> None:
    """Raises Unreadable for a sealed exercise, so that nothing that judges gives its mistake away, and nothing passes it."""
    if is_sealed(source):
        raise Unreadable((Mistake(Span(source, 1, 1, len(SEAL)), "this is a sealed exercise: it is not judged",
                                  "hand in a list of findings or the mended design; the teacher may take this row out"),))
