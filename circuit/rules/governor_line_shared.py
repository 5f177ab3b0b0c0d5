"""The governor's sense line also feeds a user of air.

Why
---
The governor should see the pressure that is stored. A user on its thin line pulls that pressure down whenever it takes
air.

What happens
------------
The compressor cuts in and out with every use, though the reservoirs are full.

What is not checked
-------------------
How much the user takes.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    governor gov: cut-in 104 psi, cut-out 125 psi
    tee gov-tee
    tube wet -> gov-tee: size 1/4 in, length 0.5 m
    tube gov-tee -> gov.1: size 1/4 in, length 0.2 m
    consumer horn: use "horn", volume 0.1 L
    tube gov-tee -> horn: size 1/4 in, length 3 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    governor gov: cut-in 104 psi, cut-out 125 psi
    tube wet -> gov.1: size 1/4 in, length 0.5 m
    consumer horn: use "horn", volume 0.1 L
    tube wet -> horn: size 1/4 in, length 3 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device

_STORED = (Trait.STORES_AIR, Trait.COMPRESSES, Trait.DRIES)


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for governor in circuit.having(Trait.GOVERNS):
        if governor.has(Trait.DRIES):
            continue
        user = _user(circuit, governor)
        if user is not None:
            yield not_met(governor.name, governor.span,
                        f"{user.name} takes its air from the line that {governor.name} senses",
                        f"give {governor.name} a line of its own from the reservoir", also=((user.span, "the user"),))
        else:
            yield met(governor.name, governor.span, f"{governor.name} has a sense line of its own")


def _user(circuit: Circuit, governor: Device) -> Device | None:
    """The first user of air on the lines between a governor and what stores, dries or makes the air."""
    port = governor.kind.port("sense")
    assert port is not None
    todo = [circuit.space_of(governor, port.number)]
    seen = set(todo)
    for here in todo:
        if any(circuit.on_space(here, trait) for trait in _STORED):
            continue
        users = circuit.on_space(here, Trait.USES_AIR)
        if users:
            return users[0]
        for way in circuit.ways_at[here]:
            there = way.end if way.start == here else way.start
            if way.device.is_line and there not in seen and there != SPACE_OUTSIDE:
                seen.add(there)
                todo.append(there)
    return None


RULE = Rule("governor-line-shared", "the governor has a sense line of its own", "warning", check)
