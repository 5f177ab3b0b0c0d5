"""Findings that a design accepts: each waiver names one rule and one place, and says why, by whom and until when."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from circuit.model.devices import Device, Waiver
from circuit.model.forms import FORMS
from circuit.model.names import Names
from circuit.model.settings import read
from circuit.source import Span
from circuit.syntax.statements import Name, Statement, Text

THE_VEHICLE = "the vehicle"
"""What rules call the vehicle as a whole; a waiver may say it so, or by its name."""


def waivers(names: Names, statements: list[Statement], vehicle: str) -> tuple[Waiver, ...]:
    """What is accepted; a second one for the same finding is a mistake. vehicle: its name."""
    found: dict[tuple[str, str], Waiver] = {}
    for statement in statements:
        one = _waiver(names, statement, vehicle)
        if one is None:
            continue
        first = found.setdefault((one.rule, one.at), one)
        if first is not one:
            names.wrong(one.span, f"this is a second waiver of {one.rule} at {one.at}", "keep one of them",
                        (first.span, "the first one"))
    return tuple(found.values())


def place(text: str, devices: Mapping[str, Device], vehicle: str) -> str:
    """A place of a finding by the one name that it is compared by: a line by its ends as the design writes them, whichever
    end or name of its own it is called by; the vehicle by its name."""
    text = " ".join(text.split())
    if text == THE_VEHICLE:
        return vehicle
    if text in devices:
        return text
    ends = [each.strip() for each in text.partition(" ")[2].split("->")] if text.count("->") == 1 else []
    turned = " -> ".join(reversed([each.strip() for each in text.split("->")]))
    bare = " -> ".join(ends) if ends else ""
    for other in (turned, bare, " -> ".join(reversed(ends))):
        if other in devices:
            return other
    return next((each.name for each in devices.values() if each.is_line and each.settings.get("name") == text), text)


def _waiver(names: Names, statement: Statement, vehicle: str) -> Waiver | None:
    before = len(names.mistakes)
    values, given = read(statement, FORMS["waive"], "waive", names.mistakes)
    if len(statement.names) != 1:
        names.wrong(statement.span, "`waive` needs the name of one rule", 'write waive RULE: at THING, because "the reason"')
        return None
    for word, asked in (("because", "write the reason, for every reader of the report"), ("by", "write who accepts it")):
        if values[word] is not None and not any(letter.isalpha() for letter in values[word]):
            names.wrong(given[word].span or statement.span, f"`{word}` says nothing", asked)
    if len(names.mistakes) > before:
        return None
    at: Name | Text = values["at"]
    text = names.unalias(at.text)
    if isinstance(at, Name) and text not in _further(names) and not names.exists(at):
        return None
    return Waiver(statement.names[0].text, place(text, names.devices, vehicle), values["because"], values["by"] or "",
                  statement.span, _last_day(values["until"], given, names))


def _further(names: Names) -> set[str]:
    """What is no part, port or place, and yet can have a finding."""
    return {s.names[0].text for s in names.flat.statements
            if s.kind.text in ("circuit", "axle", "vehicle", "combination", "trial") and s.names} | set(names.flat.vehicles)


def _last_day(text: str | None, given: dict[str, Any], names: Names) -> str:
    """The last day of a waiver as YYYY-MM-DD, "" for one without end."""
    if text is None:
        return ""
    try:
        return date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        span: Span = given["until"].span
        names.wrong(span, f"`until {text}` is no day of the calendar", 'write year, month and day, as in until "2027-03-31"')
        return ""
