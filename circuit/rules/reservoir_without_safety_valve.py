"""A reservoir is not guarded by a safety valve.

Why
---
When a governor sticks or its sense line freezes, the compressor pumps on. Only a safety valve that nothing can shut off
stands between that and a burst shell.

What happens
------------
With the governor stuck the compressor goes on pumping, and this reservoir can be raised above its rating until it
bursts.

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

from circuit.declaring.traits import Trait
from circuit.judging.causes import listed, take
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.devices import Device
from circuit.units import gauge


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    bare: list[Device] = []
    for tank in circuit.reservoirs:
        guard = guarded_by(evidence, tank)
        if guard is not None:
            own = circuit.store(tank) in evidence.zone(circuit.store(guard))
            how = "" if own else f", filled only through {evidence.zone_name(circuit.store(guard))}"
            yield met(tank.name, tank.span, f"{guard.name} guards {tank.name}{how}")
        elif circuit.is_towed:
            yield undecided(tank.name, tank.span, f"{tank.name} is filled by the towing vehicle",
                            "the towing vehicle's design, whose safety valve should guard it")
        else:
            bare.append(tank)
    for place, tanks in _places(evidence, bare):
        yield _unguarded(evidence, place, tanks)


def _places(evidence: Evidence, bare: list[Device]) -> list[tuple[int, list[Device]]]:
    """As few spaces as will do where a safety valve would guard the unguarded reservoirs, each with those it guards.

    Of spaces that guard as many, the last on the way from the source.
    """
    circuit = evidence.circuit
    reachable = evidence.could_reach(frozenset())
    zones: dict[frozenset[int], int] = {}
    for space in evidence.could_reach_in_order():
        zones.setdefault(evidence.zone(space), space)
    found, left = [], list(bare)
    while left:
        best: tuple[int, list[Device]] = (circuit.store(left[0]), [left[0]])
        for zone, space in zones.items():
            behind = evidence.could_reach(zone)
            guarded = [tank for tank in left if circuit.store(tank) in reachable
                       and (circuit.store(tank) in zone or circuit.store(tank) not in behind)]
            if len(guarded) >= len(best[1]) and guarded:
                best = (space, guarded)
        found.append(best)
        left = [tank for tank in left if tank not in best[1]]
    return found


def _unguarded(evidence: Evidence, place: int, tanks: list[Device]) -> Answer:
    circuit = evidence.circuit
    zone = evidence.zone(place)
    first = next((tank for tank in tanks if circuit.store(tank) in zone), tanks[0])
    others = [tank for tank in tanks if tank is not first]
    if circuit.store(first) in zone:
        where = first.name
        names = first.name + (f", nor {listed(t.name for t in others)} which it fills" if others else "")
    else:
        where = circuit.space_name(place)
        names = f"{listed(t.name for t in tanks)}, filled through {where}"
    valves = circuit.having(Trait.RELIEVES)
    for valve in valves:
        cocks = _cocks_between(evidence, circuit.store(valve), place)
        if cocks:
            return not_met(first.name, valve.span,
                         f"{valve.name} does not guard {names}: {cocks[0].name} can shut it off",
                         f"put {valve.name} on {where} itself, or take {cocks[0].name} out",
                         also=((cocks[0].span, "what can shut"), *((t.span, "the reservoir") for t in tanks)))
    known = "and the design has none" if not valves else \
        "and air can reach it without passing one, or something between can shut"
    least = min(float(tank.settings["rated"]) for tank in tanks)
    return not_met(first.name, first.span, f"no safety valve guards {names}, {known}",
                 f"add one: safety-valve {first.name}-relief: on {where}, opens-at {gauge(least) / 1e5:.3g} bar",
                 also=(*((t.span, "unguarded too") for t in others),
                       *((valve.span, "a safety valve that does not guard it") for valve in valves[:2])),
                 mends=tuple(take(key) for key in evidence.free_holes_in(zone)))


def _cocks_between(evidence: Evidence, start: int, goal: int) -> list[Device]:
    """The hand-worked parts that alone stand between two spaces, were they all open; none when more does."""
    circuit = evidence.circuit
    seen: dict[int, tuple[Device, ...]] = {space: () for space in evidence.zone(start)}
    todo = list(seen)
    for here in todo:
        for way in circuit.ways_at[here]:
            if way.passage.both_ways and Trait.SHUTS_BY_HAND in way.device.kind.traits:
                there = way.end if way.start == here else way.start
                for space in evidence.zone(there) - seen.keys():
                    seen[space] = (*seen[here], way.device)
                    todo.append(space)
    return list(seen.get(goal, ()))


def guarded_by(evidence: Evidence, tank: Device) -> Device | None:
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


RULE = Rule("reservoir-without-safety-valve", "every reservoir is guarded by a safety valve", "error", check, missing=True)
