"""A port is neither joined nor plugged.

Why
---
A hole without a line or a plug is a steady leak, or a line that was forgotten.

What happens
------------
Air leaks out of it, or whatever should be joined to it does nothing.

What is not checked
-------------------
Ports that this design does not mention at all, such as spare bosses of a reservoir without `holes`.

Bad
---
    relay-valve relay

Good
----
    relay-valve relay: deliveries 1
    plug relay.1 and relay.2 and relay.4
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.kind import Port
from circuit.declaring.traits import Role
from circuit.judging.causes import join
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.devices import Device, PortKey

MOST_MENDS = 12
"""How many lines are tried for an open port."""


_GIVES = (Role.DELIVERY, Role.SPACE)
_TAKES = (Role.SUPPLY, Role.CONTROL, Role.SPACE)


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    whole = 0
    open_ports: list[tuple[Device, Port]] = []
    for device, port in circuit.ports():
        if port.role is Role.EXHAUST:
            continue
        used, holes = circuit.used.get((device.name, port.number), 0), circuit.holes(device, port)
        if (used == 0 and port.required) or 0 < used < holes:
            open_ports.append((device, port))
        else:
            whole += 1
    for device, port in sorted(open_ports, key=lambda each: circuit.used.get((each[0].name, each[1].number), 0) > 0):
        others = [(d, p) for d, p in open_ports if d is not device and _goes_with(port, p)]
        yield _open(evidence, device, port, others)
    if whole:
        yield met("ports", circuit.vehicle.span, f"{whole} ports are joined or plugged")


def _open(evidence: Evidence, device: Device, port: Port, others: list[tuple[Device, Port]]) -> Answer:
    circuit = evidence.circuit
    key = (device.name, port.number)
    end = _end(device, port)
    word = f" ({port.words[0]})" if port.words else ""
    ends = [(d.name, p.number) for d, p in others] or _feeds(evidence, device, port)
    mends = tuple(join(key, other) for other in ends[:MOST_MENDS])
    hint = f", perhaps to {_end(*others[0])}, which is open too" if len(others) == 1 else ""
    used, holes = circuit.used.get(key, 0), circuit.holes(device, port)
    if used == 0:
        return not_met(end, device.span.outermost, f"{end}{word} is joined to nothing",
                     f"join a line to {end}{hint}, or write plug {end}", mends=mends)
    left = holes - used
    return not_met(end, device.span.outermost,
                 f"{end}{word} has {holes} holes and {left} of them {'is' if left == 1 else 'are'} open",
                 f"join a line{hint}, write plug {end}"
                 + (f", or write {port.holes_from} {used}" if port.holes_from else ""),
                 mends=mends)


def _end(device: Device, port: Port) -> str:
    return device.name if device.kind.only_port or port.role is Role.SPACE and len(device.kind.ports) == 1 \
        else f"{device.name}.{port.number}"


def _goes_with(one: Port, other: Port) -> bool:
    """Whether a forgotten line could have joined two open ports."""
    return (one.role in _GIVES and other.role in _TAKES) or (one.role in _TAKES and other.role in _GIVES)


def _feeds(evidence: Evidence, device: Device, port: Port) -> list[PortKey]:
    """Ports that an open port could be meant for, when no other port is open: what a forgotten line led to."""
    circuit = evidence.circuit
    stored = [(tank.name, "1") for tank in circuit.reservoirs if evidence.filling.is_charged(circuit.store(tank))]
    if port.role is Role.SUPPLY:
        return stored
    if port.role is Role.DELIVERY:
        return [(tank.name, "1") for tank in circuit.reservoirs if (tank.name, "1") not in stored]
    brakes = device in evidence.chambers and port is device.kind.ports[0]
    springs = device in evidence.springs and not brakes
    before, after = (evidence.driving, evidence.parked) if springs else (evidence.braking, evidence.driving)
    signals = [key for index, keys in circuit.ports_of.items() for key in keys[:1]
               if before.is_charged(index) and not after.is_charged(index)]
    return signals + stored if port.role is Role.CONTROL else signals if brakes or springs else []


RULE = Rule("port-open", "every port is joined or plugged", "error", check, missing=True)
