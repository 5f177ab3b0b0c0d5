"""The words every report uses, in one place."""

from collections.abc import Iterable

CAUTION = (
    "Predicted from the design file as written: a drawing check. It does not replace inspection, test or approval by a "
    "licensed person under the local code, and says nothing of parts as fitted."
)

SHOP = (
    "Before any line is opened: level ground, wheels chocked, every reservoir drained to nothing; a reservoir behind a "
    "check valve stays charged. Never open a spring chamber."
)

FAST = "\u00a0"
"""Between a number and its unit while lines are broken; a plain space when they are printed."""


def count(number: int, noun: str) -> str:
    """`1 finding`, `2 findings`."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def listed(words: Iterable[str], most: int = 6) -> str:
    """`a`, `a and b`, `a, b and c`; past the most, `a, b and 3 more`."""
    words = list(words)
    if len(words) > most:
        return ", ".join(words[:most]) + f" and {len(words) - most} more"
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def either(words: Iterable[str], most: int = 4) -> str:
    """`a`, `a or b`, `a, b or c`; past the most, `a, b or any of 3 more`."""
    words = list(words)
    if len(words) > most:
        return ", ".join(words[:most]) + f" or any of {len(words) - most} more"
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1]


def verb(words: Iterable[str], singular: str) -> str:
    """A verb in the number of its subjects: `brakes` of one, `brake` of several."""
    plural = {"does": "do", "has": "have"}.get(singular, singular.removesuffix("s"))
    return singular if len(list(words)) == 1 else plural


def be(words: Iterable[str]) -> str:
    return "is" if len(list(words)) == 1 else "are"
