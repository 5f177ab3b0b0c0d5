"""What can stand where the cursor is: kinds, settings, words, units that fit, names, ports that are free."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from circuit import kinds
from circuit.declaring.kind import Setting
from circuit.declaring.traits import Role, Trait
from circuit.editor.desk import Desk
from circuit.editor.spots import Typed, every, typed
from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.model.forms import ACTIONS, FORMS, MEANT, TRIAL_WORDS
from circuit.tables import tubes
from circuit.units import DIMENSIONS, units_of

PRELUDE = ("vehicle", "combination", "rules", "use", "axle")
"""What a design begins with, in its order."""


class Offer(NamedTuple):
    """A word that can stand there. sort: kind, setting, word, unit, name, port or statement. says: what it is."""

    text: str
    sort: str
    says: str = ""


def offers(desk: Desk, path: str, line: int, column: int) -> list[Offer]:
    """What can stand at a place, from 1, the likeliest first; only what begins as the word that is being typed."""
    here = typed(desk.source(path), line, column)
    if here is None:
        return []
    return list(dict.fromkeys(each for each in _all(_Place(desk, path, here, line)) if each.text.startswith(here.word)))


class _Place:
    """A place in a design: what is typed there and what the design knows."""

    def __init__(self, desk: Desk, path: str, here: Typed, line: int) -> None:
        self.desk, self.path, self.here, self.line = desk, path, here, line
        try:
            self.circuit: Circuit | None = desk.known(path).circuit
        except Unreadable:
            self.circuit = None
        self.statements = tuple(each for each, _ in every(desk.read(path).statements))
        self.head = here.before[:len(here.before) - len(here.word)] if here.word else here.before

    @property
    def kind_word(self) -> str:
        found = re.match(r"\s*([^\W\d_][\w-]*)\s", self.here.before + " ")
        return found.group(1) if found else ""

    @property
    def is_step(self) -> bool:
        return self.here.inside[-1:] == ("trial",)

    def settings(self) -> tuple[Setting, ...]:
        """The settings of the statement's word; of an assembly its blanks, as names."""
        word = self.kind_word
        if self.is_step:
            return ACTIONS.get(word, ())
        if word == "set" and self.circuit:
            names = re.split(r"\s+and\s+", self.here.before.partition(":")[0].strip().removeprefix("set").strip())
            device = self.circuit.by_name.get(names[0])
            return device.kind.settings if device else ()
        if word in FORMS:
            return FORMS[word]
        kind = kinds.find(word)
        if kind is not None:
            return kind.settings
        return tuple(Setting(blank, "word", "a blank of the assembly") for blank in self.blanks().get(word, ()))

    def blanks(self) -> dict[str, tuple[str, ...]]:
        """The assemblies that may be placed here, with their blanks."""
        found: dict[str, tuple[str, ...]] = {}
        for source in self.desk.known(self.path).files or (self.desk.source(self.path),):
            for each in self.desk.read(source.name).statements:
                if each.kind.text == "assembly" and each.names:
                    named = each.setting("blanks")
                    found[each.names[0].text] = tuple(v.text for v in named.values if v.text != "and") if named else ()
        return found


def _all(place: _Place) -> Iterator[Offer]:
    head = place.head
    if not head.strip():
        yield from _beginnings(place)
        return
    before, colon, after = head.partition(":")
    if not colon:
        yield from _subjects(place, before)
        return
    part = after.rpartition(",")[2]
    if not part.strip():
        yield from _settings(place, after)
        return
    words = part.split()
    setting = next((each for each in place.settings() if each.name == words[0]), None)
    if setting is not None:
        yield from _values(place, setting, words[1:])


# --- where a statement begins ----------------------------------------------------------------------------------------------


def _beginnings(place: _Place) -> Iterator[Offer]:
    if place.is_step:
        near = [word for word in _near(place) if word in ACTIONS]
        yield from (Offer(word, "statement", "a step of a trial") for word in (*near, *ACTIONS))
        return
    near = _near(place)
    known = {kind.name for kind in kinds.every()}
    for word in (each for each in near if each in FORMS or each not in ACTIONS):
        yield Offer(word, "kind" if word in known else "statement", _says(word))
    yield from (Offer(name, "kind", "an assembly of this design") for name in place.blanks())
    yield from (Offer(word, "statement", MEANT.get(word, "")) for word in FORMS)
    yield from (Offer(kind.name, "kind", kind.purpose) for kind in kinds.every())


def _near(place: _Place) -> list[str]:
    """The words that rows hereabouts begin with, the nearest first: what was written is soon written again."""
    rows = sorted(place.statements, key=lambda each: (abs(each.span.line - place.line), each.span.line > place.line))
    written = [each.kind.text for each in rows if each.span.line != place.line and not each.broken]
    counts: dict[str, float] = {}
    for rank, word in enumerate(written[:24]):
        counts[word] = counts.get(word, 0.0) + 1 / (2 + rank)
    return sorted(counts, key=lambda word: -counts[word])


def _says(word: str) -> str:
    kind = kinds.find(word)
    return kind.purpose if kind else MEANT.get(word, "")


# --- names and ports -----------------------------------------------------------------------------------------------------


def _subjects(place: _Place, before: str) -> Iterator[Offer]:
    """What a statement is about: the ends of a line, names that another statement gave; a new name is the writer's own."""
    word = place.kind_word
    kind = kinds.find(word)
    first, arrow, _ = before.partition("->")
    if word == "couple":
        yield from _things(place, lambda device: device.has(Trait.COUPLES_VEHICLES))
    elif kind is not None and Trait.LINE in kind.traits:
        if not arrow and len(first.split()) > 1:
            yield Offer("->", "word", "from and to are joined by it")
        else:
            yield from _ends(place, bool(arrow), first.split()[-1] if arrow and first.split() else "")
    elif word == "rules":
        from circuit.clauses import set_names

        from circuit.clauses import rule_set

        names = sorted(set_names(), key=lambda name: -len(rule_set(name).clauses))
        yield from (Offer(name, "word", "a set of rules") for name in names)
    elif word in ("plug", "cut", "remove"):
        yield from _ends(place, False, "")
    elif word == "waive":
        yield from _waivable(place)
    elif word in ("set", "replace") or place.is_step:
        recent = _recent(place)
        steps = sorted((word for word in TRIAL_WORDS if place.is_step), key=lambda word: recent.get(word, 400))
        if place.circuit:
            hands = {"press": Trait.SERVICE_CONTROL, "release": Trait.SERVICE_CONTROL, "push": Trait.PARK_CONTROL,
                     "pull": Trait.PARK_CONTROL, "expect": Trait.SERVICE_ACTUATOR, "uncouple": Trait.COUPLES_VEHICLES}
            if word in hands:
                yield from _things(place, lambda device: device.has(hands[word]))
        yield from (Offer(each, "word", "stands for no single part") for each in steps[:2])
        yield from sorted(_things(place, lambda device: bool(device.kind.positions)), key=lambda each: recent.get(each.text, 400))
        yield from (Offer(each, "word", "stands for no single part") for each in steps)
        yield from _things(place, lambda device: not device.is_line)
        yield from _ends(place, False, "")


def _waivable(place: _Place) -> Iterator[Offer]:
    verdict = place.desk.verdict(place.path)
    for one in verdict.findings if verdict else ():
        yield Offer(one.rule.name, "word", one.answer.says)


def _things(place: _Place, wanted) -> Iterator[Offer]:  # type: ignore[no-untyped-def]
    if place.circuit:
        yield from (Offer(each.name, "name", each.kind.title) for each in place.circuit.devices if wanted(each))


def _ends(place: _Place, far: bool, other: str) -> Iterator[Offer]:
    """Ports, those first that are free and fit: a line goes from what delivers to what takes; near rows before far ones."""
    circuit = place.circuit
    if circuit is None:
        return
    known = [(device.span.outermost.line, device, port) for device, port in circuit.ports() if not device.kind.small]
    from_role = (Role.DELIVERY, Role.SPACE) if not far else (Role.SUPPLY, Role.CONTROL, Role.SPACE)
    recent = _recent(place)

    def rank(line: int, device, port) -> tuple[float, ...]:  # type: ignore[no-untyped-def]
        key = device.name, port.number
        used = circuit.used.get(key, 0)
        holes = circuit.holes(device, port)
        free = key not in circuit.plugged and (not used or holes == 0 or used < holes)
        text = circuit.port_name(key)
        near = recent.get(text, recent.get(device.name, 400))
        return (not free, port.role not in from_role and used == 0, near, abs(line - place.line))

    for _, device, port in sorted(known, key=lambda each: rank(*each)):
        if device.name.split(".")[0] != other.split(".")[0] or not other:
            yield Offer(circuit.port_name((device.name, port.number)), "port", f"{device.kind.title}, {_port_says(port)}")
    for line, device, port in known:
        if port.words:
            yield Offer(f"{device.name}.{port.words[0]}", "port", f"{device.kind.title}, {_port_says(port)}")
    aliases = [f"{name}.{port.names[0].text}" for name, port in _placed(place)]
    yield from (Offer(text, "port", "a port of an assembly") for text in aliases)


def _recent(place: _Place) -> dict[str, int]:
    """Ends that rows near by name, with how far off they stand."""
    found: dict[str, int] = {}
    for each in place.statements:
        away = abs(each.span.line - place.line)
        if not away:
            continue
        for name in (*(each.ends or ()), *each.names):
            for text in (name.text, name.text.split(".")[0]):
                found[text] = min(found.get(text, 999), away)
    return found


def _placed(place: _Place):  # type: ignore[no-untyped-def]
    """Names of placed assemblies, each with each of its ports' statements."""
    ports = {}
    for source in place.desk.known(place.path).files:
        for each in place.desk.read(source.name).statements:
            if each.kind.text == "assembly" and each.names and each.block:
                ports[each.names[0].text] = [inner for inner in each.block if inner.kind.text == "port" and inner.names]
    for each in place.statements:
        for port in ports.get(each.kind.text, ()):
            for name in each.names:
                yield name.text, port


def _port_says(port) -> str:  # type: ignore[no-untyped-def]
    return f"port {port.number}" + (f" ({port.words[0]})" if port.words else "") + f", {port.role.value}"


# --- settings and values -----------------------------------------------------------------------------------------------


def _settings(place: _Place, after: str) -> Iterator[Offer]:
    """Settings that are not written yet: what is needed first, then in the order in which rows of the kind near by have them."""
    written = {part.split()[0] for part in after.split(",") if part.split()}
    table = {each.name: each for each in place.settings() if each.name not in written}
    usual = [setting.name.text for each in sorted(place.statements, key=lambda s: abs(s.span.line - place.line))
             if each.kind.text == place.kind_word and each.span.line != place.line for setting in each.settings]
    habit = {name: rank for rank, name in reversed(list(enumerate(usual[:12])))}
    order = sorted(table.values(), key=lambda each: (habit.get(each.name, 50 if each.required else 99)))
    yield from (Offer(each.name, "setting", each.says) for each in order)


def _values(place: _Place, setting: Setting, words: list[str]) -> Iterator[Offer]:
    if setting.dimension == "word" and not words:
        yield from _seen(place, setting, "word")
        yield from (Offer(word, "word", setting.says) for word in setting.choices)
    elif setting.dimension in ("names", "name", "reference", "place") or not setting.choices and setting.dimension == "word":
        if len(words) % 2 and setting.dimension == "names":
            yield Offer("and", "word", "joins a list")
        else:
            yield from _named(place, setting, set(words))
    elif setting.dimension == "text" and setting.name == "state":
        named = place.here.before.partition(":")[0].split()
        device = place.circuit.by_name.get(named[-1]) if place.circuit and named else None
        yield from _seen(place, setting, "word")
        yield from (Offer(word, "word", "how it can stand") for word in (device.kind.positions if device else ("on", "off")))
    elif setting.dimension == "bound" and len(words) < 2:
        yield from (Offer(word, "word") for word in (("at",) if not words else ("least", "most")))
    elif setting.dimension in ("size", "chamber", "bore", "count", *DIMENSIONS) or setting.dimension in ("bound", "any"):
        yield from _figures(place, setting, words)


def _seen(place: _Place, setting: Setting, sort: str) -> Iterator[Offer]:
    """Values that rows near by have for the same setting, the nearest first; of the same kind before others."""
    rows = sorted(place.statements, key=lambda s: (s.kind.text != place.kind_word, abs(s.span.line - place.line)))
    for each in rows[:60]:
        found = each.setting(setting.name) if each.span.line != place.line else None
        if found is not None and found.values:
            yield Offer(" ".join(value.text for value in found.values), sort, "as in a row near by")


def _named(place: _Place, setting: Setting, taken: set[str]) -> Iterator[Offer]:
    circuit = place.circuit
    if circuit is None:
        return
    if setting.name in ("axle", "axles"):
        yield from _seen(place, setting, "name") if setting.name == "axle" else ()
        yield from (Offer(axle.name, "name", "an axle") for axle in circuit.axles if axle.name not in taken)
    elif setting.name == "reservoirs":
        yield from (Offer(tank.name, "name", tank.kind.title) for tank in circuit.reservoirs if tank.name not in taken)
    elif setting.name == "on":
        yield from _hosts(place, circuit)
    else:
        yield from _things(place, lambda device: not device.is_line)
        yield from _ends(place, False, "")


def _hosts(place: _Place, circuit: Circuit) -> Iterator[Offer]:
    """What a small part may be screwed into: what has room, the nearest row first."""
    recent = _recent(place)
    tanks = sorted(circuit.reservoirs, key=lambda tank: recent.get(tank.name, 400))
    yield from (Offer(tank.name, "name", tank.kind.title) for tank in tanks)
    yield from _ends(place, False, "")


def _figures(place: _Place, setting: Setting, words: list[str]) -> Iterator[Offer]:
    """Values of rows near by and typical ones; behind a number the units that fit, those of rows near by first."""
    if not words:
        yield from _seen(place, setting, "word")
        if setting.typical is not None:
            yield Offer(setting.typical.text, "word", f"typical: {setting.typical.source}")
        if setting.dimension == "size":
            yield from (Offer(f"{size} in" if "x" not in size else size, "word", "a trade size of tube") for size in tubes())
        return
    near = [each.text.split()[-1] for each in _seen(place, setting, "unit") if len(each.text.split()) > 1]
    fit = units_of("length" if setting.dimension in ("size", "bore") else "pressure" if setting.dimension in ("bound", "any")
                   else setting.dimension)
    yield from (Offer(unit, "unit", "a unit that fits") for unit in dict.fromkeys((*(u for u in near if u in fit), *fit)))

