"""Values of a design that somebody has confirmed: who, when, and what from."""

from datetime import date
from typing import NamedTuple

from circuit.mistake import Mistake
from circuit.model.devices import CONFIRMED
from circuit.model.forms import FORMS
from circuit.model.settings import read
from circuit.syntax.statements import Setting, Statement

_SAID = ("by", "when", "from")
"""What a row that confirms says of itself."""


class Confirmed(NamedTuple):
    """settings: the values. words: who, when and what from."""

    settings: tuple[Setting, ...]
    words: str


def confirmed(row: Statement, mistakes: list[Mistake]) -> Confirmed | None:
    """What a `confirm` row says, or None with a mistake."""
    said = tuple(s for s in row.settings if s.name.text in _SAID)
    values, given = read(row._replace(settings=said), FORMS["confirm"], "confirm", mistakes)
    settings = tuple(s for s in row.settings if s.name.text not in _SAID)
    if not settings or not (row.names or row.ends):
        mistakes.append(Mistake(row.span, "`confirm` needs a part and a value",
                                'write confirm front-left: working-stroke 1.4 in, by "who", when "2026-11-28", from "what"'))
        return None
    if any(values[word] is None for word in _SAID):
        return None
    try:
        day = date.fromisoformat(values["when"].strip()).isoformat()
    except ValueError:
        mistakes.append(Mistake(given["when"].span or row.span, f"`when {values['when']}` is no day of the calendar",
                                'write year, month and day, as in when "2026-11-28"'))
        return None
    return Confirmed(settings, f"{CONFIRMED}{values['by']}, {day}, from {values['from']}")


def other_value(old: Statement, new: Setting) -> Setting | None:
    """What a row writes for a setting that another one confirms with another value, or None."""
    was = old.setting(new.name.text)
    return was if was is not None and [v.text for v in was.values] != [v.text for v in new.values] else None
