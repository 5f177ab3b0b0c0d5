"""A reservoir is not guarded by a safety valve.

Why
---
When a governor sticks or its sense line freezes, the compressor pumps on. Only a safety valve that nothing can shut off
stands between that and a burst shell.

What happens
------------
With the governor stuck the compressor goes on pumping, and this reservoir can be raised above its rating until it bursts.

What is not checked
-------------------
Whether the safety valve can pass as much as the compressor delivers, and whether it still opens.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    safety-valve relief: on wet, opens-at 10 bar
"""

from collections.abc import Iterator, Mapping

from circuit.kinds.kind import Trait
from circuit.rules.evidence import Evidence
from circuit.rules.rule import Rule, Statement, fault, met, undecided


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    for tank in circuit.reservoirs:
        guard = guarded_by(evidence, tank)
        if guard is not None:
            own = circuit.store(tank) in evidence.zone(circuit.store(guard))
            how = "" if own else f", on {evidence.zone_name(circuit.store(guard))}, through which alone it is filled"
            yield met(tank.name, tank.span, f"{tank.name} is guarded by {guard.name}{how}")
        elif circuit.is_towed:
            yield undecided(tank.name, tank.span, f"{tank.name} is filled by the towing vehicle",
                            "the towing vehicle's design, whose safety valve should guard it")
        elif not circuit.having(Trait.RELIEVES):
            yield fault(tank.name, tank.span, f"{tank.name} has no safety valve, and the design has none",
                        f"add one: safety-valve {tank.name}-relief: on {tank.name}, opens-at "
                        f"{(tank.settings['rated'] - 101325) / 1e5:.3g} bar")
        else:
            others = circuit.having(Trait.RELIEVES)
            yield fault(tank.name, tank.span,
                        f"no safety valve guards {tank.name}: air can reach it without passing one, or something "
                        "between can shut",
                        f"put a safety valve on {tank.name}, or on the one space that feeds it",
                        also=tuple((valve.span, "a safety valve that does not guard it") for valve in others[:2]))


def guarded_by(evidence: Evidence, tank):  # type: ignore[no-untyped-def]
    """The safety valve that guards a reservoir, or None.

    It stands in the reservoir's own always-open surroundings, or air from outside cannot reach the reservoir by any
    valve position when the valve's surroundings are taken away.
    """
    circuit = evidence.circuit
    store = circuit.store(tank)
    valves = circuit.having(Trait.RELIEVES)
    for valve in valves:
        if store in evidence.zone(circuit.store(valve)):
            return valve
    for valve in valves:
        zone = evidence.zone(circuit.store(valve))
        if zone & evidence.could_reach(frozenset()) and store not in evidence.could_reach(zone):
            return valve
    return None


RULE = Rule("reservoir-without-safety-valve", "every reservoir is guarded by a safety valve", "error",
            ("good-practice/safety-valve", "good-practice/safety-valve-on-tow"), check)
