"""Findings as a JUnit test report: a suite for each design, a failed case for each open finding, one that passes for none."""

import re
from collections.abc import Iterable, Mapping
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from circuit.report.ci.sarif import address


def document(results: Iterable[Mapping[str, Any]]) -> str:
    """All designs; what cannot be read is an error, a note or what was accepted is skipped with its reason."""
    suites = [_suite(result) for result in results]
    totals = {word: sum(each[1][word] for each in suites) for word in ("tests", "failures", "errors", "skipped")}
    body = "".join(text for text, _ in suites)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="airwright"{_numbers(totals)}>\n{body}</testsuites>\n'


def _suite(result: Mapping[str, Any]) -> tuple[str, dict[str, int]]:
    name = clean(address(result["file"]))
    cases = [_case(name, row) for row in result["rows"]]
    if not any(kind != "skipped" for _, kind in cases) and result["status"] == 0:
        cases.insert(0, (f"  <testcase classname={quoteattr(name)} name=\"nothing found not met\" time=\"0\"/>\n", ""))
    numbers = {"tests": len(cases), "failures": sum(kind == "failure" for _, kind in cases),
               "errors": sum(kind == "error" for _, kind in cases), "skipped": sum(kind == "skipped" for _, kind in cases)}
    return f" <testsuite name={quoteattr(name)}{_numbers(numbers)}>\n{''.join(text for text, _ in cases)} </testsuite>\n", numbers


def _case(name: str, row: Mapping[str, Any]) -> tuple[str, str]:
    title = f"{row['rule']}{' at ' + row['thing'] if row['thing'] else ''}"
    place = f"{address(row['file'])}:{row['line']}:{row['column']}"
    kind = "error" if row["rule"] == "unreadable" else "skipped" if row["waived"] or row["severity"] == "note" else "failure"
    said = f"{row['says']}\n{place}\n" + (f"to do: {row['remedy']}\n" if row["remedy"] else "") + row["consequence"]
    message = row["waived"] and f"accepted: {row['waived']}" or row["says"]
    inner = f"<{kind} message={quoteattr(clean(message))}"
    inner += "/>" if kind == "skipped" else f" type={quoteattr(row['severity'])}>{escape(clean(said))}</{kind}>"
    head = f"classname={quoteattr(name)} name={quoteattr(clean(title))}"
    return f"  <testcase {head} time=\"0\">\n   {inner}\n  </testcase>\n", kind


def _numbers(numbers: Mapping[str, int]) -> str:
    return "".join(f' {word}="{number}"' for word, number in numbers.items())


def clean(text: str) -> str:
    """A text without the letters that XML 1.0 has no place for."""
    return re.sub(r"[^\t\n\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "\ufffd", text)
