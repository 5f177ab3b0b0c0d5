"""The words every report uses, in one place."""

from collections.abc import Iterable

from circuit.clauses import Clause
from circuit.judging.rule import Figure
from circuit.units import shown, told_apart

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


def clock(seconds: float | None) -> str:
    """Seconds as people say them: `0.404 s`, `24.0 s`, `7 min 40 s`, `not reached`.

    >>> clock(0.4041), clock(24.04), clock(460.0), clock(None)
    ('0.404 s', '24.0 s', '7 min 40 s', 'not reached')
    """
    if seconds is None:
        return "not reached"
    if seconds < 10:
        return f"{seconds:.3f} s"
    if seconds < 120:
        return f"{seconds:.1f} s"
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes < 60 else f"{minutes // 60} h {minutes % 60} min"


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


def sentence(words: str) -> str:
    """With a capital and a full stop."""
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")


def compared(figure: Figure | None) -> tuple[str, str, str]:
    """What was found, the limit and the margin: `22.6 s`, `at most 27.9 s`, `5.4 s`; nothing where nothing was compared.

    As many digits as it takes to tell them apart; a limit that is missed is `short` or `too much`.
    """
    if figure is None:
        return "", "", ""
    dimension = "difference" if figure.dimension == "pressure" else figure.dimension
    found, limit = told_apart(figure.found, figure.limit, figure.dimension)
    margin = told_apart(abs(figure.margin), 0.0, dimension)[0] if figure.margin else shown(0.0, dimension)
    missed = "" if figure.margin >= 0 else " short" if figure.at_least else " too much"
    return found, f"{'at least' if figure.at_least else 'at most'} {limit}", margin + missed


def cited(clause: Clause) -> str:
    """A clause as a report names it, with what it asks and how that is known."""
    known = clause.known if clause.basis == clause.source else ", ".join(p for p in (clause.known, clause.source) if p)
    edition = f", {clause.edition}" if clause.edition else ""
    return f"{clause.cited}: {clause.asks} [{known}{edition}]"
