"""Names that look like a name that was not found."""

from collections.abc import Iterable
from functools import lru_cache


def near(word: str, known: Iterable[str], most: int = 4) -> tuple[str, ...]:
    """Up to `most` known names that a hurried hand could have meant, best first."""
    import difflib

    lowered = {name.lower().replace("_", "-"): name for name in known}
    wanted = word.lower().replace("_", "-")
    found = difflib.get_close_matches(wanted, _likely(wanted, lowered), n=most, cutoff=0.66)
    alike = [difflib.SequenceMatcher(None, wanted, name).ratio() for name in found]
    found = [name for name, share in zip(found, alike) if share > alike[0] - 0.12]
    if len(wanted) >= 4:
        found = [*sorted((name for name in lowered if name.startswith(f"{wanted}-")), key=len), *found]
        found += [name for name in sorted(lowered) if wanted in name.split("-") or name in wanted.split("-")]
    if len(wanted) >= 3:
        found += [name for name in sorted(lowered) if "".join(part[0] for part in name.split("-") if part) == wanted]
    unique = list(dict.fromkeys(lowered[name] for name in found))
    return tuple(unique[:most])


LIKELY = 60
"""Names that are compared letter by letter, when there are many."""


def _likely(wanted: str, known: Iterable[str]) -> list[str]:
    """All names of a few; of many those that share most pairs of letters, so that a wrong name costs little in a large design."""
    names = list(known)
    if len(names) <= 3 * LIKELY:
        return names
    import heapq

    own = _pairs(wanted)
    return heapq.nlargest(LIKELY, names, key=lambda name: len(own & _pairs(name)) - abs(len(name) - len(wanted)) / 2)


@lru_cache(maxsize=100_000)
def _pairs(name: str) -> frozenset[str]:
    return frozenset(name[place: place + 2] for place in range(len(name) - 1))


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A sentence with near names, or ""."""
    names = near(word, known)
    return f"did you mean {' or '.join(names)}?" if names else ""
