"""From a circuit to what is drawn of it: everything, or what one band of the sheet holds, with flags where lines are cut."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from circuit.draw.parts import (
    FACING, Body, Flag, Parts, Run, Slot, Small, Wire, at, own_name, symbol_of, vehicle_of,
)
from circuit.draw.text import LETTER, figures, width
from circuit.declaring.kind import Kind, Port
from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Group, Role
from circuit.model.circuit import Circuit
from circuit.model.devices import Device, PortKey

FLAG_HIGH = 2
_ROOM_FOR_PLACE = " 0/C4"
_FLAG = Kind("flag", "line goes on elsewhere", Group.LINES, "", "", (Port("1", Role.END),))
"""What stands for a kind where a line is cut."""


@dataclass(slots=True)
class Whole:
    """What all bands of a drawing share.

    parts: of the whole circuit. small, tees: what is drawn on its host, and as a dot. stage: of each body by its
    device's name. By a run's number: forward, whether air goes from its start to its end; flows, whether it only goes so
    (1), only the other way (-1), or both (0); roles and circuits. sheets: whether flags say on which sheet and in which
    field their lines go on.
    """

    circuit: Circuit
    parts: Parts
    small: frozenset[str]
    tees: frozenset[str]
    stage: dict[str, float] = field(default_factory=dict)
    forward: dict[int, bool] = field(default_factory=dict)
    roles: dict[int, str] = field(default_factory=dict)
    circuits: dict[int, int] = field(default_factory=dict)
    flows: dict[int, int] = field(default_factory=dict)
    sheets: bool = False


def collect(circuit: Circuit) -> Parts:
    """The bodies, small parts, wires and tees of a circuit, in the order of the design."""
    return collect_whole(circuit).parts


def collect_whole(circuit: Circuit) -> Whole:
    """The same, with what bands are made from."""
    lines_at: dict[str, list[tuple[str, Device]]] = {}
    for device in circuit.devices:
        for end in device.ends or ():
            lines_at.setdefault(end[0], []).append((end[1], device))
    hosted: dict[str, list[Device]] = {}
    for device in circuit.devices:
        if device.host is not None:
            hosted.setdefault(device.host[0], []).append(device)
    small = frozenset(_small(circuit, lines_at, hosted))
    tees = {
        device.name for device in circuit.devices
        if device.kind.symbol is not None and device.kind.symbol.joint and device.name not in hosted
        and device.host is None and len(lines_at.get(device.name, ())) > 1
        and not any(key[0] == device.name for key in circuit.plugged)
    }
    while True:
        whole = Whole(circuit, Parts([], [], {}), small, frozenset(tees))
        whole.parts = _Builder(whole, None, {}).build()
        loose = {tee for wire in whole.parts.wires if len(wire.slots) < 2 for tee in wire.tees}
        if not loose:
            return whole
        tees -= loose


def within(whole: Whole, names: frozenset[str], numbers: Mapping[int, int], holes: bool = True) -> Parts:
    """What one band holds. names: of its devices and tees. numbers: of the flags, by the number of the run they cut.

    holes: whether every line of a port begins at a hole of its own, where the symbol has room for them.
    """
    return _Builder(whole, names, numbers, holes).build()


def _small(
    circuit: Circuit, lines_at: dict[str, list[tuple[str, Device]]], hosted: dict[str, list[Device]]
) -> set[str]:
    """Parts drawn on their host: small by kind, nothing else joined to them, and the host no line's part itself."""
    found = {
        device.name for device in circuit.devices
        if device.kind.small and device.host is not None and device.name not in lines_at and device.name not in hosted
    }
    return {name for name in found if (host := circuit.by_name[name].host) is not None and host[0] not in found}


class _Builder:
    """One reading of the circuit. names: what is to be drawn, or None for everything."""

    def __init__(self, whole: Whole, names: frozenset[str] | None, numbers: Mapping[int, int],
                 holes: bool = True) -> None:
        self.holes = holes
        self.whole, self.circuit, self.names, self.numbers = whole, whole.circuit, names, numbers
        self.bodies: dict[str, Body] = {}
        self.slots: dict[tuple[str, ...], Slot] = {}
        self.parent: dict[object, object] = {}
        self.lines: dict[PortKey, int] = {}
        for device in self.circuit.devices:
            for key in device.ends or ((device.host,) if device.host and device.name not in whole.small else ()):
                self.lines[key] = self.lines.get(key, 0) + 1

    def build(self) -> Parts:
        circuit, whole = self.circuit, self.whole
        order = {name: place for place, name in enumerate(circuit.vehicles)}
        for device in circuit.devices:
            if device.is_line or device.name in whole.small or device.name in whole.tees or not self._has(device.name):
                continue
            self.bodies[device.name] = Body(
                device, symbol_of(device), name=own_name(circuit, device.name), notes=figures(device),
                vehicle=order.get(vehicle_of(circuit, device), 0), stage=whole.stage.get(device.name, 0.0))
        runs = self._runs()
        self._small_parts()
        tees = {name: circuit.by_name[name] for name in sorted(whole.tees) if self._has(name)}
        return Parts(list(self.bodies.values()), self._wires(runs), tees)

    def _has(self, name: str) -> bool:
        return self.names is None or name in self.names

    # --- lines -----------------------------------------------------------------------------------------------------

    def _runs(self) -> list[Run]:
        circuit = self.circuit
        found: list[Run] = []
        number = 0
        for device in circuit.devices:
            if device.ends is not None:
                keys = device.ends
            elif device.host is not None and device.name not in self.whole.small:
                keys = (device.host, (device.name, device.kind.ports[0].number))
            else:
                continue
            self._run(found, number, device if device.is_line else None, keys, device.name)
            number += 1
        vehicles = list(circuit.vehicles)
        for coupling in circuit.couplings:
            front, rear = sorted(coupling.ends, key=lambda name: vehicles.index(vehicle_of(circuit, circuit.by_name[name])))
            first, second = ((name, circuit.by_name[name].kind.ports[0].number) for name in (front, rear))
            self._run(found, number, None, ((front, FACING), (rear, FACING)), "", (first, second))
            number += 1
        return found

    def _run(self, found: list[Run], number: int, line: Device | None, keys: tuple[PortKey, PortKey], own: str,
             ports: tuple[PortKey, PortKey] | None = None) -> None:
        """A run with at least one end here. ports: those of two heads that are coupled, whose places are their faces."""
        here = [self._has(key[0]) for key in keys]
        if not any(here):
            return
        ends = [self._place(key, own) if inside else None for key, inside in zip(keys, here)]
        for place in (0, 1):
            if ends[place] is None:
                ends[place] = self._flag(number, keys[1 - place], keys[place], leaves=self._forward(number) == (place == 1))
        start, end = ends
        assert start is not None and end is not None
        found.append(Run(line, start, end, ports or keys, couples=ports is not None, number=number,
                         role=self.whole.roles.get(number, "supply"), flow=self.whole.flows.get(number, 0)))

    def _forward(self, number: int) -> bool:
        return self.whole.forward.get(number, True)

    def _place(self, key: PortKey, line: str) -> Slot | str:
        name, port = key
        if name in self.whole.tees:
            self.parent.setdefault(name, name)
            return name
        body = self.bodies[name]
        grows = body.symbol.grows == port
        several = self.holes and not grows and self.lines.get(key, 0) > 1
        hole = port if several and _has_room(body.symbol, port, self.lines[key]) else ""
        own = (name, port, line) if grows or hole else (name, port)
        if own not in self.slots:
            slot = self.slots[own] = Slot(body, port, grows=grows, free=bool(grows or hole or port in body.symbol.equal),
                                          hole=hole)
            body.slots.append(slot)
            self.parent[slot] = slot
        return self.slots[own]

    def _flag(self, run: int, near: PortKey, far: PortKey, leaves: bool) -> Slot:
        """The body that stands for the rest of a line."""
        circuit = self.circuit
        device = circuit.by_name[near[0]]
        vehicle = vehicle_of(circuit, device)
        flag = Flag(self.numbers.get(run, 88), at(circuit, far, vehicle), near, leaves)
        words = f"{flag.number} {flag.to}" + (_ROOM_FOR_PLACE if self.whole.sheets else "")
        wide = 2 * int(width(words, LETTER, True) / 20 + 1.45)
        stand_in = Device(f"flag {run} {near[0]}", _FLAG, {}, {}, device.span)
        symbol = Symbol(wide, FLAG_HIGH, {"1": (0 if leaves else wide, 1)}, body="none")
        body = Body(stand_in, symbol, name=words, flag=flag)
        if near[0] in self.bodies:
            body.vehicle = self.bodies[near[0]].vehicle
        self.bodies[stand_in.name] = body
        slot = Slot(body, "1")
        body.slots.append(slot)
        self.parent[slot] = slot
        return slot

    def _wires(self, runs: list[Run]) -> list[Wire]:
        for run in runs:
            one, other = self._root(run.start), self._root(run.end)
            if one is not other:
                self.parent[one] = other
        wires: dict[int, Wire] = {}
        for run in runs:
            top = self._root(run.start)
            wire = wires.setdefault(id(top), Wire(len(wires), circuit=self.whole.circuits.get(run.number, 0)))
            wire.runs.append(run)
            for end in (run.start, run.end):
                if isinstance(end, Slot) and end.wire is None:
                    end.wire = wire
                    wire.slots.append(end)
                elif isinstance(end, str) and end not in wire.tees:
                    wire.tees.append(end)
        return list(wires.values())

    def _root(self, key: object) -> object:
        while self.parent[key] is not key:
            key = self.parent[key]
        return key

    # --- small parts -----------------------------------------------------------------------------------------------

    def _small_parts(self) -> None:
        circuit = self.circuit
        for device in circuit.devices:
            if device.name not in self.whole.small or device.host is None:
                continue
            host = self.bodies.get(device.host[0])
            if host is None:
                continue
            several = len([p for p in host.device.kind.ports if p.role is not Role.EXHAUST]) > 1
            symbol = symbol_of(device)
            own = symbol.ports.get(device.kind.ports[0].number, (0, symbol.height))
            host.smalls.append(Small(device, symbol, own[1] == 0, own_name(circuit, device.name),
                                     port=device.host[1] if several else ""))


def _has_room(symbol: Symbol, port: str, holes: int) -> bool:
    """Whether there is room on a symbol's side for all holes of a port, one U from each other."""
    x, y = symbol.ports.get(port, (-1, 0))
    if x not in (0, symbol.width) or port in symbol.equal:
        return False
    first = y - (holes - 1) // 2
    others = [b for number, (a, b) in symbol.ports.items() if a == x and number != port]
    return first >= 1 and first + holes - 1 < symbol.height and all(
        b + 2 <= first or first + holes + 1 <= b for b in others)
