"""Findings as the commands that a code host reads from a log: `::error file=...,line=...::message`, one row each."""

from collections.abc import Iterable, Mapping
from typing import Any

from circuit.report.ci.sarif import address

_WORDS = {"error": "error", "warning": "warning", "note": "notice"}


def document(results: Iterable[Mapping[str, Any]]) -> str:
    """Every open finding; the letters that would end a command are written as its readers undo them."""
    rows = {(address(row["file"]), row["print"]): _command(row)
            for result in results for row in result["rows"] if not row["waived"]}
    return "".join(rows.values())


def _command(row: Mapping[str, Any]) -> str:
    place = {"file": address(row["file"]), "line": row["line"], "col": row["column"],
             "endColumn": row["column"] + row["length"], "title": row["rule"]}
    told = row["says"] + (f"; to do: {row['remedy']}" if row["remedy"] else "")
    options = ",".join(f"{key}={_value(str(value))}" for key, value in place.items())
    return f"::{_WORDS[row['severity']]} {options}::{_text(told)}\n"


def _text(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _value(text: str) -> str:
    return _text(text).replace(":", "%3A").replace(",", "%2C")
