"""Statements to a circuit: every kind, name, port and setting is looked up once. All that is wrong is reported."""

from dataclasses import dataclass, field
from typing import Any

from circuit import kinds
from circuit.kinds.kind import Kind, Port, Role, Trait
from circuit.mistake import Mistake, Unreadable
from circuit.model.circuit import (
    COMBINATION, SPACE_OUTSIDE, Axle, Circuit, Coupling, Device, Given, Intent, PortKey, Vehicle, Waiver,
)
from circuit.model.expand import Flat, Reader, expand
from circuit.model.forms import DECLARED, FORMS
from circuit.model.settings import read
from circuit.model.trials import read_trial
from circuit.near import did_you_mean
from circuit.source import Source, Span
from circuit.syntax.tree import Name, Statement


def resolve(
    source: Source, statements: tuple[Statement, ...], reader: Reader, found: tuple[Mistake, ...] = ()
) -> Circuit:
    """The circuit of a design. found: mistakes that parsing has met already.

    Raises Unreadable with every mistake when there is any.
    """
    mistakes = list(found)
    flat = expand(source, statements, reader, mistakes)
    circuit = _Builder(source, flat, mistakes).build()
    if mistakes or circuit is None:
        order = {id(text): place for place, text in enumerate(flat.files)}
        mistakes.sort(key=lambda m: (order.get(id(m.at.outermost.source), 0), m.at.outermost.line, m.at.outermost.column))
        raise Unreadable(tuple(dict.fromkeys(mistakes)))
    return circuit


@dataclass(slots=True)
class _Builder:
    source: Source
    flat: Flat
    mistakes: list[Mistake]
    devices: dict[str, Device] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    spans: dict[str, Span] = field(default_factory=dict)
    parent: dict[PortKey, PortKey] = field(default_factory=dict)
    used: dict[PortKey, list[Span]] = field(default_factory=dict)
    plugged: dict[PortKey, Span] = field(default_factory=dict)

    def build(self) -> Circuit | None:
        forms: dict[str, list[Statement]] = {}
        lines: list[tuple[Statement, Kind]] = []
        for statement in self.flat.statements:
            word = statement.kind.text
            if statement.broken:
                self.broken.update(name.text for name in statement.names)
            elif word in FORMS:
                forms.setdefault(word, []).append(statement)
            else:
                kind = kinds.find(word)
                if kind is None:
                    self._unknown_kind(statement)
                elif Trait.LINE in kind.traits:
                    lines.append((statement, kind))
                else:
                    self._things(statement, kind)
        for name, span in self.flat.places.items():
            self._claim(name, span)
        axles = self._axles(forms.get("axle", []))
        for statement, kind in lines:
            self._line(statement, kind)
        self._hosts()
        couplings = self._couplings(forms.get("couple", []))
        self._heads(couplings, bool(forms.get("combination")))
        for statement in forms.get("plug", []):
            self._plug(statement)
        self._check_axles(axles)
        together = forms.get("combination", [])
        vehicle = self._combination(together) if together else self._vehicle(forms.get("vehicle", []))
        intents = tuple(i for s in forms.get("circuit", []) if (i := self._intent(s, axles)) is not None)
        waivers = tuple(w for s in forms.get("waive", []) if (w := self._waiver(s)) is not None)
        rule_sets = self._rule_sets(forms.get("rules", []))
        trials = tuple(read_trial(s, self._exists, self.mistakes) for s in forms.get("trial", []))
        if vehicle is None:
            return None
        return Circuit(
            self.source, vehicle, rule_sets, tuple(self.devices.values()), self._spaces(), self.plugged,
            {key: len(spans) for key, spans in self.used.items()}, tuple(axles.values()), intents, waivers, trials,
            tuple(self.flat.files), dict(self.flat.vehicles), couplings,
        )

    def _wrong(self, at: Span, says: str, expected: str = "", other: tuple[Span, str] | None = None) -> None:
        self.mistakes.append(Mistake(at, says, expected, other))

    # --- parts --------------------------------------------------------------------------------------------------

    def _unknown_kind(self, statement: Statement) -> None:
        word = statement.kind.text
        self.broken.update(name.text for name in statement.names)
        lower = word.lower()
        if lower != word and (lower in FORMS or kinds.find(lower)):
            self._wrong(statement.kind.span, f"no kind is called `{word}`", f"kinds are written small: {lower}")
            return
        offer = did_you_mean(word, (*kinds.names(), *FORMS))
        if offer:
            self._wrong(statement.kind.span, f"no kind is called `{word}`", offer)
        elif statement.names and not statement.settings:
            self._wrong(statement.kind.span, f"no kind is called `{word}`", "if this is a remark, begin it with #")
        else:
            self._wrong(statement.kind.span, f"no kind is called `{word}`", "see the list: airwright explain kinds")

    def _claim(self, name: str, span: Span) -> bool:
        """Give a name to one thing; a second thing of the name is a mistake that shows both places."""
        if name in self.spans:
            self._wrong(span, f"there are two things called `{name}`", "give one of them another name",
                        (self.spans[name], "the first one"))
            return False
        self.spans[name] = span
        return True

    def _things(self, statement: Statement, kind: Kind) -> None:
        if statement.ends is not None:
            self._wrong(statement.span, f"`{kind.name}` is a thing, not a line", f"write {kind.name} NAME: ...")
            return
        if not statement.names:
            self._wrong(statement.span, f"`{kind.name}` needs a name",
                        f"write {kind.name} NAME: ..., the name without quotes")
            return
        values, given = self._read(statement, kind)
        for name in statement.names:
            if self._claim(name.text, name.span):
                self.devices[name.text] = Device(name.text, kind, values, given, name.span)
                for port in kind.ports:
                    self.parent[name.text, port.number] = (name.text, port.number)

    def _read(self, statement: Statement, kind: Kind) -> tuple[dict[str, Any], dict[str, Given]]:
        before = len(self.mistakes)
        values, given = read(statement, kind.settings, kind.name, self.mistakes)
        if len(self.mistakes) == before:
            try:
                values.update(kind.derive(values))
            except ValueError as contradiction:
                self._wrong(statement.span, str(contradiction))
        return values, given

    def _line(self, statement: Statement, kind: Kind) -> None:
        if statement.ends is None:
            self._wrong(statement.span, f"`{kind.name}` is a line: it joins two ports",
                        f"write {kind.name} FROM -> TO: ...")
            return
        values, given = self._read(statement, kind)
        ends = [self.port(end) for end in statement.ends]
        if ends[0] is None or ends[1] is None:
            return
        if ends[0] == ends[1]:
            self._wrong(statement.span, "this line joins a port to itself", "write two different ends")
            return
        base = name = f"{statement.ends[0].text} -> {statement.ends[1].text}"
        number = 2
        while name in self.devices:
            name, number = f"{base} ({number})", number + 1
        if values.get("name"):
            self._claim(values["name"], statement.span)
        self.devices[name] = Device(name, kind, values, given, statement.span, (ends[0], ends[1]))
        for number_, end in zip(("1", "2"), ends):
            self.parent[name, number_] = (name, number_)
            self._join((name, number_), end)
            self._use_hole(end, statement.span)
        if Trait.DIRECT in kind.traits:
            self._join((name, "1"), (name, "2"))

    def _partition(self, device: Device) -> None:
        """Put a wall between two reservoirs: it takes no hole of either."""
        names = device.settings["between"]
        if names is None:
            return
        rooms = [key for name in names if (key := self.port(name)) is not None]
        if len(rooms) < len(names):
            return
        if len(set(rooms)) != 2 or not all(self.devices[room].has(Trait.STORES_AIR) for room, _ in rooms):
            self._wrong(device.given["between"].span or device.span, "a partition stands between two reservoirs",
                        f"write {device.kind.name} {device.name}: between FIRST and SECOND, the names of two reservoirs")
            return
        for port, room in zip(device.kind.ports, rooms):
            self._join((device.name, port.number), room)
        self.devices[device.name] = device._replace(host=rooms[0])

    def _hosts(self) -> None:
        for name, device in list(self.devices.items()):
            if device.has(Trait.PARTS_ROOMS):
                self._partition(device)
            reference = device.settings.get("on")
            if not isinstance(reference, Name):
                continue
            host = self.port(reference)
            if host is not None:
                own = (name, device.kind.ports[0].number)
                self._join(own, host)
                self._use_hole(host, device.span)
                self._use_hole(own, device.span)
                self.devices[name] = device._replace(host=host)

    def _use_hole(self, key: PortKey, span: Span) -> None:
        spans = self.used.setdefault(key, [])
        device = self.devices[key[0]]
        port = device.kind.port(key[1])
        assert port is not None
        holes = port.holes
        holes_setting = port.holes_from or ("holes" if port.holes == 0 else "")
        if holes_setting and device.settings.get(holes_setting) is not None:
            holes = int(device.settings[holes_setting])
        if holes and len(spans) >= holes:
            expected = (f"write `{holes_setting} {len(spans) + 1}` on {device.name} if it has the holes, or use a tee"
                        if holes_setting else "use a tee, or a port with more holes")
            self._wrong(span, f"{_end(device, port)} has {holes} hole{'s' if holes > 1 else ''} and takes no more",
                        expected, (spans[-1], "the last line it took"))
        spans.append(span)

    def _plug(self, statement: Statement) -> None:
        if not statement.names:
            self._wrong(statement.span, "`plug` needs the port it closes", "write plug rear-relay.2")
        for name in statement.names:
            key = self.port(name)
            if key is None:
                continue
            device, port = self.devices[key[0]], self.devices[key[0]].kind.port(key[1])
            assert port is not None
            self._use_hole(key, name.span)
            self.plugged[key] = name.span

    # --- vehicles coupled together ------------------------------------------------------------------------------

    def _couplings(self, statements: list[Statement]) -> tuple[Coupling, ...]:
        found: list[Coupling] = []
        taken: dict[str, Span] = {}
        for statement in statements:
            if statement.ends is None:
                self._wrong(statement.span, "`couple` joins two coupling heads",
                            "write couple tractor.supply-head -> semi.supply-head")
                continue
            keys = [self.port(end) for end in statement.ends]
            for key, end in zip(keys, statement.ends):
                if key is None:
                    continue
                if not self.devices[key[0]].has(Trait.COUPLES_VEHICLES):
                    self._wrong(end.span, f"`{end.text}` is a {self.devices[key[0]].kind.name}, not a coupling head",
                                "name a coupling head of each vehicle")
                elif key[0] in taken:
                    self._wrong(end.span, f"`{end.text}` is coupled twice", "a head takes one hose",
                                (taken[key[0]], "the first time"))
                else:
                    taken[key[0]] = end.span
            if keys[0] is not None and keys[1] is not None:
                found.append(Coupling((keys[0][0], keys[1][0]), statement.span))
        return tuple(found)

    def _heads(self, couplings: tuple[Coupling, ...], together: bool) -> None:
        """Tell each coupling head how it stands: `joined` to another, `loose` in a combination, `capped` by a dummy."""
        joined = {name for coupling in couplings for name in coupling.ends}
        capped = {device.host[0] for device in self.devices.values() if device.host and device.has(Trait.CAPS)}
        for name, device in self.devices.items():
            if device.has(Trait.COUPLES_VEHICLES):
                states = {"joined": float(name in joined), "loose": float(together and name not in joined),
                          "capped": float(name in capped)}
                self.devices[name] = device._replace(settings={**device.settings, **states})

    # --- names and ports ----------------------------------------------------------------------------------------

    def port(self, reference: Name) -> PortKey | None:
        """The port a reference means; what is wrong with it is reported, unless a broken statement explains it."""
        text = self._unalias(reference.text)
        if text in self.devices:
            device = self.devices[text]
            only = device.kind.only_port or _first_space(device.kind)
            if only is not None:
                return text, only.number
            self._wrong(reference.span, f"`{reference.text}` is a {device.kind.name} with several ports",
                        f"say which: {_ports(device.kind, text)}")
            return None
        head, _, last = text.rpartition(".")
        if head in self.devices:
            device = self.devices[head]
            port = device.kind.port(last)
            if port is not None:
                return head, port.number
            self._wrong(reference.span, f"{head} is a {device.kind.name}, and it has no port `{last}`",
                        f"its ports are {_ports(device.kind)}")
            return None
        self._missing(reference, text)
        return None

    def _unalias(self, text: str) -> str:
        for _ in range(8):
            if text not in self.flat.aliases:
                break
            text = self.flat.aliases[text]
        return text

    def _missing(self, reference: Name, text: str) -> None:
        first = text.split(".")[0]
        if any(name == first or name.startswith(f"{first}.") for name in self.broken):
            return
        if first in self.flat.places:
            ports = [alias[len(first) + 1:] for alias in self.flat.aliases if alias.startswith(f"{first}.")]
            self._wrong(reference.span, f"the assembly at `{first}` has no port or part `{text[len(first) + 1:]}`",
                        f"its ports are {', '.join(ports) or 'none'}")
            return
        known = list(dict.fromkeys([*self.devices, *self.flat.places, *self.flat.aliases]))
        known = [name for name in known if "->" not in name]
        self._wrong(reference.span, f"nothing is called `{first if first not in known else text}`",
                    did_you_mean(first, [name.split(".")[0] for name in known]) or "write it down first, as KIND NAME: ...")

    def _exists(self, reference: Name) -> bool:
        """Whether a trial, a waiver or a circuit may name it: a part, a port, a place or a named line."""
        text = self._unalias(reference.text)
        if text in self.devices or text in self.flat.places or text in self.spans:
            return True
        head, _, last = text.rpartition(".")
        if head in self.devices and self.devices[head].kind.port(last):
            return True
        self._missing(reference, text)
        return False

    # --- spaces -------------------------------------------------------------------------------------------------

    def _root(self, key: PortKey) -> PortKey:
        while self.parent[key] != key:
            self.parent[key] = self.parent[self.parent[key]]
            key = self.parent[key]
        return key

    def _join(self, one: PortKey, other: PortKey) -> None:
        self.parent[self._root(one)] = self._root(other)

    def _spaces(self) -> dict[PortKey, int]:
        """Port to space. An exhaust that is neither plugged nor piped away is the atmosphere."""
        numbers: dict[PortKey, int] = {}
        space: dict[PortKey, int] = {}
        for key in self.parent:
            device = self.devices[key[0]]
            port = device.kind.port(key[1])
            assert port is not None
            if port.role is Role.EXHAUST and key not in self.used and key not in self.plugged:
                space[key] = SPACE_OUTSIDE
            else:
                space[key] = numbers.setdefault(self._root(key), len(numbers))
        return space

    # --- what the design says of itself -------------------------------------------------------------------------

    def _vehicle(self, statements: list[Statement]) -> Vehicle | None:
        if not statements:
            if "vehicle" not in self.broken and not any(s.broken and s.kind.text == "vehicle" for s in self.flat.statements):
                self._wrong(Span(self.source, 1, 1), "this design does not say what vehicle it is for",
                            "begin with vehicle NAME: class truck (or tractor, bus, semi-trailer, full-trailer, dolly)")
            return None
        if len(statements) > 1:
            self._wrong(statements[1].span, "a design is for one vehicle, and this is a second `vehicle`", "remove one",
                        (statements[0].span, "the first one"))
        statement = statements[0]
        if len(statement.names) != 1:
            self._wrong(statement.span, "`vehicle` needs one name", "write vehicle truck: class truck")
            return None
        before = len(self.mistakes)
        values, _ = read(statement, FORMS["vehicle"], "vehicle", self.mistakes)
        if len(self.mistakes) > before:
            return None
        name = statement.names[0].text
        declared = {setting.name: values[setting.name] for setting in DECLARED}
        return Vehicle(name, values["class"], values["title"] or name, values["tows"] == "yes", statement.span, declared)

    def _combination(self, statements: list[Statement]) -> Vehicle | None:
        statement = statements[0]
        if len(statements) > 1:
            self._wrong(statements[1].span, "this is a second `combination`", "remove one",
                        (statement.span, "the first one"))
        if len(statement.names) != 1:
            self._wrong(statement.span, "`combination` needs one name", "write combination rig: title \"...\"")
            return None
        if len(self.flat.vehicles) < 2:
            self._wrong(statement.span, "a combination has two vehicles or more",
                        'write vehicle tractor: file "tractor.air"')
            return None
        values, _ = read(statement, FORMS["combination"], "combination", self.mistakes)
        name = statement.names[0].text
        return Vehicle(name, COMBINATION, values["title"] or name, False, statement.span)

    def _rule_sets(self, statements: list[Statement]) -> tuple[str, ...]:
        from circuit.clauses import set_names

        found: list[str] = []
        for statement in statements:
            if not statement.names:
                self._wrong(statement.span, "`rules` needs the name of a set of rules",
                            f"write rules {set_names()[0]}")
            for name in statement.names:
                if name.text not in set_names():
                    self._wrong(name.span, f"no set of rules is called `{name.text}`",
                                did_you_mean(name.text, set_names()) or "known sets: " + ", ".join(set_names()))
                else:
                    found.append(name.text)
        return tuple(dict.fromkeys(found))

    def _axles(self, statements: list[Statement]) -> dict[str, Axle]:
        axles: dict[str, Axle] = {}
        for statement in statements:
            values, _ = read(statement, FORMS["axle"], "axle", self.mistakes)
            if not statement.names:
                self._wrong(statement.span, "`axle` needs a name", "write axle front: position 1")
            for name in statement.names:
                if name.text in axles:
                    self._wrong(name.span, f"there are two axles called `{name.text}`", "give one of them another name",
                                (axles[name.text].span, "the first one"))
                elif values["position"] is not None:
                    same = next((a for a in axles.values() if a.position == values["position"]
                                 and a.name.rpartition(".")[0] == name.text.rpartition(".")[0]), None)
                    if same is not None:
                        self._wrong(name.span, f"two axles stand at position {same.position}", "count from the front",
                                    (same.span, "the first one"))
                    axles[name.text] = Axle(name.text, values["position"], name.span)
                else:
                    self.broken.add(name.text)
        return axles

    def _check_axles(self, axles: dict[str, Axle]) -> None:
        for device in self.devices.values():
            axle = device.settings.get("axle")
            if axle is not None and axle not in axles and axle not in self.broken:
                span = device.given["axle"].span or device.span
                self._wrong(span, f"no axle is called `{axle}`",
                            did_you_mean(axle, axles) or f"write it down: axle {axle}: position {len(axles) + 1}")

    def _intent(self, statement: Statement, axles: dict[str, Axle]) -> Intent | None:
        before = len(self.mistakes)
        values, _ = read(statement, FORMS["circuit"], "circuit", self.mistakes)
        if len(statement.names) != 1:
            self._wrong(statement.span, "`circuit` needs one name", "write circuit primary: reservoirs pri, axles rear")
            return None
        for name in values["reservoirs"] or ():
            device = self.devices.get(name.text)
            if device is None:
                if self._exists(name):
                    self._wrong(name.span, f"`{name.text}` is no reservoir", "name a reservoir")
            elif not device.has(Trait.STORES_AIR):
                self._wrong(name.span, f"`{name.text}` is a {device.kind.name}, not a reservoir", "name a reservoir")
        for name in values["axles"] or ():
            if name.text not in axles and name.text not in self.broken:
                self._wrong(name.span, f"no axle is called `{name.text}`",
                            did_you_mean(name.text, axles) or "the axles are " + (", ".join(axles) or "not written yet"))
        if len(self.mistakes) > before:
            return None
        return Intent(statement.names[0].text, values["role"], tuple(n.text for n in values["reservoirs"] or ()),
                      tuple(n.text for n in values["axles"] or ()), statement.span)

    def _waiver(self, statement: Statement) -> Waiver | None:
        before = len(self.mistakes)
        values, _ = read(statement, FORMS["waive"], "waive", self.mistakes)
        if len(statement.names) != 1:
            self._wrong(statement.span, "`waive` needs the name of one rule",
                        'write waive RULE: at THING, because "the reason"')
            return None
        if len(self.mistakes) > before:
            return None
        at: Name = values["at"]
        text = self._unalias(at.text)
        names = {i.names[0].text for i in self.flat.statements if i.kind.text in ("circuit", "axle", "vehicle") and i.names}
        if text not in names and not self._exists(at):
            return None
        return Waiver(statement.names[0].text, text, values["because"], values["by"] or "", statement.span)


def _first_space(kind: Kind) -> Port | None:
    """For a thing on a host (drain, safety valve): the one port that is not an exhaust."""
    inner = [port for port in kind.ports if port.role is Role.SPACE and port.required]
    return inner[0] if len(inner) == 1 and all(p.role in (Role.SPACE, Role.EXHAUST, Role.CONTROL) for p in kind.ports) \
        and kind.small else None


def _ports(kind: Kind, name: str = "") -> str:
    head = f"{name}." if name else ""
    return ", ".join(f"{head}{port.number}" + (f" ({port.words[0]})" if port.words else "") for port in kind.ports)


def _end(device: Device, port: Port) -> str:
    return device.name if device.kind.only_port else f"{device.name}.{port.number}"
