"""Ports joined to each other: which share one space, and how many of their holes are taken."""

from dataclasses import dataclass, field

from circuit.declaring.kind import Port
from circuit.declaring.traits import Role
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey
from circuit.model.names import Names
from circuit.source import Span
from circuit.syntax.statements import Statement


@dataclass(slots=True)
class Joints:
    """parent: of each port in the forest of what is joined. used: port to what took its holes. plugged: port to the
    plug's place."""

    names: Names
    parent: dict[PortKey, PortKey] = field(default_factory=dict)
    used: dict[PortKey, list[Span]] = field(default_factory=dict)
    plugged: dict[PortKey, Span] = field(default_factory=dict)

    def add(self, key: PortKey) -> None:
        """A port that is joined to nothing yet."""
        self.parent[key] = key

    def join(self, one: PortKey, other: PortKey) -> None:
        """Makes one space of two ports and all that is joined to them."""
        self.parent[self._root(one)] = self._root(other)

    def _root(self, key: PortKey) -> PortKey:
        while self.parent[key] != key:
            self.parent[key] = self.parent[self.parent[key]]
            key = self.parent[key]
        return key

    def use_hole(self, key: PortKey, span: Span) -> None:
        """Takes a hole of a port for what is written at a place, if it has one left."""
        spans = self.used.setdefault(key, [])
        device = self.names.devices[key[0]]
        port = device.kind.port(key[1])
        assert port is not None
        holes = port.holes
        holes_setting = port.holes_from or ("holes" if port.holes == 0 else "")
        if holes_setting and device.settings.get(holes_setting) is not None:
            holes = int(device.settings[holes_setting])
        if holes and len(spans) >= holes and key[0] not in self.names.unknown.things:
            self.names.unknown.ports.add(key)
            expected = (f"write `{holes_setting} {len(spans) + 1}` on {device.name} if it has the holes, or use a tee"
                        if holes_setting else "use a tee, or a port with more holes")
            self.names.wrong(span, f"{_end(device, port)} has {holes} hole{'s' if holes > 1 else ''} and takes no more",
                             expected, (spans[-1], "the last line it took"))
        spans.append(span)

    def plug(self, statement: Statement) -> None:
        """Closes the ports that a `plug` names."""
        if not statement.names:
            self.names.wrong(statement.span, "`plug` needs the port it closes", "write plug rear-relay.2")
        for name in statement.names:
            key = self.names.port(name)
            if key is None:
                continue
            self.use_hole(key, name.span)
            self.plugged[key] = name.span

    def spaces(self) -> dict[PortKey, int]:
        """Port to space. An exhaust that is neither plugged nor piped away is the atmosphere."""
        numbers: dict[PortKey, int] = {}
        space: dict[PortKey, int] = {}
        for key in self.parent:
            device = self.names.devices[key[0]]
            port = device.kind.port(key[1])
            assert port is not None
            if port.role is Role.EXHAUST and key not in self.used and key not in self.plugged:
                space[key] = SPACE_OUTSIDE
            else:
                space[key] = numbers.setdefault(self._root(key), len(numbers))
        return space


def _end(device: Device, port: Port) -> str:
    return device.name if device.kind.only_port else f"{device.name}.{port.number}"
