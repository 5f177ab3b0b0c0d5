"""Results as Markdown: a summary for a pull request, what is open first."""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from circuit.report.words import CAUTION, count

MOST = 100
"""Findings that are listed; of more there is a count, for a comment has an end."""


def document(results: Iterable[Mapping[str, Any]], line: str) -> str:
    """line: the summary in one line."""
    found = list(results)
    rows = [(result, row) for result in found for row in result["rows"] if not row["waived"]]
    accepted = [(result, row) for result in found for row in result["rows"] if row["waived"] and not row["is_outside"]]
    parts = [f"## Airwright: {line}", ""]
    if rows:
        parts += table(("", "where", "what is wrong", "to do"), [
            (row["severity"], f"{code(row['file'])}:{row['line']}", f"{code(row['rule'])}: {plain(row['says'])}",
             plain(row["remedy"])) for _, row in rows[:MOST]])
        parts += ["", f"and {count(len(rows) - MOST, 'more finding')}"] if len(rows) > MOST else []
        parts.append("")
    if accepted:
        parts += [f"<details><summary>{count(len(accepted), 'finding')} accepted by waivers</summary>", "", *table(
            ("where", "what is accepted", "because"),
            [(f"{code(row['file'])}:{row['line']}", f"{code(row['rule'])}: {plain(row['says'])}", plain(row["waived"]))
             for _, row in accepted[:MOST]]), "", "</details>", ""]
    return "\n".join([*parts, f"_{CAUTION}_"]) + "\n"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """A table of cells that are Markdown already."""
    return [f"| {' | '.join(head)} |", f"|{'---|' * len(head)}", *(f"| {' | '.join(row)} |" for row in rows)]


def plain(text: str) -> str:
    """A text of a design that means nothing in Markdown and names nobody."""
    text = re.sub(r"([\\`*_\[\]<>|#~&])", r"\\\1", " ".join(text.split()))
    return text.replace("@", "@\u200b").replace("://", ":\u200b//")


def code(text: str) -> str:
    """A name as code, whatever letters it has."""
    text = " ".join(text.split()).replace("|", "\\|")
    fence = "`" * (max((len(run) for run in re.findall(r"`+", text)), default=0) + 1)
    return f"{fence} {text} {fence}" if "`" in text else f"`{text}`"
