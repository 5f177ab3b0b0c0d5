"""What a design with mistakes might mean: as it is understood, and otherwise wherever something is not.

What comes out alike in all readings does not hang on the mistakes, as far as these tell. One has every place at which something
unknown may be joined together and fed, and other values of what is not understood; one has these places open to the air.
"""

from collections.abc import Iterator
from dataclasses import replace

from circuit.declaring.kind import OUTSIDE, Kind, Passage, Port
from circuit.declaring.traits import Group, Role
from circuit.model.circuit import CLASSES, TOWED, Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey
from circuit.model.unknown import Unknown, varied

STAND_IN = "what is not understood"
"""The name of a part that stands where something unknown may be."""

_FED = Kind(name="fed", title="Unknown feed", group=Group.LINES, purpose="Stands for air from nobody knows where.",
            behaviour="Always full.", ports=(Port("1", Role.SPACE, holes=0),), feeds=lambda settings, situation: ("1",))
_OPEN = Kind(name="open", title="Unknown opening", group=Group.LINES, purpose="Stands for a way out that nobody knows.",
             behaviour="Always open.", ports=(Port("1", Role.SPACE, holes=0),),
             passages=(Passage("1", OUTSIDE, "always open", throat="hole"),))


def others(circuit: Circuit, unknown: Unknown, empty: frozenset[int]) -> Iterator[Circuit]:
    """The readings of a circuit beside the one that it is; none where no mistake touches more than what a part is by itself.

    empty: spaces that no air comes to as it is; what is lost may be their feed.
    """
    ports = touched(circuit, unknown)
    fed = (*ports, *(circuit.ports_of[index][0] for index in sorted(empty))) if unknown.lost else ports
    if any(unknown.values.values()) or fed or unknown.is_class_lost:
        yield _classed(_joined(_varied(circuit, unknown), fed), unknown)
    if ports:
        yield _opened(circuit, ports)


def touched(circuit: Circuit, unknown: Unknown) -> tuple[PortKey, ...]:
    """The ports at which something may be joined that is not understood: those that are named, and with rows of which nothing
    is known every port that nothing is joined to."""
    named = {port for port in unknown.ports if port in circuit.space}
    if unknown.lost:
        named |= {(device.name, port.number) for device, port in circuit.ports()
                  if port.required and not circuit.used.get((device.name, port.number))
                  and (device.name, port.number) not in circuit.plugged and device.host is None}
    return tuple(sorted(port for port in named if circuit.space[port] != SPACE_OUTSIDE))


def _varied(circuit: Circuit, unknown: Unknown) -> Circuit:
    return replace(circuit, devices=tuple(
        device._replace(settings=varied(device.kind, dict(device.settings), unknown.values[device.name]))
        if unknown.values.get(device.name) else device for device in circuit.devices))


def _classed(circuit: Circuit, unknown: Unknown) -> Circuit:
    if not unknown.is_class_lost:
        return circuit
    other = TOWED[0] if circuit.vehicle.vehicle_class in CLASSES and not circuit.is_towed else CLASSES[0]
    return replace(circuit, vehicle=circuit.vehicle._replace(vehicle_class=other))


def _used(circuit: Circuit, ports: tuple[PortKey, ...]) -> dict[PortKey, int]:
    return {**circuit.used, **{port: circuit.used.get(port, 0) + 1 for port in ports}}


def _joined(circuit: Circuit, ports: tuple[PortKey, ...]) -> Circuit:
    """All of these ports one space, and fed."""
    if not ports:
        return circuit
    spaces = {circuit.space[port] for port in ports}
    one = min(spaces)
    space = {port: one if index in spaces else index for port, index in circuit.space.items()}
    fed = Device(STAND_IN, _FED, {}, {}, circuit.vehicle.span)
    return replace(circuit, devices=(*circuit.devices, fed), space={**space, (STAND_IN, "1"): one}, used=_used(circuit, ports))


def _opened(circuit: Circuit, ports: tuple[PortKey, ...]) -> Circuit:
    """Each of these ports open to the air."""
    spaces = sorted({circuit.space[port] for port in ports})
    holes = tuple(Device(f"{STAND_IN} {number}", _OPEN, {}, {}, circuit.vehicle.span) for number in range(len(spaces)))
    space = {(hole.name, "1"): index for hole, index in zip(holes, spaces)}
    return replace(circuit, devices=(*circuit.devices, *holes), space={**circuit.space, **space}, used=_used(circuit, ports))
