"""Pressures cannot be measured where they have to be.

Why
---
Whoever tests the brakes joins a gauge: to each circuit's brakes, before and behind a load-sensing valve, to the
reservoir, and on a trailer behind the control coupling. Without a connection lines have to be opened.

What happens
------------
Response, load setting and storage cannot be tested without taking the circuit apart.

What is not checked
-------------------
Whether the connection can be reached, its thread, and whether it sits at the least favourable brake.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 12x1.5, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 12x1.5, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 16 mm, length 3 m
    test-point dry-test: on dry
    foot-valve foot
    tube dry -> foot.1: size 12x1.5, length 5 m
    tee at-brake
    test-point brake-test: on at-brake
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> at-brake: size 12x1.5, length 2 m
    tube at-brake -> left: size 12x1.5, length 0.5 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.judging.storage import filled


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    vehicle = circuit.vehicle
    points = {circuit.store(point): point for point in circuit.having(Trait.TESTS_PRESSURE)}

    def seen(spaces: frozenset[int]) -> bool:
        return any(space in spaces for space in points)

    if not evidence.stores:
        yield undecided(vehicle.name, vehicle.span, "no reservoir that feeds a brake is written",
                        "the service reservoirs and what they feed")
    for group in evidence.stores:
        names = listed(tank.name for tank in group)
        goals = {circuit.service_space(c) for tank in group for c in evidence.served[tank.name]}
        brakes = evidence.braking.leading_to(goals, filled(evidence, group, evidence.braking, evidence.driving))
        wanting = [what for what, spaces in ((f"the reservoir {names}", evidence.zone(circuit.store(group[0]))),
                                             (f"the brakes fed from {names}", brakes)) if not seen(spaces)]
        if wanting:
            yield not_met(group[0].name, group[0].span, f"no test connection shows {' nor '.join(wanting)}",
                        "add a test-point there")
        else:
            yield met(group[0].name, group[0].span, f"reservoir and brakes of {names} have test connections")
    for valve in circuit.having(Trait.SENSES_LOAD):
        # What commands it: its control port, or its supply where it has none.
        entry = next((p.number for p in valve.kind.ports if p.number == "4"), "1")
        lacking = [word for word, number in (("before", entry), ("behind", "2"))
                   if not seen(evidence.zone(circuit.space_of(valve, number)))]
        if lacking:
            yield not_met(valve.name, valve.span, f"no test connection sits {' and '.join(lacking)} {valve.name}",
                        "add a test-point there")
        else:
            yield met(valve.name, valve.span, f"test connections sit before and behind {valve.name}")
    if circuit.is_towed:
        for head in circuit.having(Trait.COUPLES_VEHICLES):
            if head.settings["line"] == "control" and head.settings["end"] == "front":
                if seen(evidence.zone(circuit.store(head))):
                    yield met(head.name, head.span, f"a test connection sits behind {head.name}")
                else:
                    yield not_met(head.name, head.span, f"no test connection sits behind {head.name}",
                                "add a test-point there")


RULE = Rule("no-test-connection", "pressures can be measured where they have to be", "warning", check, missing=True)
