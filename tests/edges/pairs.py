"""The pairs: data in `*.toml` beside this file, read, and the designs that they stand for.

A row of `[[pair]]`:

    clause   the key, `set/number`
    on       an example that is changed; or `case:` and a case of `tests/rules`; or `design`, a text of its own
    case     instead of all that follows, a failing case of `tests/rules`: the example that it changes meets the clause
    shared   rows of a patch (tests/designs.py) for both designs: what else the clause needs
    breaks   rows that break it, where no figure does; `meets`: rows that the other design has instead
    row      rows with one figure, `{x}`, where one does
    edge     the limit in the clause that the figure stands at, such as `warning`; or what it is, such as `625 psi`
    step     for each unit the least step between the two designs, such as { psi = 0.1, bar = 0.001 }
    wrong    `below` (the clause asks at least so much) or `above`
    found    instead of edge and step: for each unit the two figures, the breaking one first; found by `python -m
             tests.edges.find`, ours and frozen
    played   what answers is a simulation, and the test is a slow one
"""

import tomllib
from collections.abc import Iterator
from math import ceil, floor
from pathlib import Path
from typing import Any, NamedTuple

from circuit.clauses import Clause, clause, rule_set, set_names
from circuit.judging.limits import as_written
from circuit.units import to_si, value_in
from circuit.verdict.answering import answered_by
from tests.designs import EXAMPLES, design_of, example_text, patched

HERE = Path(__file__).parent
CASES = HERE.parent / "rules"


class Edge(NamedTuple):
    """Two designs, alike but for one thing. by: the unit of the figure, or "" where none is changed."""

    clause: Clause
    by: str
    breaks: str
    meets: str
    played: bool


def written() -> tuple[dict[str, Any], ...]:
    """Every row of the data."""
    return tuple(row for path in sorted(HERE.glob("*.toml"))
                 for row in tomllib.loads(path.read_text(encoding="utf-8")).get("pair", ()))


def reasons() -> dict[str, str]:
    """Clauses without a pair, with the reason."""
    return {key: why for path in sorted(HERE.glob("*.toml"))
            for key, why in tomllib.loads(path.read_text(encoding="utf-8")).get("none", {}).items()}


def decidable() -> tuple[Clause, ...]:
    """Every clause that something here answers, and that may be judged by."""
    return tuple(one for name in set_names() for one in rule_set(name).clauses if answered_by(one) and not one.is_too_vague)


def edges() -> Iterator[Edge]:
    """Every pair of designs, one for each unit in which a figure is written."""
    for row in written():
        one, played = clause(row["clause"]), row.get("played", False)
        if "case" in row:
            case = (CASES / f"{row['case']}.case").read_text(encoding="utf-8")
            yield Edge(one, "", design_of(case), example_text(changed_by(case)), played)
            continue
        if "row" not in row:
            yield Edge(one, "", text_of(row, row.get("breaks", ())), text_of(row, row.get("meets", ())), played)
            continue
        for unit, (breaks, meets) in figures(one, row).items():
            yield Edge(one, unit, with_figure(row, breaks), with_figure(row, meets), played)


def changed_by(case: str) -> str:
    """The example that a case changes."""
    (base,) = [row.removeprefix("on:").strip() for row in case.split("\n") if row.startswith("on:")]
    return base


def figures(one: Clause, row: dict[str, Any]) -> dict[str, tuple[str, str]]:
    """For each unit the figure that just breaks a clause and the one that just meets it, as they are written."""
    if "found" in row:
        return {unit: (f"{breaks} {unit}", f"{meets} {unit}") for unit, (breaks, meets) in row["found"].items()}
    text = row["edge"] if " " in row["edge"] else as_written(one.values, row["edge"])
    found = {}
    for unit, step in row["step"].items():
        dimension = row.get("dimension", "pressure")
        at = value_in(to_si(text, dimension), unit, dimension) / step
        whole = round(at) if abs(at - round(at)) < 1e-6 else None
        least = row["wrong"] == "below"
        meets = whole if whole is not None else ceil(at) if least else floor(at)
        found[unit] = tuple(f"{count * step:.10g} {unit}" for count in (meets - 1 if least else meets + 1, meets))
    return found  # type: ignore[return-value]


def text_of(row: dict[str, Any], patch: tuple[str, ...] | list[str]) -> str:
    """A pair's base with a patch put into it."""
    if "design" in row:
        base = row["design"]
    elif row["on"].startswith("case:"):
        base = design_of((CASES / f"{row['on'][5:]}.case").read_text(encoding="utf-8"))
    else:
        base = example_text(row["on"])
    return patched(base, [*row.get("shared", ()), *patch])


def with_figure(row: dict[str, Any], figure: str) -> str:
    """A pair's base with its figure."""
    return text_of(row, [each.replace("{x}", figure) for each in row["row"]])


__all__ = ["EXAMPLES", "Edge", "decidable", "edges", "figures", "reasons", "text_of", "with_figure", "written"]
