"""No air comes to a reservoir.

Why
---
A reservoir that nothing feeds is dead weight, and whatever it should feed has nothing.

What happens
------------
The reservoir stays empty, and its brakes or users with it.

What is not checked
-------------------
How long filling takes.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
"""

from collections.abc import Iterator, Mapping

from circuit.rules.evidence import Evidence
from circuit.rules.rule import Rule, Statement, fault, met
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    for tank in circuit.reservoirs:
        level = evidence.filling.level.get(circuit.store(tank), 101325.0)
        if evidence.filling.is_charged(circuit.store(tank)):
            yield met(tank.name, tank.span, f"{tank.name} is predicted to fill to {shown(level, 'pressure')}")
        else:
            yield fault(tank.name, tank.span, f"no air comes to {tank.name} while the vehicle is driven",
                        "follow its feed line back to the source, and see which way each valve passes air")


RULE = Rule("reservoir-not-filled", "every reservoir is filled", "error", ("good-practice/reservoirs-fill",), check)
