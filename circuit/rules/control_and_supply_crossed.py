"""A relay valve's control and supply lines are crossed.

Why
---
A relay wants stored air at 1 at all times, and the signal at 4 only while braking. Crossed, the stored air is a signal
that never ends, and the thin signal line is all the air there is.

What happens
------------
The relay sees a full signal at all times and is fed only through the thin signal line: its brakes come on slowly,
weakly or not at all when the pedal is pressed.

What is not checked
-------------------
Whether the supply line is wide enough.

Bad
---
    reservoir dry: volume 46 L, rated 10 bar, role service
    compressor pump: displacement 12 cfm
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    relay-valve relay
    tube dry -> foot.1: size 1/2 in, length 5 m
    tube dry -> relay.4: size 1/2 in, length 1 m
    tube foot.2 -> relay.1: size 3/8 in, length 7 m

Good
----
    reservoir dry: volume 46 L, rated 10 bar, role service
    compressor pump: displacement 12 cfm
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    relay-valve relay
    tube dry -> foot.1: size 1/2 in, length 5 m
    tube dry -> relay.1: size 1/2 in, length 1 m
    tube foot.2 -> relay.4: size 3/8 in, length 7 m
"""

from collections.abc import Iterator, Mapping
from functools import reduce

from circuit.declaring.traits import Trait
from circuit.judging.causes import exchange, rows
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Mend, Rule, met, not_met
from circuit.model.air import path
from circuit.model.devices import PortKey
from circuit.source import Span


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for relay in circuit.having(Trait.REPEATS_CONTROL):
        signalled = relay.kind.port("control")
        assert signalled is not None
        four = signalled.number
        supply, control = (relay.name, "1"), (relay.name, four)
        steady, signal = circuit.space[supply], circuit.space[control]
        stored = any(circuit.store(tank) in evidence.zone(signal) for tank in circuit.reservoirs)
        if evidence.driving.is_charged(signal) and (stored or not evidence.driving.is_charged(steady)):
            lines = [(d.span, f"the line on port {key[1]}") for key in (supply, control) for d in circuit.devices
                     if d.ends and key in d.ends]
            place = lines[0][0] if lines else relay.span
            yield not_met(relay.name, place,
                        f"the control and supply of {relay.name} are crossed: stored air is on {four} and the signal "
                        "on 1",
                        f"exchange the lines on {relay.name}.1 and {relay.name}.{four}",
                        also=(*lines[1:], (relay.span, "the relay"), *_stored(evidence, signal)),
                        mend=_put_right(evidence, supply, control) if evidence.driving.is_charged(steady)
                        else exchange(supply, control))
        elif evidence.driving.is_charged(steady):
            yield met(relay.name, relay.span, f"{relay.name} has stored air on 1 and a signal on {four}")


def _stored(evidence: Evidence, signal: int) -> tuple[tuple[Span, str], ...]:
    """How stored air comes to the signal."""
    circuit = evidence.circuit
    ways = (path(evidence.driving, circuit.store(tank), signal) for tank in circuit.reservoirs)
    return rows(min((way for way in ways if way), key=len, default=()), "stored air comes this way", 4)


def _put_right(evidence: Evidence, supply: PortKey, control: PortKey) -> Mend:
    """The line from a reservoir taken off the control port, and the one that has air in braking alone put there."""
    circuit = evidence.circuit
    moves: list[tuple[PortKey, PortKey]] = []
    for line in circuit.devices:
        for number, end in zip(("1", "2"), line.ends or ()):
            if end in (supply, control):
                apart = Evidence(circuit.apart((line.name, number)))
                space = circuit.space[line.name, "2" if number == "1" else "1"]
                if apart.driving.is_charged(space) is (end == control):
                    moves.append(((line.name, number), supply if end == control else control))
    return lambda c: reduce(lambda done, one: done.moved(*one), moves, c)


RULE = Rule("control-and-supply-crossed", "relays have stored air on 1 and the signal on 4", "error", check)
