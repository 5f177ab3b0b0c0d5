"""Figures and verdicts as they are printed, and where two printings of one question contradict each other.

A figure is allowed half of its last printed digit; beyond that two printings of one question may be 0.5 % apart, or 0.5 kPa
where they are pressures. Two printings of one row of a table may not be apart at all.
"""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

RELATIVE = 0.005
PRESSURE = 0.5
"""kPa."""
_SI = {"psi": ("kPa", 6.894757), "bar": ("kPa", 100.0), "kPa": ("kPa", 1.0), "MPa": ("kPa", 1000.0), "in3": ("L", 0.016387064),
       "L": ("L", 1.0), "s": ("s", 1.0), "ms": ("s", 1e-3), "%": ("%", 1.0),
       "mm": ("mm", 1.0), "in": ("mm", 25.4), "m": ("mm", 1000.0)}
_NUMBER = r"(?<![\w.])-?\d[\d,]*(?:\.\d+)?(?![\w.]*\w)"
_CLOCK = re.compile(r"(?<![\w.])(?:(\d+) h )?(\d+) min(?: (\d+) s)?(?![\w])")
_AMOUNT = re.compile(rf"({_NUMBER})(?: (psi|bar|kPa|MPa|in3|in|mm|m|L|ms|s|%)(?![\w/(.]))?")


class Amount(NamedTuple):
    """value: in kPa, L, s or %, or bare. half: of the last digit printed, in the same unit."""

    value: float
    half: float
    unit: str = ""


class Printing(NamedTuple):
    """One answer where it is printed. question: what is asked. place: of what. output: who prints it. amounts: its
    figures. words: its verdict, or what else must be the same. bound: `at least` or `at most` where the figure is said to be
    no more than a bound. exact: whether it may not differ by more than its digits."""

    question: str
    place: str
    output: str
    amounts: tuple[Amount, ...] = ()
    words: str = ""
    bound: str = ""
    exact: bool = False


class Contradiction(NamedTuple):
    design: str
    first: Printing
    other: Printing


def amounts(text: str) -> tuple[Amount, ...]:
    """Every figure in a text, one after the other.

    >>> [(round(each.value), each.unit) for each in amounts("left 100.0 psi after 2 min 31 s")]
    [(689, 'kPa'), (151, 's')]
    """
    found = []
    for match in _AMOUNT.finditer(_CLOCK.sub(_seconds, plain(text))):
        digits, unit = match.group(1).replace(",", ""), match.group(2) or ""
        name, scale = _SI.get(unit, ("", 1.0))
        half = 0.5 * 10.0 ** -len(digits.partition(".")[2])
        found.append(Amount(float(digits) * scale, half * scale, name))
    return tuple(found)


def plain(text: str) -> str:
    """With plain spaces between figures and units."""
    return text.replace("\u00a0", " ")


def bare(text: str) -> tuple[Amount, ...]:
    """Every figure as it stands, without its unit: a head of a column may hold that instead."""
    return tuple(Amount(float(digits), 0.5 * 10.0 ** -len(digits.partition(".")[2]))
                 for digits in (match.group(1).replace(",", "") for match in _AMOUNT.finditer(_CLOCK.sub(_seconds, plain(text)))))


def figure(text: str) -> tuple[Amount, ...]:
    """The one figure that a text begins with, as fine as it is printed: of `115.6 psi (7.97 bar)` the psi."""
    found = amounts(text)
    same = [each for each in found[:2] if each.unit == found[0].unit]
    return (min(same, key=lambda each: each.half),) if found else ()


def skeleton(text: str) -> str:
    """What a text says beside its figures, in small letters."""
    return " ".join(_AMOUNT.sub("#", _CLOCK.sub("#", plain(text))).casefold().split())


def _seconds(match: re.Match[str]) -> str:
    hours, minutes, seconds = (int(part or 0) for part in match.groups())
    if match.group(3):
        return f"{3600 * hours + 60 * minutes + seconds} s"
    return f"{3600 * hours + 60 * minutes} s"


def apart(one: Amount, other: Amount, exact: bool = False) -> bool:
    """Whether two figures cannot be the same."""
    if one.unit and other.unit and one.unit != other.unit:
        return True
    allowed = one.half + other.half
    if not exact:
        allowed += max(RELATIVE * max(abs(one.value), abs(other.value)), PRESSURE if one.unit == "kPa" else 0.0)
    return abs(one.value - other.value) > allowed * (1 + 1e-9)


def contradict(one: Printing, other: Printing) -> bool:
    """Whether two printings of the same cannot both be true."""
    if one.bound or other.bound:
        return not _keep(one, other)
    if one.words and other.words and one.words != other.words:
        return True
    if one.amounts and other.amounts and len(one.amounts) != len(other.amounts):
        return True
    return any(apart(mine, yours, one.exact and other.exact) for mine, yours in zip(one.amounts, other.amounts))


def _keep(one: Printing, other: Printing) -> bool:
    """Whether bounds are kept; a bound says nothing of another of its sort."""
    if one.bound == other.bound:
        return True
    if not one.bound:
        one, other = other, one
    sign = 1.0 if one.bound == "at least" else -1.0
    return all(sign * (theirs.value - mine.value) >= 0 or not apart(mine, theirs)
               for mine, theirs in zip(one.amounts, other.amounts))


def contradictions(design: str, printings: Iterable[Printing]) -> list[Contradiction]:
    """For each question and place, every printing that disagrees with what most printings of it say, once for each other
    answer."""
    groups: dict[tuple[str, str], list[Printing]] = {}
    for each in printings:
        groups.setdefault((each.question, each.place), []).append(each)
    found = []
    for group in groups.values():
        camps = _camps([each for each in group if not each.bound])
        camps.sort(key=len, reverse=True)
        found += [Contradiction(design, camps[0][0], camp[0]) for camp in camps[1:]]
        firm = [camp[0] for camp in camps[:1]]
        for bound in (each for each in group if each.bound):
            against = next((each for each in [*firm, *group] if each is not bound and contradict(each, bound)), None)
            if against is not None:
                found.append(Contradiction(design, against, bound))
    return found


def _camps(group: Sequence[Printing]) -> list[list[Printing]]:
    camps: list[list[Printing]] = []
    for each in group:
        camp = next((known for known in camps if not contradict(known[0], each)), None)
        if camp is None:
            camps.append([each])
        else:
            camp.append(each)
    return camps
