"""What a design says of itself: vehicle or combination, sets of rules, axles, circuits meant."""

from circuit.declaring.traits import Trait
from circuit.model.circuit import COMBINATION, TOWED
from circuit.model.devices import Axle, Intent, Vehicle
from circuit.model.conditions import conditions
from circuit.model.forms import BODIES, DECLARED, FORMS
from circuit.model.names import Names
from circuit.model.settings import read
from circuit.near import did_you_mean
from circuit.source import Source, Span
from circuit.syntax.statements import Statement

OLDEST, LATEST = 1900, 2150
"""Years that can be a year of build."""


def vehicle(names: Names, source: Source, statements: list[Statement]) -> Vehicle | None:
    """The one vehicle that a design is for; None when it does not say."""
    if not statements:
        unread = any(s.broken and s.kind.text == "vehicle" for s in names.flat.statements)
        if "vehicle" not in names.broken and not unread:
            names.wrong(Span(source, 1, 1), "this design does not say what vehicle it is for",
                        "begin with vehicle NAME: class truck (or tractor, bus, semi-trailer, full-trailer, dolly)")
        return None
    if len(statements) > 1:
        names.wrong(statements[1].span, "a design is for one vehicle, and this is a second `vehicle`", "remove one",
                    (statements[0].span, "the first one"))
    statement = statements[0]
    if len(statement.names) != 1:
        names.wrong(statement.span, "`vehicle` needs one name", "write vehicle truck: class truck")
        return None
    before = len(names.mistakes)
    values, _ = read(statement, FORMS["vehicle"], "vehicle", names.mistakes)
    if len(names.mistakes) > before:
        return None
    name, body, built = statement.names[0].text, values["body"], values["built"]
    if body in BODIES[1:] and values["class"] not in TOWED:
        names.wrong(statement.span, f"`body {body}` is the body of a trailer, and {name} is a {values['class']}",
                    f"write it in the trailer's own file; a powered vehicle may write body {BODIES[0]}")
        return None
    if built is not None and not OLDEST <= built <= LATEST:
        names.wrong(statement.span, f"`built {built}` is no year of build", "write the year, such as built 1974")
        return None
    declared = {setting.name: values[setting.name] for setting in DECLARED}
    return Vehicle(name, values["class"], values["title"] or name, values["tows"] == "yes", statement.span, declared,
                   body, built, conditions(values))


def combination(names: Names, statements: list[Statement]) -> Vehicle | None:
    """Several vehicles as one."""
    statement = statements[0]
    if len(statements) > 1:
        names.wrong(statements[1].span, "this is a second `combination`", "remove one",
                    (statement.span, "the first one"))
    if len(statement.names) != 1:
        names.wrong(statement.span, "`combination` needs one name", "write combination rig: title \"...\"")
        return None
    if len(names.flat.vehicles) < 2:
        names.wrong(statement.span, "a combination has two vehicles or more",
                    'write vehicle tractor: file "tractor.air"')
        return None
    values, _ = read(statement, FORMS["combination"], "combination", names.mistakes)
    name = statement.names[0].text
    return Vehicle(name, COMBINATION, values["title"] or name, False, statement.span, conditions=conditions(values))


def rule_sets(names: Names, statements: list[Statement]) -> tuple[str, ...]:
    """The sets of rules that the design is to be held to."""
    from circuit.clauses import set_names

    found: list[str] = []
    for statement in statements:
        if not statement.names:
            names.wrong(statement.span, "`rules` needs the name of a set of rules",
                        f"write rules {set_names()[0]}")
        for name in statement.names:
            if name.text not in set_names():
                names.wrong(name.span, f"no set of rules is called `{name.text}`",
                            did_you_mean(name.text, set_names()) or "known sets: " + ", ".join(set_names()))
            else:
                found.append(name.text)
    return tuple(dict.fromkeys(found))


def axles(names: Names, statements: list[Statement]) -> dict[str, Axle]:
    """The axles by name."""
    found: dict[str, Axle] = {}
    for statement in statements:
        values, _ = read(statement, FORMS["axle"], "axle", names.mistakes)
        if not statement.names:
            names.wrong(statement.span, "`axle` needs a name", "write axle front: position 1")
        for name in statement.names:
            if name.text in found:
                names.wrong(name.span, f"there are two axles called `{name.text}`", "give one of them another name",
                            (found[name.text].span, "the first one"))
            elif values["position"] is not None:
                same = next((a for a in found.values() if a.position == values["position"]
                             and a.name.rpartition(".")[0] == name.text.rpartition(".")[0]), None)
                if same is not None:
                    names.wrong(name.span, f"two axles stand at position {same.position}", "count from the front",
                                (same.span, "the first one"))
                found[name.text] = Axle(name.text, values["position"], name.span, values["brakes"] == "hydraulic",
                                        values["parks"] == "cable")
            else:
                names.broken.add(name.text)
    return found


def check_axles(names: Names, known: dict[str, Axle]) -> None:
    """Whether every part stands at an axle that there is."""
    for device in names.devices.values():
        axle = device.settings.get("axle")
        if axle is not None and axle not in known and axle not in names.broken:
            span = device.given["axle"].span or device.span
            names.wrong_once(("axle", axle), span, f"no axle is called `{axle}`",
                             did_you_mean(axle, known) or f"write it down: axle {axle}: position {len(known) + 1}")


def intent(names: Names, statement: Statement, known: dict[str, Axle]) -> Intent | None:
    """A circuit that the designer means to be one."""
    before = len(names.mistakes)
    values, _ = read(statement, FORMS["circuit"], "circuit", names.mistakes)
    if len(statement.names) != 1:
        names.wrong(statement.span, "`circuit` needs one name", "write circuit primary: reservoirs pri, axles rear")
        return None
    for name in values["reservoirs"] or ():
        device = names.devices.get(name.text)
        if device is None:
            if names.exists(name):
                names.wrong(name.span, f"`{name.text}` is no reservoir", "name a reservoir")
        elif not device.has(Trait.STORES_AIR):
            names.wrong(name.span, f"`{name.text}` is a {device.kind.name}, not a reservoir", "name a reservoir")
    for name in values["axles"] or ():
        if name.text not in known and name.text not in names.broken:
            names.wrong(name.span, f"no axle is called `{name.text}`",
                        did_you_mean(name.text, known) or "the axles are " + (", ".join(known) or "not written yet"))
    if len(names.mistakes) > before:
        return None
    return Intent(statement.names[0].text, values["role"], tuple(n.text for n in values["reservoirs"] or ()),
                  tuple(n.text for n in values["axles"] or ()), statement.span)
