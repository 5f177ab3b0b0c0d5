"""The rows of a sheet's table of revisions: what changed from each named version of a design to the next."""

from circuit.verdict.compare import compare
from circuit.verdict.judge import Verdict

Row = tuple[str, str, str, str]
"""Number or name, what, date, by; the last two are a person's to fill in."""
_WORDS = {"re-routed": "routed", "declared": "declared", "replaced": "replaced"}


def revisions(versions: tuple[tuple[str, Verdict], ...]) -> tuple[Row, ...]:
    """The rows for named versions, oldest first."""
    rows: list[Row] = [(name, "first version", "", "") for name, _ in versions[:1]]
    for (_, old), (name, new) in zip(versions, versions[1:]):
        counts: dict[str, int] = {}
        for change in compare(old, new).changes:
            word = _WORDS.get(change.what, change.what)
            counts[word] = counts.get(word, 0) + 1
        rows.append((name, ", ".join(f"{count} {word}" for word, count in counts.items()) or "nothing", "", ""))
    return tuple(rows)
