"""A cock that a hand shuts stands in the line to a coupling head.

Why
---
A head may shut by itself when nothing is coupled to it. A cock that has to be remembered is forgotten: shut, the
trailer has no brakes; open on the last vehicle, it lets the air out. Some countries forbid it, others live with it.

What happens
------------
A cock left shut lets a trailer be driven without brakes.

What is not checked
-------------------
Whether the cock is locked open.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head yellow: line control
    cut-out-cock cock: state open
    tube red -> cock.1: size 12x1.5, length 1 m
    check-valve guard
    tube cock.2 -> guard.1: size 12x1.5, length 8 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head yellow: line control
    check-valve guard
    tube red -> guard.1: size 12x1.5, length 9 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not circuit.tows and not circuit.is_towed:
        yield met(circuit.vehicle.name, circuit.vehicle.span,
                  f"{circuit.vehicle.name} is not meant to be joined to another")
    cocks: dict[str, list[Device]] = {}
    for head in circuit.having(Trait.COUPLES_VEHICLES):
        cock = _cock(circuit, head)
        if cock is not None:
            cocks.setdefault(cock.name, []).append(head)
        else:
            yield met(head.name, head.span, f"no cock stands in the line of {head.name}")
    for name, heads in cocks.items():
        yield not_met(name, circuit.by_name[name].span,
                    f"{name} must be shut and opened by hand in the line of {listed(head.name for head in heads)}",
                    "take it out, and use a head that seals by itself",
                    also=tuple((head.span, "the coupling head") for head in heads))


def _cock(circuit: Circuit, head: Device) -> Device | None:
    """The first part that a hand shuts on the lines and fittings that begin at a head."""
    todo = [circuit.store(head)]
    seen = set(todo)
    for here in todo:
        for way in circuit.ways_at[here]:
            if way.device.has(Trait.SHUTS_BY_HAND):
                return way.device
            there = way.end if way.start == here else way.start
            if way.passage.opening is None and there not in seen and there != SPACE_OUTSIDE:
                seen.add(there)
                todo.append(there)
    return None


RULE = Rule("cock-in-coupling-line", "no hand-worked cock stands in a coupling's line", "error", check)
