"""Settings as written to values: each dimension has one reader, and each slip its sentence."""

import re
from collections.abc import Callable, Iterable
from functools import cache
from typing import Any

from circuit.declaring.kind import Setting
from circuit.mistake import Mistake
from circuit.model.devices import Given
from circuit.near import did_you_mean, near
from circuit.source import Span
from circuit.syntax.statements import And, Measure, Name, Statement, Text, Value
from circuit.tables import tubes
from circuit.units import ATMOSPHERE, DIMENSIONS, UnitMistake, split, to_si


class Refused(Exception):
    """A value that a setting cannot take: what is wrong and what to write."""

    def __init__(self, says: str, expected: str = "", at: Span | None = None):
        super().__init__(says)
        self.says, self.expected, self.at = says, expected, at


def read(
    statement: Statement, table: Iterable[Setting], owner: str, mistakes: list[Mistake]
) -> tuple[dict[str, Any], dict[str, Given]]:
    """The values of a statement's settings by name, with how each came about; what is wrong goes to `mistakes`.

    owner: the word for the statement in messages, such as `reservoir`.
    """
    known = {setting.name: setting for setting in table}
    values: dict[str, Any] = dict.fromkeys(known)
    given: dict[str, Given] = {}
    meant: set[str] = set()
    for written in statement.settings:
        name = written.name.text
        setting = known.get(name)
        if setting is None:
            meant.update(near(name, known))
            offer = did_you_mean(name, known)
            listing = "its settings are " + ", ".join(known) if known else "it takes no settings"
            mistakes.append(Mistake(written.name.span, f"{owner} has no setting `{name}`", offer or listing))
            continue
        if name in given:
            first = next(s for s in statement.settings if s.name.text == name)
            mistakes.append(Mistake(written.name.span, f"`{name}` is written twice", "remove one of them",
                                    (first.name.span, "the first one")))
            continue
        text = " ".join(f'"{v.text}"' if isinstance(v, Text) else v.text for v in written.values)
        given[name] = Given(text, written.span)
        try:
            if not written.values:
                raise Refused(f"`{name}` has no value", f"write {_due(setting)} after it")
            value = READERS.get(setting.dimension, _quantity)(setting, written.values)
            _store(values, setting, value)
        except Refused as refused:
            mistakes.append(Mistake(refused.at or written.span, refused.says, refused.expected))
    for name, setting in known.items():
        if name in given:
            continue
        if setting.required and name not in meant:
            mistakes.append(Mistake(statement.span, f"{owner} needs `{name}`: {setting.says}",
                                    f"add `{name}` and {_due(setting)}"))
        elif setting.typical is not None:
            given[name] = Given(setting.typical.text, None, setting.typical.source)
            _store(values, setting, typical_value(setting))
    return values, given


def typical_value(setting: Setting) -> Any:
    """The value of a setting's typical text."""
    assert setting.typical is not None
    text = setting.typical.text
    if setting.dimension in ("word", "text", "name"):
        return text
    value = to_si(text, "length" if setting.dimension == "bore" else setting.dimension)
    return int(value) if setting.dimension == "count" else value


def _store(values: dict[str, Any], setting: Setting, value: Any) -> None:
    if setting.dimension == "size":
        values[setting.name], values["bore"] = value
    else:
        values[setting.name] = value


_EXAMPLES = {
    "size": "a tube size, as in 3/8 in or 12x1.5", "bore": "an inside diameter, as in 3/8 in or 13 mm",
    "chamber": "a chamber type, as in 20 or 30/30", "text": 'a text between quotes, as in "left of the frame"',
    "name": "a name", "names": "one or several names joined with `and`", "reference": "a name or a port",
    "place": 'a name, or between quotes what the finding names, as in "foot.21 -> relay.4"',
    "bound": "`at least` or `at most` and a pressure, as in at least 60 psi", "any": "a value", "count": "a whole number",
    "ratio": "a bare number", "pressure": "a pressure, as in 8.5 bar or 125 psi",
}


def _due(setting: Setting) -> str:
    if setting.dimension == "word":
        return "one of " + ", ".join(setting.choices)
    if setting.dimension in _EXAMPLES:
        return _EXAMPLES[setting.dimension]
    try:
        to_si("1", setting.dimension)
    except UnitMistake as mistake:
        return mistake.expected.removeprefix("write ")
    return "a value"


def _one(setting: Setting, values: tuple[Value, ...]) -> Value:
    if len(values) > 1:
        second = values[1]
        if isinstance(values[0], Measure) and isinstance(second, Name):
            raise Refused(f"a comma is missing before `{second.text}`", f"write {values[0].text}, {second.text}",
                          second.span)
        raise Refused(f"`{setting.name}` takes one value, and `{second.text}` is a second one",
                      f"write {_due(setting)}, and a comma before the next setting", second.span)
    return values[0]


@cache
def _bounds(setting: Setting) -> tuple[float, float]:
    """The least and the most of a setting that has them, SI, with room for a rounding."""
    assert setting.within is not None
    least, most = (to_si(text, setting.dimension) for text in setting.within)
    return least * (1 - 1e-9), most * (1 + 1e-9)


def _quantity(setting: Setting, values: tuple[Value, ...]) -> Any:
    value = _one(setting, values)
    if not isinstance(value, Measure):
        raise Refused(f"`{value.text}` is not a number", f"write {_due(setting)}", value.span)
    if between(value.text):
        return _middle(setting, value)
    return _number(setting, value)


def between(text: str) -> tuple[str, str] | None:
    """The two ends of a written range, each with its unit, or None.

    >>> between("12 to 16 L/(s.bar)"), between("16 L/(s.bar)")
    (('12 L/(s.bar)', '16 L/(s.bar)'), None)
    """
    low, to, high = re.sub(r"\s+", " ", text).partition(" to ")
    if not to:
        return None
    try:
        unit = "" if split(low).unit else split(high).unit
    except UnitMistake:
        unit = ""
    return f"{low} {unit}".strip(), high


def _middle(setting: Setting, value: Measure) -> Any:
    """The middle of a range that narrows what would be assumed."""
    ends = between(value.text)
    assert ends is not None
    if (setting.typical or setting.usual) is None or setting.dimension in ("count", "temperature"):
        raise Refused("a setting takes one figure", f"write one; a range stands only where a value would be assumed, and "
                      f"`{setting.name}` is no such value", value.span)
    low, high = (_number(setting, Measure(text, value.span)) for text in ends)
    if not low < high:
        raise Refused(f"{value.text} is no range: its first end is not below its second", "write the lower end first", value.span)
    return (low + high) / 2


def _number(setting: Setting, value: Measure) -> Any:
    try:
        number = to_si(value.text, setting.dimension)
        if number < 0 and setting.dimension not in ("temperature",):
            raise Refused(f"{value.text} is below nothing", f"write {_due(setting)}", value.span)
        if setting.dimension == "pressure" and setting.name not in _STRONG:
            _in_its_trade(setting, value, number)
        if number == 0 and setting.dimension in ("volume", "length", "flow", "conductance", "speed"):
            raise Refused(f"`{setting.name}` cannot be nothing", f"write {_due(setting)}", value.span)
        if setting.within and not _bounds(setting)[0] <= number <= _bounds(setting)[1]:
            raise Refused(f"`{setting.name}` {value.text} is out of all proportion",
                          f"write from {setting.within[0]} to {setting.within[1]}, and look at the unit", value.span)
        return int(number) if setting.dimension == "count" else number
    except UnitMistake as mistake:
        if setting.dimension == "pressure" and setting.name not in _STRONG and split(value.text).unit == "bar":
            _in_its_trade(setting, value, ATMOSPHERE + 1e5 * split(value.text).value)
        raise Refused(f"{setting.name} {mistake.says}", mistake.expected, value.span) from None


_STRONG = ("rated", "rated-to", "tested-to", "burst", "reads-to", "on-above")
"""Pressures that a part stands or shows, which may be far above what it works at; and that of a stop lamp, which is far below."""
WORKS_AT, TENFOLD, LEAST_USUAL = 8.5e5, 8.0, 3e5
"""Pa above the air at which air brakes work, where a setting has no typical value; and how many times that, or how small a part
of it, is taken for a slip of the unit; of what works at less than the last, a tenth of a bar may be meant. Our choice."""


def _in_its_trade(setting: Setting, value: Measure, number: float) -> None:
    """Refuses a pressure that is about ten times what is usual, or a tenth, where the other unit makes it usual."""
    usual = WORKS_AT
    if setting.typical is not None:
        usual = abs(to_si(setting.typical.text.partition(" to ")[0], "pressure") - ATMOSPHERE) or WORKS_AT
    written, found = split(value.text), number - ATMOSPHERE
    other = {"bar": "psi", "psi": "bar"}.get(written.unit)
    if other is None or usual < LEAST_USUAL or usual / TENFOLD <= found <= usual * TENFOLD:
        return
    meant = written.value * (to_si(f"1 {other}", "pressure") - ATMOSPHERE)
    if usual / 3 <= meant <= usual * 3:
        times = "ten times" if found > usual else "a tenth of"
        raise Refused(f"{setting.name} {value.text} is about {times} what is usual: {other} meant?",
                      f"write {written.value:g} {other} if so", value.span)


def _word(setting: Setting, values: tuple[Value, ...]) -> str:
    value = _one(setting, values)
    text = value.text.lower()
    if text not in setting.choices:
        raise Refused(f"`{setting.name}` cannot be `{value.text}`",
                      did_you_mean(text, setting.choices) or f"write {_due(setting)}", value.span)
    return text


def _text(setting: Setting, values: tuple[Value, ...]) -> str:
    return " ".join(value.text for value in values)


def _name(setting: Setting, values: tuple[Value, ...]) -> str:
    value = _one(setting, values)
    if not isinstance(value, Name):
        raise Refused(f"`{setting.name}` takes a name, not `{value.text}`", f"write {_due(setting)}", value.span)
    return value.reference


def _names(setting: Setting, values: tuple[Value, ...]) -> tuple[Name, ...]:
    found: list[Name] = []
    for place, value in enumerate(values):
        if place % 2 == 0 and isinstance(value, Name):
            found.append(_meant(value))
        elif not (place % 2 == 1 and isinstance(value, And)):
            raise Refused(f"`{value.text}` does not belong in this list", "join names with `and`: front and rear",
                          value.span)
    if len(values) % 2 == 0:
        raise Refused("a name is missing after `and`", "write the last name, or remove the `and`", values[-1].span)
    return tuple(found)


def _reference(setting: Setting, values: tuple[Value, ...]) -> Name:
    value = _one(setting, values)
    if not isinstance(value, Name):
        raise Refused(f"`{setting.name}` takes a name, not `{value.text}`", f"write {_due(setting)}", value.span)
    return _meant(value)


def _place(setting: Setting, values: tuple[Value, ...]) -> Name | Text:
    """A name, or a text for what has none: a line by its ends, `the vehicle`, two reservoirs."""
    if values[0].text == "the" and len(values) == 2:
        raise Refused("a place of two words stands between quotes", f'write at "the {values[1].text}"', values[0].span)
    value = _one(setting, values)
    return value if isinstance(value, Text) else _reference(setting, values)


def _meant(name: Name) -> Name:
    return Name(name.reference, name.span)


def _size(setting: Setting, values: tuple[Value, ...]) -> tuple[float, float]:
    value = _one(setting, values)
    text = re.sub(r"\s*(in|inch|mm)$", "", value.text.strip())
    inches = value.text.rstrip().endswith(("in", "inch"))
    known = tubes()
    if isinstance(value, Measure) and text in known and ("x" in text) != inches:
        return known[text]
    if isinstance(value, Measure) and "x" not in value.text and text in known:
        raise Refused(f"tube size {value.text} needs its unit", f"write {text} in", value.span)
    metric = re.fullmatch(r"(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)", text)
    if isinstance(value, Measure) and metric and not inches:
        outside, wall = map(float, metric.groups())
        if 0 < 2 * wall < outside < 40:
            return outside * 1e-3, (outside - 2 * wall) * 1e-3
    raise Refused(f"{value.text} is no trade size of tube",
                  "write an outside diameter (" + ", ".join(s for s in known if "x" not in s) + " in) or outside "
                  "diameter x wall in mm, as in 12x1.5", value.span)


def _bore(setting: Setting, values: tuple[Value, ...]) -> float:
    value = _one(setting, values)
    if not isinstance(value, Measure):
        raise Refused(f"`{value.text}` is not a bore", f"write {_due(setting)}", value.span)
    try:
        bore = to_si(value.text, "length")
    except UnitMistake as mistake:
        raise Refused(f"bore {mistake.says}", mistake.expected, value.span) from None
    if not 0.0002 < bore < 0.1:
        raise Refused(f"a bore of {value.text} is no air line", f"write {_due(setting)}", value.span)
    return bore


def _chamber(setting: Setting, values: tuple[Value, ...]) -> str:
    value = _one(setting, values)
    found = re.fullmatch(r"(\d+)(?:/(\d+))?", value.text.strip())
    if not isinstance(value, Measure) or not found:
        unit = ""
        if isinstance(value, Measure):
            try:
                unit = split(value.text).unit
            except UnitMistake:
                pass
        says = (f"a chamber type is a trade number without a unit, and {value.text} has one" if unit
                else f"{value.text} is no chamber type")
        raise Refused(says, "write the number alone, as in type 20, or 30/30 for a double chamber", value.span)
    return value.text.strip()


def _bound(setting: Setting, values: tuple[Value, ...]) -> tuple[str, float]:
    words = [v.text for v in values[:2]]
    if len(values) != 3 or words not in (["at", "least"], ["at", "most"]) or not isinstance(values[2], Measure):
        raise Refused(f"`{setting.name}` takes a bound here", "write at least 60 psi, or at most 5 psi", values[0].span)
    try:
        return words[1], to_si(values[2].text, setting.name if setting.name in DIMENSIONS else "pressure")
    except UnitMistake as mistake:
        raise Refused(f"{setting.name} {mistake.says}", mistake.expected, values[2].span) from None


def _any(setting: Setting, values: tuple[Value, ...]) -> tuple[str, float]:
    value = _one(setting, values)
    for dimension in ("fraction", "pressure"):
        try:
            return dimension, to_si(value.text, dimension)
        except UnitMistake:
            continue
    raise Refused(f"{value.text} is neither a share nor a pressure", "write 100 % or 60 psi", value.span)


READERS: dict[str, Callable[[Setting, tuple[Value, ...]], Any]] = {
    "word": _word, "text": _text, "name": _name, "names": _names, "reference": _reference, "place": _place,
    "size": _size, "bore": _bore, "chamber": _chamber, "bound": _bound, "any": _any,
}
