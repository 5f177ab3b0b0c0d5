"""Findings as SARIF 2.1.0 (OASIS standard): for code hosts that show them in the rows of a change."""

import json
import os
from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import quote

from circuit import __version__
from circuit.report.words import CAUTION

_LEVELS = {"error": "error", "warning": "warning", "note": "note"}
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
PRINT = "airwright/v1"
"""What fingerprints are called: rule and place, which stay when rows move."""


def document(results: Iterable[Mapping[str, Any]]) -> str:
    """One run over all designs; what was accepted is in it as suppressed."""
    rules: dict[str, dict[str, Any]] = {}
    places: dict[str, int] = {}
    found: dict[tuple[str, str], dict[str, Any]] = {}
    is_whole = True
    for result in results:
        is_whole = is_whole and result["status"] < 2
        for row in result["rows"]:
            rules.setdefault(row["rule"], _rule(row))
            places.setdefault(row["rule"], len(places))
            found.setdefault((address(row["file"]), row["print"]), _result(row, places[row["rule"]]))
    driver = {"name": "Airwright", "version": __version__, "semanticVersion": _semantic(), "rules": list(rules.values()),
              "fullDescription": {"text": CAUTION}}
    run = {"tool": {"driver": driver}, "results": list(found.values()), "columnKind": "unicodeCodePoints",
           "invocations": [{"executionSuccessful": is_whole}]}
    return json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, indent=1, ensure_ascii=False) + "\n"


def _semantic() -> str:
    return ".".join((__version__.split("+")[0].split(".") + ["0", "0"])[:3])


def _rule(row: Mapping[str, Any]) -> dict[str, Any]:
    return {"id": row["rule"], "name": "".join(word.capitalize() for word in row["rule"].split("-")),
            "shortDescription": {"text": row["title"]}, "fullDescription": {"text": row["consequence"]},
            "help": {"text": f"airwright explain {row['rule']}"}}


def _result(row: Mapping[str, Any], index: int) -> dict[str, Any]:
    text = row["says"] + (f". To do: {row['remedy']}" if row["remedy"] else "") + (f" [{row['clause']}]" if row["clause"] else "")
    text += f". With it: {', '.join(row['follows'])}" if row["follows"] else ""
    region = {"startLine": row["line"], "startColumn": row["column"], "endColumn": row["column"] + row["length"]}
    place = {"physicalLocation": {"artifactLocation": {"uri": address(row["file"])}, "region": region}}
    if row["thing"]:
        place["logicalLocations"] = [{"name": row["thing"]}]  # type: ignore[assignment]
    result = {"ruleId": row["rule"], "ruleIndex": index, "level": _LEVELS[row["severity"]], "message": {"text": text},
              "locations": [place], "partialFingerprints": {PRINT: row["print"]}}
    if row["waived"]:
        kind = "external" if row["is_outside"] else "inSource"
        result["suppressions"] = [{"kind": kind, "justification": row["waived"]}]
    return result


def address(path: str) -> str:
    """A file as code hosts know it: from the working folder, with slashes."""
    if path.startswith("<"):
        return quote(path.strip("<>"))
    near = os.path.relpath(path)
    return quote((os.path.normpath(path) if near.startswith("..") else near).replace(os.sep, "/"))
