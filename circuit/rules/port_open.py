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

from circuit.kinds.kind import Role
from circuit.rules.evidence import Evidence
from circuit.rules.rule import Rule, Statement, fault, met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    whole = 0
    for device, port in circuit.ports():
        if port.role is Role.EXHAUST:
            continue
        key = (device.name, port.number)
        used, holes = circuit.used.get(key, 0), circuit.holes(device, port)
        end = device.name if device.kind.only_port or port.role is Role.SPACE else f"{device.name}.{port.number}"
        word = f" ({port.words[0]})" if port.words else ""
        place = device.span.outermost
        if used == 0 and port.required:
            yield fault(end, place, f"{end}{word} is joined to nothing", f"join a line to {end}, or write plug {end}")
        elif 0 < used < holes:
            left = holes - used
            yield fault(end, place, f"{end}{word} has {holes} holes and {left} of them {'is' if left == 1 else 'are'} open",
                        f"join a line, write plug {end}" + (f", or write {port.holes_from} {used}" if port.holes_from else ""))
        else:
            whole += 1
    if whole:
        yield met("ports", circuit.vehicle.span, f"{whole} ports are joined or plugged")


RULE = Rule("port-open", "every port is joined or plugged", "error", ("good-practice/every-port",), check)
