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

from circuit.declaring.traits import Trait
from circuit.judging.causes import MOST_MENDS, join, open_cock, rows, stopping, stops_at, upstream
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.devices import Device
from circuit.source import Span
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not circuit.reservoirs:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no reservoir is written",
                        "the reservoirs and what fills them")
    filled = [tank for tank in circuit.reservoirs if evidence.filling.is_charged(circuit.store(tank))]
    for tank in circuit.reservoirs:
        if tank in filled:
            level = evidence.filling.level[circuit.store(tank)]
            yield met(tank.name, tank.span, f"{tank.name} is predicted to fill, to at most {shown(level, 'pressure')}")
            continue
        cause = stops_at(evidence.filling, circuit.store(tank))
        stops = f": it stops at {stopping(cause)}" if cause is not None else ""
        guesses = (open_cock(cause),) if cause is not None and cause.has(Trait.SHUTS_BY_HAND) else \
            tuple(join((tank.name, "1"), (other.name, "1")) for other in filled[:MOST_MENDS])
        yield not_met(tank.name, tank.span, f"no air comes to {tank.name} while the vehicle is driven{stops}",
                    "follow its feed line back to the source, and see which way each valve passes air",
                      also=_way(evidence, tank), guesses=guesses)


def _way(evidence: Evidence, tank: Device) -> tuple[tuple[Span, str], ...]:
    """The parts by which air should come to it, the nearest first."""
    ways = (way for way, _ in upstream(evidence.circuit, evidence.circuit.store(tank)))
    return rows(ways, "its air should come this way", 3)


RULE = Rule("reservoir-not-filled", "every reservoir is filled", "error", check)
