"""Two check valves stand one behind the other with nothing between them.

Why
---
One check valve keeps the air; a second in the same line only takes pressure, and hides that the first leaks.

What happens
------------
The reservoir behind them fills a little less and later, and a leaking check valve is found by no test.

What is not checked
-------------------
Check valves inside other valves.

Bad
---
    check-valve one
    check-valve other
    tube one.2 -> other.1: size 1/2 in, length 1 m

Good
----
    check-valve one
    reservoir dry: volume 46 L, rated 10 bar, role service
    tube one.2 -> dry: size 1/2 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.circuit import Circuit
from circuit.model.devices import Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    valves = [valve for valve in circuit.having(Trait.ONE_WAY)
              if len(valve.kind.passages) == 1 and not valve.kind.passages[0].both_ways]
    for second in valves:
        first = next((one for one in valves if one is not second and _only(evidence, circuit, one, second)), None)
        if first is None:
            yield met(second.name, second.span, f"{second.name} has no other check valve straight ahead of it")
        else:
            yield not_met(second.name, second.span, f"{second.name} stands straight behind {first.name}, another check valve",
                          "take one of the two out", also=((first.span, "the one ahead of it"),))


def _only(evidence: Evidence, circuit: Circuit, first: Device, second: Device) -> bool:
    """Whether all that comes out of one goes into the other, past nothing but lines and joints."""
    between = evidence.zone(circuit.space_of(first, "2"))
    return circuit.space_of(second, "1") in between and all(
        device in (first, second) or device.is_line or device.has(Trait.JOINS)
        for space in between for device in circuit.on_space(space))


RULE = Rule("checks-in-series", "no check valve stands straight behind another", "note", check)
