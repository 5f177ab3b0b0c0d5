"""What rows that cannot be read are most likely to be, put into the circuit without a word: their mistakes are told already.

A part whose kind and name can be read stands where it stood, its values unknown; a line whose ends can be read joins them.
Whatever else such a row names may have something joined to it that nobody knows.
"""

from collections.abc import Iterable

from circuit import kinds
from circuit.declaring.kind import Kind
from circuit.declaring.traits import Trait
from circuit.model import placed
from circuit.model.circuit import CLASSES
from circuit.model.devices import Axle, Given, Intent, Vehicle
from circuit.model.forms import ACTIONS, DECLARED, FORMS
from circuit.model.joints import Joints
from circuit.model.names import Names
from circuit.model.unknown import stand_in
from circuit.near import near
from circuit.source import Source, Span
from circuit.syntax.statements import Statement


def things(names: Names, joints: Joints, statements: Iterable[Statement]) -> list[tuple[Statement, Kind | None]]:
    """The parts of rows that cannot be read, or whose kind is not known; returns those that are lines, or still less known."""
    left: list[tuple[Statement, Kind | None]] = []
    for statement in statements:
        known = statement.read_as or statement
        if statement.broken and (known.kind.text in FORMS or known.kind.text in ACTIONS):
            _form(names, statement)
            continue
        kind = _kind(known.kind.text)
        if kind is None or known.ends is not None or Trait.LINE in kind.traits or not known.names:
            left.append((statement, kind))
            continue
        if kind.setting("on") is not None and known.setting("on") is None:
            left.append((statement, kind))  # it hangs on something that it may yet name
        mistakes, names.mistakes = names.mistakes, []
        try:
            for name in known.names:
                names.unsure.add(name.text)
            placed.things(names, joints, known, kind)
            names.unknown.lost += 1
            names.unknown.things.update(name.text for name in known.names)
            names.unknown.torn.update(name.text for name in known.names)
        finally:
            names.mistakes = mistakes
    return left


def lines(names: Names, joints: Joints, statements: Iterable[tuple[Statement, Kind | None]]) -> None:
    """The lines of such rows, and what else they touch."""
    mistakes, names.mistakes = names.mistakes, []
    try:
        for statement, kind in statements:
            known = statement.read_as or statement
            before = len(names.devices)
            if known.ends is not None and kind is not None and Trait.LINE in kind.traits:
                placed.line(names, joints, known, kind)
            names.unknown.lost += 1
            if len(names.devices) > before:
                names.unknown.things.add(next(reversed(names.devices)))
                names.unknown.torn.add(next(reversed(names.devices)))
            else:
                _touched(names, statement)
    finally:
        names.mistakes = mistakes


def _touched(names: Names, statement: Statement) -> None:
    """Ports and things that a row names of which nothing else is known."""
    for word in (*statement.words, *(statement.ends or ())):
        port = names.quietly(word)
        if port is not None:
            names.unknown.ports.add(port)
        elif word.text in names.devices:
            names.unknown.ports.update((word.text, each.number) for each in names.devices[word.text].kind.ports)


def _form(names: Names, statement: Statement) -> None:
    """What a row that is no part takes with it when it cannot be read."""
    match statement.kind.text:
        case "axle" | "circuit":
            names.unknown.torn.update(name.text for name in statement.names)
        case "plug":
            _touched(names, statement)
        case "vehicle" | "combination":
            names.unknown.is_class_lost = True
        case "rules" | "waive" | "trial":
            pass
        case word if word in FORMS:
            names.unknown.lost += 1


def _kind(word: str) -> Kind | None:
    """The kind of a word, or of the nearest that there is."""
    found = kinds.find(word)
    if found is None and word:
        likely = near(word, kinds.names(), 1)
        found = kinds.find(likely[0]) if likely else None
    return found


def completed(names: Names, axles: dict[str, Axle]) -> bool:
    """Gives every part that is not understood values to stand in for its own; False where no values go together."""
    for name in sorted(names.unknown.things & names.devices.keys()):
        device = names.devices[name]
        found = stand_in(device.kind, dict(device.settings))
        if found is None:
            return False
        values, others, is_varied = found
        names.unknown.values[name] = others
        if not is_varied or any(device.settings.get(key) is None and key not in others for key in device.given):
            names.unknown.torn.add(name)
        values.update({key: value for key, value in device.settings.items() if key not in values})
        axle = device.kind.setting("axle")
        if axle is not None and axle.required and values["axle"] is None and axles:
            values["axle"] = next(iter(axles))
        given = {key: Given("not understood", device.span) for key, value in values.items()
                 if value is not None and key not in device.given and device.kind.setting(key)}
        names.devices[name] = device._replace(settings=values, given={**device.given, **given})
    return True


def axles(names: Names, known: dict[str, Axle]) -> tuple[Axle, ...]:
    """The axles, with one for each that a part names and nobody wrote down."""
    found = dict(known)
    for device in names.devices.values():
        axle = device.settings.get("axle")
        if isinstance(axle, str) and axle not in found:
            found[axle] = Axle(axle, 1 + max((each.position for each in found.values()), default=0), device.span)
            names.unknown.things.add(axle)
            names.unknown.torn.add(axle)
            names.unknown.lost += 1
    return tuple(found.values())


def vehicle(names: Names, source: Source, statements: list[Statement]) -> Vehicle:
    """What stands for a vehicle that is not understood: of the class that its row names, where that can be read."""
    unread = [s for s in names.flat.statements if s.broken and s.kind.text == "vehicle"]
    written = [word.text for s in (*unread, *statements) for word in (
        *s.words, *(value for each in s.settings if each.name.text == "class" for value in each.values))]
    found = next((word for word in written if word in CLASSES), "")
    names.unknown.is_class_lost = not found
    name = next((n.text for s in (*unread, *statements) for n in s.names), "vehicle")
    return Vehicle(name, found or CLASSES[0], name, False, Span(source, 1, 1), {each.name: None for each in DECLARED})


def intents(names: Names, found: Iterable[Intent | None], known: Iterable[Axle]) -> tuple[Intent, ...]:
    """The circuits meant whose reservoirs and axles are all there."""
    there = {axle.name for axle in known}
    kept = []
    for each in found:
        if each is not None and there.issuperset(each.axles) and all(name in names.devices for name in each.reservoirs):
            kept.append(each)
        elif each is not None:
            names.unknown.torn.add(each.name)
    return tuple(kept)

