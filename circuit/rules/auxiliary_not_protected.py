"""A user of air that is not a brake can empty the brakes' reservoirs.

Why
---
Horns, seats, doors and suspension bags burst and leak more than brakes do. A protection valve close to the reservoir
shuts before they have taken the brakes' air.

What happens
------------
When this line or bag bursts, it takes the brakes' air with it.

What is not checked
-------------------
How fast a user draws: it is judged as burst, with the solenoid valves without current and with it. How long the
unguarded piece of line before the protection valve is: that piece is still the brakes' own.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
    consumer horn: use "horn"
    tube dry -> horn: size 1/4 in, length 3 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
    consumer horn: use "horn"
    pressure-protection-valve guard: opens-at 85 psi, shuts-at 75 psi
    tube dry -> guard.1: size 1/4 in, length 0.2 m
    tube guard.2 -> horn: size 1/4 in, length 3 m
"""

from collections.abc import Iterator, Mapping

from circuit.kinds.kind import Role, Trait
from circuit.rules.evidence import Evidence
from circuit.rules.rule import Rule, Statement, fault, met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    users = [*circuit.having(Trait.USES_AIR), *circuit.reservoirs_for("auxiliary")]
    brakes = [tank for tank in circuit.reservoirs if tank.settings["role"] in ("service", "parking")
              or tank in evidence.service_reservoirs]
    wet = [tank for tank in circuit.reservoirs if tank.settings["role"] == "supply"]
    for user in users:
        lost = frozenset().union(*(
            at.emptied(circuit.space_of(user, port.number)) for at in (evidence, evidence.energised)
            for port in user.kind.ports if port.role is Role.SPACE))
        taken = [tank for tank in brakes if circuit.store(tank) in lost and tank is not user]
        line = next((d for d in circuit.devices if d.ends and any(end[0] == user.name for end in d.ends)), user)
        if taken:
            yield fault(user.name, line.span, f"a burst at {user.name} empties {' and '.join(t.name for t in taken)}",
                        f"feed {user.name} through a pressure protection valve close to the reservoir",
                        also=((user.span, "the user"), (taken[0].span, "the reservoir it empties")))
        elif any(circuit.store(tank) in lost for tank in wet):
            yield fault(user.name, line.span,
                        f"a burst at {user.name} empties the wet reservoir: the brakes keep what they have and are not "
                        "refilled", f"feed {user.name} through a pressure protection valve", severity="warning",
                        also=((user.span, "the user"),))
        else:
            yield met(user.name, user.span, f"a burst at {user.name} leaves the brakes their air")


RULE = Rule("auxiliary-not-protected", "auxiliary users cannot empty the brakes", "error",
            ("good-practice/auxiliaries-protected",), check)
