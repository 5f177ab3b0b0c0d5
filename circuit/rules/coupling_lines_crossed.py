"""A trailer's supply and control lines are crossed between the couplings and its valves.

Why
---
The two heads stand side by side and their tubes run together to the rear. Crossed, the supply line becomes the signal.

What happens
------------
The springs are never held off while the trailer is coupled and released, and the pedal does not work its service
brakes.

What is not checked
-------------------
Heads that a user crosses in the yard: keyed or coloured heads prevent that.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head blue: line control
    trailer-spring-brake-valve springs
    relay-valve relay
    tube red -> relay.4: size 1/2 in, length 9 m
    tube blue -> springs.1: size 1/2 in, length 9 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head blue: line control
    trailer-spring-brake-valve springs
    relay-valve relay
    tube red -> springs.1: size 1/2 in, length 9 m
    tube blue -> relay.4: size 1/2 in, length 9 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import exchange
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    heads = [head for head in circuit.having(Trait.COUPLES_VEHICLES) if head.settings["end"] == "front"]
    supplies = [h for h in heads if h.settings["line"] == "supply"]
    controls = [h for h in heads if h.settings["line"] == "control"]
    takers = [(valve, "1") for valve in circuit.having(Trait.TAKES_SUPPLY_LINE)]
    relays = [(relay, port.number) for relay in circuit.having(Trait.REPEATS_CONTROL)
              if (port := relay.kind.port("control")) is not None]
    for supply in supplies:
        for control in controls:
            from_supply = evidence.zone(circuit.store(supply))
            from_control = evidence.zone(circuit.store(control))
            wrong_valve = [v for v, port in takers if circuit.space_of(v, port) in from_control]
            wrong_relay = [(r, port) for r, port in relays if circuit.space_of(r, port) in from_supply]
            if wrong_valve and wrong_relay:
                valve, (relay, four) = wrong_valve[0], wrong_relay[0]
                keys = (valve.name, "1"), (relay.name, four)
                lines = [(d.span, f"this line comes to {key[0]}.{key[1]}") for key in keys for d in circuit.devices
                         if d.ends and key in d.ends]
                yield not_met(valve.name, lines[0][0] if lines else valve.span,
                            f"supply and control are crossed: {supply.name} leads to {relay.name}.{four} and "
                            f"{control.name} to {valve.name}.1",
                            f"exchange the lines on {valve.name}.1 and {relay.name}.{four}",
                            also=(*lines[1:], (supply.span, "the supply head"), (control.span, "the control head")),
                            mend=exchange(*keys))
            elif any(circuit.space_of(v, port) in from_supply for v, port in takers):
                yield met(supply.name, supply.span, f"{supply.name} and {control.name} lead where they should")


RULE = Rule("coupling-lines-crossed", "supply and control lines are not crossed", "error", check)
