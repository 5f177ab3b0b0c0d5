"""A trailer's spring valve fills the reservoirs from its spring port and feeds the springs from its reservoir port.

Why
---
The valve lets the springs on by emptying its spring port when the supply line is lost, and keeps what is behind its
reservoir port. With the two exchanged it does both to the wrong one.

What happens
------------
When the trailer breaks away its reservoirs are emptied and its springs stay off: nothing brakes it.

What is not checked
-------------------
Valves whose two ports lead to neither springs nor reservoirs.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    spring-chamber left: type 30/30, stroke 2.5 in, axle front, side left
    trailer-spring-brake-valve springs: deliveries 1
    reservoir tank: volume 40 L, rated 10 bar, role service
    tube red -> springs.1: size 1/2 in, length 9 m
    tube springs.22 -> tank: size 1/2 in, length 1 m
    hose springs.21 -> left.12: bore 3/8 in, length 1 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    spring-chamber left: type 30/30, stroke 2.5 in, axle front, side left
    trailer-spring-brake-valve springs: deliveries 1
    reservoir tank: volume 40 L, rated 10 bar, role service
    tube red -> springs.1: size 1/2 in, length 9 m
    tube springs.21 -> tank: size 1/2 in, length 1 m
    hose springs.22 -> left.12: bore 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping
from functools import reduce

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Mend, Rule, met, not_met
from circuit.model.devices import PortKey


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    springs = {circuit.spring_space(chamber) for chamber in evidence.springs}
    stores = {circuit.store(tank) for tank in circuit.reservoirs}
    for valve in circuit.having(Trait.TRAILER_SUPPLY):
        filling, holding = valve.kind.port("reservoir"), valve.kind.port("spring")
        assert filling is not None and holding is not None
        keys = (valve.name, filling.number), (valve.name, holding.number)
        ahead = frozenset({circuit.space_of(valve, "1")})
        behind = [evidence.driving.fed_by(circuit.space[key], ahead) for key in keys]
        if stores & evidence.zone(circuit.space[keys[1]]) and springs & behind[0]:
            lines = [(d.span, f"this line is on port {key[1]}") for key in reversed(keys) for d in circuit.devices
                     if d.ends and key in d.ends]
            yield not_met(valve.name, lines[0][0] if lines else valve.span,
                        f"reservoirs and springs are crossed at {valve.name}: its spring port {holding.number} fills a "
                        f"reservoir and its reservoir port {filling.number} feeds springs",
                        f"exchange the lines on {valve.name}.{filling.number} and {valve.name}.{holding.number}",
                        also=(*lines[1:], (valve.span, valve.kind.title.lower())),
                        mend=_put_right(evidence, keys[0], keys[1], stores))
        elif stores & behind[0] and springs & behind[1]:
            yield met(valve.name, valve.span, f"{valve.name} fills reservoirs and feeds springs from the ports for it")


def _put_right(evidence: Evidence, filling: PortKey, holding: PortKey, stores: set[int]) -> Mend:
    """Each line taken to the port for what it leads to; lines that lead to neither stay."""
    circuit = evidence.circuit
    moves = []
    for line in circuit.devices:
        for number, end in zip(("1", "2"), line.ends or ()):
            if end in (filling, holding):
                apart = Evidence(circuit.apart((line.name, number)))
                tanks = stores & apart.zone(circuit.space[line.name, "2" if number == "1" else "1"])
                if bool(tanks) is (end == holding):
                    moves.append(((line.name, number), filling if tanks else holding))
    return lambda c: reduce(lambda done, one: done.moved(*one), moves, c)


RULE = Rule("reservoir-and-springs-crossed",
            "a trailer's spring valve has reservoirs and springs on their own ports", "error", check)
