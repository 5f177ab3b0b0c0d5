"""Statements of parts and lines to devices, each joined to what it hangs on or leads to."""

from typing import Any

from circuit import kinds
from circuit.declaring.following import OutOfOrder, following
from circuit.declaring.kind import Kind
from circuit.declaring.traits import Trait
from circuit.model.devices import Device, Given
from circuit.model.forms import FORMS
from circuit.model.joints import Joints
from circuit.model.names import Names
from circuit.model.settings import read
from circuit.near import did_you_mean
from circuit.syntax.statements import And, Name, Statement


def unknown_kind(names: Names, statement: Statement) -> None:
    """Says that a statement begins with a word that is no kind, and which was meant."""
    word = statement.kind.text
    known = word in names.broken  # an assembly whose own row cannot be read
    names.broken.update(name.text for name in statement.names)
    lower = word.lower()
    if known:
        return
    if lower != word and (lower in FORMS or kinds.find(lower)):
        names.wrong(statement.kind.span, f"no kind is called `{word}`", f"kinds are written small: {lower}")
        return
    offer = did_you_mean(word, (*kinds.names(), *FORMS))
    if offer:
        names.wrong_once(("kind", word), statement.kind.span, f"no kind is called `{word}`", offer)
    elif statement.names and not statement.settings:
        names.wrong_once(("kind", word), statement.kind.span, f"no kind is called `{word}`",
                         "if this is a remark, begin it with #")
    else:
        names.wrong_once(("kind", word), statement.kind.span, f"no kind is called `{word}`",
                         "see the list: airwright explain kinds")


def things(names: Names, joints: Joints, statement: Statement, kind: Kind) -> None:
    """The devices of a statement `KIND NAME, NAME: ...`."""
    if statement.ends is not None or not statement.names:
        names.unknown.lost += 1
    if statement.ends is not None:
        names.wrong(statement.span, f"`{kind.name}` is a thing, not a line", f"write {kind.name} NAME: ...")
        return
    if not statement.names:
        names.wrong(statement.span, f"`{kind.name}` needs a name",
                    f"write {kind.name} NAME: ..., the name without quotes")
        return
    values, given, is_known = _read(names, statement, kind)
    if not is_known and _is_torn(statement, kind):
        names.unknown.torn.update(name.text for name in statement.names)
    for name in statement.names:
        if not names.claim(name.text, name.span):
            names.unknown.torn.add(name.text)
        else:
            if not is_known:
                names.unknown.things.add(name.text)
            names.devices[name.text] = Device(name.text, kind, values, given, name.span, changed=statement.changed)
            for port in kind.ports:
                joints.add((name.text, port.number))


def line(names: Names, joints: Joints, statement: Statement, kind: Kind) -> None:
    """The device of a statement `KIND FROM -> TO: ...`."""
    if statement.ends is None:
        names.unknown.lost += 1
        names.wrong(statement.span, f"`{kind.name}` is a line: it joins two ports",
                    f"write {kind.name} FROM -> TO: ...")
        return
    values, given, is_known = _read(names, statement, kind)
    one, other = (names.port(end) for end in statement.ends)
    if one is None or other is None or one == other:
        names.unknown.ports.update(end for end in (one, other) if end)
        names.unknown.lost += 1
    if one is None or other is None:
        return
    if one == other:
        names.wrong(statement.span, "this line joins a port to itself", "write two different ends")
        return
    base = name = f"{statement.ends[0].text} -> {statement.ends[1].text}"
    number = 2
    while name in names.devices:
        name, number = f"{base} ({number})", number + 1
    if values.get("name"):
        names.claim(values["name"], statement.span)
    names.devices[name] = Device(name, kind, values, given, statement.span, (one, other), changed=statement.changed)
    if not is_known:
        names.unknown.things.add(name)
    for own, end in (((name, "1"), one), ((name, "2"), other)):
        joints.add(own)
        joints.join(own, end)
        joints.use_hole(end, statement.span)
    if Trait.DIRECT in kind.traits:
        joints.join((name, "1"), (name, "2"))


def _read(names: Names, statement: Statement, kind: Kind) -> tuple[dict[str, Any], dict[str, Given], bool]:
    """Values, how each came about, and whether all of them are understood."""
    before = len(names.mistakes)
    values, given = read(statement, kind.settings, kind.name, names.mistakes)
    for setting, words in statement.confirmed:
        if setting in given:
            given[setting] = given[setting]._replace(source=words)
    if len(names.mistakes) == before:
        try:
            values.update(following(kind, values))
        except OutOfOrder as crossed:
            _crossed(names, statement, given, crossed)
        except ValueError as contradiction:
            names.wrong(statement.span, str(contradiction))
    names.unknown.lost += len(names.mistakes) > before and _is_torn(statement, kind)
    return values, given, len(names.mistakes) == before


def _is_torn(statement: Statement, kind: Kind) -> bool:
    """Whether a row that is not understood has words that do not belong to it: another row may have gone into it."""
    written = [setting.name.text for setting in statement.settings]
    alone = (setting for setting in statement.settings if setting.values and not any(isinstance(v, And) for v in setting.values))
    return (len(set(written)) < len(written) or any(kind.setting(name) is None for name in written)
            or any(len(setting.values) > 1 for setting in alone))


def _crossed(names: Names, statement: Statement, given: dict[str, Given], crossed: OutOfOrder) -> None:
    """Says that two settings stand the wrong way round: at the first that is written, the other beside it."""
    (low, shown), (high, bound) = [_as_given(name, given, crossed) for name in crossed.order[:2]]
    spans = [found.span for name in (low, high) if (found := given.get(name)) and found.span]
    less, more = ("at most", "at least") if crossed.order.equal else ("below", "above")
    taken = [f"`{name}` was taken as it is not written" for name in (low, high) if name in given and given[name].assumed]
    says = f"`{low}` {shown} {crossed.fault} `{high}` {bound}" + "".join(f"; {text}" for text in taken)
    names.wrong(spans[0] if spans else statement.span, says, f"write `{low}` {less} {bound}, or `{high}` {more} {shown}",
                (spans[1], "the other one") if len(spans) > 1 else None)


def _as_given(name: str, given: dict[str, Given], crossed: OutOfOrder) -> tuple[str, str]:
    """A value's setting and text as the design has them: that of one outlet may be written once for all."""
    word = name if name in given else name.rpartition("-")[0]
    return (word, given[word].text) if word in given else (name, crossed.texts[name])


def hosts(names: Names, joints: Joints) -> None:
    """Joins what is screwed into something, and walls between rooms, to their hosts."""
    for name, device in list(names.devices.items()):
        if device.has(Trait.PARTS_ROOMS):
            _partition(names, joints, device)
        reference = device.settings.get("on")
        if not isinstance(reference, Name):
            names.unknown.lost += name in names.unknown.things and device.kind.setting("on") is not None
            continue
        host = names.port(reference)
        if host is None:
            names.unknown.torn.add(name)
            names.unknown.lost += 1
        else:
            own = (name, device.kind.ports[0].number)
            joints.join(own, host)
            if not device.has(Trait.CAPS):  # a cap sits on the head's face, beside its line
                joints.use_hole(host, device.span)
            joints.use_hole(own, device.span)
            names.devices[name] = device._replace(host=host)


def _partition(names: Names, joints: Joints, device: Device) -> None:
    """Puts a wall between two reservoirs: it takes no hole of either."""
    between = device.settings["between"]
    if between is None:
        return
    rooms = [key for name in between if (key := names.port(name)) is not None]
    if len(rooms) < len(between):
        return
    if len(set(rooms)) != 2 or not all(names.devices[room].has(Trait.STORES_AIR) for room, _ in rooms):
        names.wrong(device.given["between"].span or device.span, "a partition stands between two reservoirs",
                    f"write {device.kind.name} {device.name}: between FIRST and SECOND, the names of two reservoirs")
        return
    for port, room in zip(device.kind.ports, rooms):
        joints.join((device.name, port.number), room)
    names.devices[device.name] = device._replace(host=rooms[0])
