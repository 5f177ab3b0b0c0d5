"""A good design as operators see it: its circuit, its evidence, and where in its own text each thing is written.

Whatever stands in another file, or inside an assembly, has no statement here and is left alone.
"""

from functools import cached_property

from circuit.clauses import ALWAYS, Clause
from circuit.declaring.kind import Kind, Port
from circuit.declaring.traits import Role, Trait
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import Device, PortKey
from circuit.model.known_words import VOCABULARY
from circuit.plant.rows import Add, Edit, Swap, dropped, rows_of, swapped, with_setting, without_name
from circuit.rules import find
from circuit.source import Source
from circuit.syntax.parse import parse
from circuit.syntax.statements import Name, Statement
from circuit.verdict.judge import askings


class Bed:
    """A design to plant in. Raises mistake.Unreadable when it cannot be read."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.source: Source = circuit.source
        self.evidence = Evidence(circuit)
        self.statements, _ = parse(self.source, VOCABULARY)

    # --- where things are written -------------------------------------------------------------------------------

    @cached_property
    def _written(self) -> dict[tuple[int, int], tuple[Statement, Name | None]]:
        found: dict[tuple[int, int], tuple[Statement, Name | None]] = {}
        for statement in self.statements:
            found[statement.span.line, statement.span.column] = (statement, None)
            for name in statement.names:
                found[name.span.line, name.span.column] = (statement, name)
        return found

    def written(self, device: Device) -> tuple[Statement, Name | None] | None:
        """The statement of a thing or line and its name there; of one inside an assembly, where that is placed."""
        span = device.span.outermost
        return self._written.get((span.line, span.column)) if span.source is self.source else None

    def statement(self, device: Device) -> Statement | None:
        """The statement that declares a thing itself, or None."""
        found = None if device.span.via else self.written(device)
        return found[0] if found else None

    def of_kind(self, word: str) -> tuple[Statement, ...]:
        """The statements that begin with a word of the language, such as `couple`."""
        return tuple(statement for statement in self.statements if statement.kind.text == word)

    def own(self, *traits: Trait) -> tuple[Device, ...]:
        """The things with some traits that this text itself declares."""
        return tuple(device for device in self.circuit.having(*traits) if self.statement(device))

    # --- rules ----------------------------------------------------------------------------------------------------

    def asked(self, rule: str, limit: str = "") -> Clause | None:
        """The clause by which a rule holds for this design, or None: then what it forbids is no mistake here.

        limit: the name of a limit that the clause must have.
        """
        known = find(rule)
        names = tuple(dict.fromkeys((*self.circuit.rule_sets, ALWAYS)))
        clauses = askings(known, names, self.circuit) if known else ()
        return next((clause for clause in clauses if not limit or limit in clause.values), None)

    # --- lines ------------------------------------------------------------------------------------------------------

    def lines_at(self, key: PortKey) -> tuple[tuple[Device, int], ...]:
        """The lines of this text on a port, each with which of its two ends is there."""
        return tuple((device, place) for device in self.circuit.devices if device.ends and self.statement(device)
                     for place in (0, 1) if device.ends[place] == key)

    def only_line(self, key: PortKey) -> tuple[Device, int] | None:
        """The line on a port that has nothing else on it, or None."""
        lines = self.lines_at(key)
        return lines[0] if len(lines) == 1 and self.circuit.used.get(key, 0) == 1 else None

    def hung_on(self, *keys: PortKey) -> tuple[Device, ...]:
        """The parts screwed into some ports."""
        return tuple(device for device in self.circuit.devices if device.host in keys)

    def end(self, line: Device, place: int) -> Name:
        """One end of a line as it is written."""
        statement = self.statement(line)
        assert statement is not None and statement.ends is not None
        return statement.ends[place]

    def moved(self, line: Device, place: int, key: PortKey) -> Swap:
        """One end of a line written to another port."""
        return swapped(self.end(line, place).span, self.reference(key))

    def crossed(self, one: tuple[Device, int], other: tuple[Device, int]) -> tuple[Edit, ...]:
        """The ends of two lines exchanged."""
        first, second = self.end(*one), self.end(*other)
        return (swapped(first.span, second.text), swapped(second.span, first.text))

    def reference(self, key: PortKey) -> str:
        """A port as this text writes it."""
        for line, place in self.lines_at(key):
            return self.end(line, place).text
        device = self.circuit.by_name[key[0]]
        return device.name if device.kind.only_port else f"{device.name}.{key[1]}"

    def like(self, line: Device, start: PortKey, end: PortKey) -> str:
        """A row for a further line of the make of another."""
        statement = self.statement(line)
        assert statement is not None
        row = self.source.row(statement.span.line)
        settings = row[statement.span.column - 1 + statement.span.length:].split("#")[0].rstrip().rstrip(",")
        kept = [part for part in settings.split(",") if not part.strip().startswith("name ")]
        return f"{statement.kind.text} {self.reference(start)} -> {self.reference(end)}{','.join(kept)}"

    # --- holes ------------------------------------------------------------------------------------------------------

    def takes_more(self, key: PortKey) -> bool:
        """Whether one more line can be put on a port as it is written."""
        device = self.circuit.by_name[key[0]]
        port = _port(device, key[1])
        holes = self.circuit.holes(device, port)
        return key not in self.circuit.plugged and (holes == 0 or self.circuit.used.get(key, 0) < holes)

    def opened(self, key: PortKey) -> tuple[Edit, ...] | None:
        """What makes room for one more line on a port: nothing, or one more hole. None where that cannot be."""
        device = self.circuit.by_name[key[0]]
        port, found = _port(device, key[1]), self.written(device)
        if self.takes_more(key):
            return ()
        if not port.holes_from or found is None or device.span.via or key in self.circuit.plugged:
            return None
        spare = [_below(found[0], f"plug {device.name}.{other.number}") for other in self._sharing(device, port)]
        return (*with_setting(*found, port.holes_from, str(self.circuit.holes(device, port) + 1)), *spare)

    def _sharing(self, device: Device, port: Port) -> list[Port]:
        """The other ports of a thing whose holes are counted by the same setting."""
        return [other for other in device.kind.ports if other is not port and other.holes_from == port.holes_from]

    def closed(self, *freed: PortKey) -> tuple[Edit, ...] | None:
        """What keeps ports whole that have each lost a line: a hole fewer or a plug. None where that is not easy."""
        edits: list[Edit] = []
        for key in dict.fromkeys(freed):
            device = self.circuit.by_name[key[0]]
            port, lost = _port(device, key[1]), freed.count(key)
            left = self.circuit.used.get(key, 0) - lost
            if port.role is Role.EXHAUST or (self.circuit.holes(device, port) == 0 and (left or not port.required)):
                continue
            setting = port.holes_from
            found = self.written(device)
            if found is None or device.span.via:
                return None
            statement, name = found
            if setting and left and statement.setting(setting) and not self._sharing(device, port):
                edits += with_setting(statement, name, setting, str(left))
            else:
                edits.append(_below(statement, f"plug {' and '.join([self.reference(key)] * lost)}"))
        return tuple(edits)

    # --- taking things out ------------------------------------------------------------------------------------------

    def removed(self, device: Device) -> tuple[Edit, ...] | None:
        """A thing and all that names it taken out, or None where something else hangs on it.

        The far ends of its lines are kept whole.
        """
        found = self.written(device)
        if found is None or device.span.via or device.is_line:
            return None
        statement, name = found
        keys = [(device.name, port.number) for port in device.kind.ports]
        declared = any(device.name in intent.reservoirs for intent in self.circuit.intents)
        if name is None or declared or self.hung_on(*keys):
            return None
        edits = list(without_name(statement, name))
        freed = [device.host] if device.host else []
        for line in [d for d in self.circuit.devices if d.ends and any(end in keys for end in d.ends)]:
            own = self.statement(line)
            assert line.ends is not None
            if own is None:
                return None
            edits += dropped(own)
            freed += [end for end in line.ends if end not in keys]
        rest = self.closed(*freed)
        if rest is None:
            return None
        return (*edits, *rest, *self.unmentioned(device.name))

    def unmentioned(self, name: str) -> tuple[Edit, ...]:
        """Plugs, waivers and steps of trials that name a thing, taken out."""
        edits: list[Edit] = []
        for statement in self.statements:
            word = statement.kind.text
            if word == "plug":
                edits += _without(statement, name)
            elif word == "waive" and any(_names(value.text, name) for s in statement.settings for value in s.values):
                edits += dropped(statement)
            elif word == "trial":
                for step in statement.block or ():
                    edits += _without(step, name)
        return tuple(edits)

    def straightened(self, device: Device, *lanes: tuple[str, str]) -> tuple[Edit, ...] | None:
        """A part taken out, and for each lane the line at its entry led straight on to where the other one went."""
        found = self.written(device)
        keys = [(device.name, port.number) for port in device.kind.ports]
        if found is None or found[1] is None or self.hung_on(*keys):
            return None
        edits: list[Edit] = [*without_name(found[0], found[1]), *self.unmentioned(device.name)]
        done: list[Device] = []
        for entry, leaving in lanes:
            one, other = self.only_line((device.name, entry)), self.only_line((device.name, leaving))
            if one is None or other is None or one[0] is other[0]:
                return None
            edits.append(swapped(self.end(*one).span, self.end(other[0], 1 - other[1]).text))
            done += [one[0], other[0]]
            statement = self.statement(other[0])
            assert statement is not None
            edits += dropped(statement)
        freed = []
        for line in self.circuit.devices:
            if line.ends and line not in done and any(end in keys for end in line.ends):
                own = self.statement(line)
                if own is None:
                    return None
                edits += dropped(own)
                freed += [end for end in line.ends if end not in keys]
        rest = self.closed(*freed)
        return None if rest is None else (*edits, *rest)

    def inserted(self, line: Device, place: int, kind: Kind, settings: str = "") -> tuple[str, tuple[Edit, ...]] | None:
        """A new part put into a line before one of its ends, by its ports 1 and 2; also the name it gets."""
        statement = self.statement(line)
        if statement is None or line.ends is None:
            return None
        name = self.free_name(kind.name)
        last = rows_of(statement)[-1]
        row = self.like(line, line.ends[0], line.ends[place]).replace(
            f"{self.reference(line.ends[0])} ->", f"{name}.2 ->", 1)
        return name, (swapped(self.end(line, place).span, f"{name}.1"), Add(last, f"{kind.name} {name}{settings}"),
                      Add(last, row))

    def free_name(self, word: str) -> str:
        """A word that is no name in this design yet, with a number where it has to be."""
        taken = {*self.circuit.by_name, *(axle.name for axle in self.circuit.axles)}
        return next(name for name in (word, *(f"{word}-{number}" for number in range(2, 99))) if name not in taken)


def _port(device: Device, number: str) -> Port:
    port = device.kind.port(number)
    assert port is not None
    return port


def _names(text: str, name: str) -> bool:
    return text == name or text.startswith(f"{name}.")


def _without(statement: Statement, name: str) -> tuple[Edit, ...]:
    """A statement without the names of a thing; the whole of it when no other name is left."""
    naming = [n for n in statement.names if _names(n.text, name)]
    if naming and len(naming) == len(statement.names):
        return dropped(statement)
    return tuple(edit for n in naming for edit in without_name(statement, n))


def _below(statement: Statement, row: str) -> Add:
    return Add(rows_of(statement)[-1], row)
