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

from collections.abc import Iterable, Iterator, Mapping

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import rows
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.air import path
from circuit.model.devices import Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    users = [*circuit.having(Trait.USES_AIR), *circuit.reservoirs_for("auxiliary")]
    brakes = [tank for tank in circuit.reservoirs if tank.settings["role"] in ("service", "parking")
              or tank in evidence.service_reservoirs]
    wet = [tank for tank in circuit.reservoirs if tank.settings["role"] == "supply"]
    lines: dict[tuple[str, ...], list[Device]] = {}
    for user in users:
        own = {circuit.space_of(user, port.number) for port in user.kind.ports if port.role is Role.SPACE}
        taken = _taken(evidence, own, brakes, user) or _taken(evidence, own, wet, user)
        on_the_way = taken or _taken(evidence, _feeding(evidence, own, [*brakes, *wet]), [*brakes, *wet], user)
        if taken:
            yield _unprotected(evidence, [user], taken, f"a burst at {user.name}", brakes)
        elif on_the_way:
            lines.setdefault(tuple(tank.name for tank in on_the_way), []).append(user)
        else:
            yield met(user.name, user.span, f"a burst at {user.name} leaves the brakes their air")
    for names, fed in lines.items():
        more = f" and {len(fed) - 1} more" if len(fed) > 1 else ""
        taken = [circuit.by_name[name] for name in names]
        yield _unprotected(evidence, fed, taken, f"a burst on the way to {fed[0].name}{more}", brakes)


def _taken(evidence: Evidence, spaces: Iterable[int], tanks: list[Device], user: Device) -> list[Device]:
    """The reservoirs that a hole in one of some spaces empties, with current in the solenoid valves or without."""
    lost = frozenset().union(*(at.emptied(space) for at in (evidence, evidence.energised) for space in spaces))
    return [tank for tank in tanks if evidence.circuit.store(tank) in lost and tank is not user]


def _feeding(evidence: Evidence, goals: set[int], tanks: list[Device]) -> frozenset[int]:
    """The spaces on the way from these reservoirs to a user that neither fill such a one nor are always open to it."""
    stores = [evidence.circuit.store(tank) for tank in tanks]
    own = frozenset().union(*(evidence.zone(store) for store in stores))
    own |= evidence.driving.leading_to(stores, frozenset(evidence.driving.level))
    return frozenset().union(*(
        air.leading_to(goals, frozenset(air.level) - own) for air in (evidence.driving, evidence.energised.driving)))


def _unprotected(
    evidence: Evidence, users: list[Device], taken: list[Device], what: str, brakes: list[Device]
) -> Answer:
    circuit, user = evidence.circuit, users[0]
    own = circuit.space_of(user, user.kind.ports[0].number)
    way = rows(path(evidence.driving, circuit.store(taken[0]), own), "its air comes this way")
    line = next((d for d in circuit.devices if d.ends and any(end[0] == user.name for end in d.ends)), user)
    if any(tank in brakes for tank in taken):
        return not_met(user.name, line.span, f"{what} empties {' and '.join(t.name for t in taken)}",
                     f"feed {user.name} through a pressure protection valve close to the reservoir",
                     also=((user.span, "the user"), (taken[0].span, "the reservoir it empties"), *way))
    return not_met(user.name, line.span,
                 f"{what} empties the wet reservoir: the brakes keep what they have and are not refilled",
                 f"feed {user.name} through a pressure protection valve", severity="warning",
                 also=((user.span, "the user"), *way))


RULE = Rule("auxiliary-not-protected", "auxiliary users cannot empty the brakes", "error", check, missing=True)
