"""Clauses of standards and of good practice, as data in shared/clauses/*.toml."""

from functools import cache
from typing import Any, NamedTuple

from circuit.files import folder
from circuit.tables import table

ALWAYS = "good-practice"
"""The set that every design is held to."""


class Clause(NamedTuple):
    """One thing a standard asks.

    key: `set/id`, unique. document, edition: where it stands. asks: our paraphrase. vehicles: vehicle classes.
    decided: `drawing`, `simulation`, `declared` or `physical test`: what can decide it. basis: how the text is known.
    values: limits by name, in the units their names end in. needs: what a drawing lacks to decide it, or "".
    """

    key: str
    document: str
    edition: str
    asks: str
    vehicles: tuple[str, ...]
    decided: str
    basis: str
    source: str
    values: dict[str, Any]
    needs: str = ""

    @property
    def number(self) -> str:
        return self.key.split("/", 1)[1]

    @property
    def cited(self) -> str:
        """As a report cites it."""
        return f"{self.document} {self.number}" if self.document else self.number


class RuleSet(NamedTuple):
    name: str
    title: str
    clauses: tuple[Clause, ...]


@cache
def set_names() -> tuple[str, ...]:
    """The sets a design can name, ALWAYS last."""
    names = sorted(path.stem for path in (folder("shared") / "clauses").glob("*.toml"))
    return tuple(name for name in names if name != ALWAYS) + ((ALWAYS,) if ALWAYS in names else ())


@cache
def rule_set(name: str) -> RuleSet:
    """A set by name; raises KeyError when there is none."""
    if name not in set_names():
        raise KeyError(name)
    data = table(f"clauses/{name}")
    head = data["set"]
    clauses = tuple(
        Clause(
            key=f"{name}/{row['id']}",
            document=row.get("document", head.get("document", "")),
            edition=row.get("edition", head.get("edition", "")),
            asks=row["asks"],
            vehicles=tuple(row["vehicles"]),
            decided=row["decided"],
            basis=row.get("basis", head.get("basis", "")),
            source=row.get("source", head.get("source", "")),
            values=row.get("values", {}),
            needs=row.get("needs", ""),
        )
        for row in data["clause"]
    )
    return RuleSet(name, head["title"], clauses)


def clause(key: str) -> Clause:
    """A clause by `set/id`; raises KeyError."""
    name = key.split("/", 1)[0]
    for found in rule_set(name).clauses:
        if found.key == key:
            return found
    raise KeyError(key)
