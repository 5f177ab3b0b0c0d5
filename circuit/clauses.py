"""Clauses of standards and of good practice, as data in shared/clauses/*.toml.

A clause names the questions it asks, how each is to be found out (`procedure`) and what the answer is held to (`limit`).
What answers a question is found by its name, and knows no clause.
"""

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any, NamedTuple

from circuit.files import folder
from circuit.tables import table

ALWAYS: str = table("standards")["always"]
"""The set that every design is held to."""


USUAL_BODY = "usual"
"""The word for a body that no standard excepts."""


class Clause(NamedTuple):
    """One thing a standard asks.

    key: `set/id`, unique. document, edition: where it stands. asks: our paraphrase. vehicles: vehicle classes.
    decided: `drawing`, `simulation`, `declared` or `physical test`: what can decide it. basis: how the text is known;
    grade: of a memory, one of GRADES. questions: names of rules and of questions to a simulation. procedure, limit: of
    all of them, by name, in the units their names end in. needs: what a drawing lacks to decide it, or "". towing: it
    holds only for vehicles that tow air-braked ones. advisory: it is no law of design for these vehicles, and never more
    than a warning. unused: why nothing answers its question though a drawing could. lifted_for: special bodies that it is
    not asked of; lifted_by: what lifts it. since: the first year of build that it holds for, or 0; before: it holds only for
    vehicles declared as built before that year, or 0.
    """

    key: str
    document: str
    edition: str
    asks: str
    vehicles: tuple[str, ...]
    decided: str
    basis: str
    source: str
    questions: tuple[str, ...]
    procedure: dict[str, Any]
    limit: dict[str, Any]
    needs: str = ""
    grade: str = ""
    towing: bool = False
    advisory: bool = False
    unused: str = ""
    lifted_for: tuple[str, ...] = ()
    lifted_by: str = ""
    since: int = 0
    before: int = 0

    @property
    def set_name(self) -> str:
        return self.key.split("/", 1)[0]

    @property
    def values(self) -> dict[str, Any]:
        """Procedure and limit together."""
        return {**self.procedure, **self.limit}

    @property
    def number(self) -> str:
        return self.key.split("/", 1)[1]

    @property
    def cited(self) -> str:
        """As a report cites it."""
        return f"{self.document} {self.number}" if self.document else self.number

    @property
    def known(self) -> str:
        """How its text is known, with the grade of a memory."""
        return f"{self.basis}, {GRADES[self.grade]}" if self.grade else self.basis

    @property
    def is_too_vague(self) -> bool:
        """Whether it is remembered so vaguely that nothing may pass or fail by it."""
        return self.grade in VAGUE

    def holds(self, vehicle_class: str, tows: bool, body: str = USUAL_BODY, built: int | None = None) -> bool:
        """Whether it is asked of such a vehicle. built: year, None where the design does not say."""
        return self.is_about(vehicle_class, tows, built) and not self.lifted(body, built)

    def is_about(self, vehicle_class: str, tows: bool, built: int | None = None) -> bool:
        """Whether it speaks of such a vehicle, whatever then lifts it."""
        of_age = not self.before or (built is not None and built < self.before)
        return vehicle_class in self.vehicles and (tows or not self.towing) and of_age

    def lifted(self, body: str, built: int | None = None) -> str:
        """Why a clause about such a vehicle is not asked of this one, or ""."""
        if body in self.lifted_for:
            return f"the design declares `body {body}`, and {self.lifted_by} leaves such a vehicle out"
        if self.since and built is not None and built < self.since:
            return f"the design declares `built {built}`, and it holds from {self.since}"
        return ""


GRADES = {"M1": "grade M1: sure", "M2": "grade M2: verify before it is quoted", "M3": "grade M3: not to be judged by",
          "M+": "grade M+: sure", "M": "grade M: fairly sure", "M-": "grade M-: not to be judged by"}
VAGUE = ("M3", "M-")


class RuleSet(NamedTuple):
    """A set by the name designs give it. caution: what every reader of a report must know of its text, or "". procedures:
    by name, for clauses that share one and for studies."""

    name: str
    title: str
    clauses: tuple[Clause, ...]
    caution: str = ""
    procedures: Mapping[str, dict[str, Any]] = {}

    def asking(self, question: str) -> tuple[Clause, ...]:
        """The clauses that ask a question, in their order."""
        return tuple(one for one in self.clauses if question in one.questions)


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
    groups = head.get("groups", {})
    since = head.get("since", {})
    procedures = data.get("procedures", {})
    clauses = tuple(
        Clause(
            key=f"{name}/{row['id']}",
            document=row.get("document", head.get("document", "")),
            edition=row.get("edition", head.get("edition", "")),
            asks=row["asks"],
            vehicles=tuple(each for word in row["vehicles"] for each in groups.get(word, (word,))),
            decided=row["decided"],
            basis=row.get("basis", head.get("basis", "")),
            source=row.get("source", head.get("source", "")),
            questions=tuple(row.get("questions", ())) or (row["question"],),
            procedure=procedures[how] if isinstance(how := row.get("procedure", {}), str) else how,
            limit=row.get("limit", {}),
            needs=row.get("needs", ""),
            grade=row.get("grade", ""),
            towing=row.get("towing", False),
            advisory=row.get("advisory", False),
            unused=row.get("unused", ""),
            lifted_for=tuple(row.get("lifted_for", ())),
            lifted_by=row.get("lifted_by", ""),
            since=row.get("since", since.get(row.get("document", head.get("document", "")), 0)),
            before=row.get("before", 0),
        )
        for row in data["clause"]
    )
    return RuleSet(name, head["title"], clauses, head.get("caution", ""), procedures)


def asking(question: str, names: Iterable[str] | None = None) -> tuple[Clause, ...]:
    """The clauses of some sets, or of all, that ask a question, set after set."""
    return tuple(one for name in (set_names() if names is None else names) for one in rule_set(name).asking(question))


def procedure(name: str, names: Iterable[str]) -> dict[str, Any]:
    """How the first of some sets that says so does something, else how good practice does. Raises KeyError."""
    for each in (*names, ALWAYS):
        if name in rule_set(each).procedures:
            return rule_set(each).procedures[name]
    raise KeyError(name)


def clause(key: str) -> Clause:
    """A clause by `set/id`; raises KeyError."""
    name = key.split("/", 1)[0]
    for found in rule_set(name).clauses:
        if found.key == key:
            return found
    raise KeyError(key)
