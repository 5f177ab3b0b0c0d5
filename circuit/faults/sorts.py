"""Sorts of single faults that clauses speak of, picked out of a study.

A clause speaks of losses by the place they happen at: a part of the service brakes that holds air, a line ahead of a
reservoir, a hose to the trailer, a user of air that is not a brake.
"""

from collections.abc import Iterable

from circuit.declaring.kind import OUTSIDE, Failure
from circuit.declaring.traits import Trait
from circuit.faults.effect import Effect
from circuit.faults.single import LEAK, Fault, single
from circuit.faults.study import Study
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device


def parts_of(circuit: Circuit, fault: Fault) -> list[tuple[Device, Failure]]:
    """The parts that fail, each with its failure."""
    return [(circuit.by_name[name], next(f for f in circuit.by_name[name].kind.failures if f.name == failure))
            for name, failure in fault.parts]


def opens_a_way(circuit: Circuit, fault: Fault) -> bool:
    """Whether air passes where it should not, to the outside or between two sides."""
    return any(failure.opens for _, failure in parts_of(circuit, fault))


def holes(circuit: Circuit, fault: Fault) -> frozenset[int]:
    """The spaces that a fault opens to the air."""
    return frozenset(circuit.space_of(device, start) for device, failure in parts_of(circuit, fault)
                     for start, end in failure.opens if end == OUTSIDE) - {SPACE_OUTSIDE}


def is_sudden(circuit: Circuit, fault: Fault) -> bool:
    """Whether nothing of a fault is a slow leak."""
    return not any(failure.opens and failure.share <= LEAK for _, failure in parts_of(circuit, fault))


def opens_service(circuit: Circuit, fault: Fault, system: frozenset[int]) -> bool:
    """Whether a fault opens something of a service brake that holds air: a line, a reservoir, a diaphragm, a fitting.

    The bodies of valves and couplings are left out, as 571.121 does, and so is a trailer's supply line. system: the
    spaces of the service brakes.
    """
    if len(fault.parts) != 1:
        return False
    (device, failure), = parts_of(circuit, fault)
    whole = device.is_line or device.kind.traits & {Trait.STORES_AIR, Trait.SERVICE_ACTUATOR, Trait.JOINS}
    return bool(whole and {circuit.space_of(device, start) for start, _ in failure.opens} & system)


def single_service_leaks(circuit: Circuit) -> tuple[Fault, ...]:
    """Every fault that opens a line, a reservoir, a diaphragm or a fitting of the service brakes to the air."""
    system = Evidence(circuit).service_system
    return tuple(fault for fault in single(circuit) if opens_service(circuit, fault, system))


def service_leaks(study: Study) -> tuple[Effect, ...]:
    """The faults that open something of a service brake that holds air."""
    system = study.whole.service_system
    return tuple(effect for effect in study.effects if opens_service(study.circuit, effect.fault, system))


def losses_ahead(study: Study, tank: Device) -> tuple[Effect, ...]:
    """Faults that let air out ahead of a reservoir: in what fills it, from the compressor or the reservoir before it."""
    circuit, full = study.circuit, study.whole.full
    store = circuit.store(tank)
    ahead = full.leading_to((store,), frozenset(full.level)) - _own(study, tank)
    return tuple(effect for effect in study.effects if (found := holes(circuit, effect.fault)) and found <= ahead)


def _own(study: Study, tank: Device) -> frozenset[int]:
    """What is always one with a reservoir, up to a compressor or a reservoir of another role."""
    circuit = study.circuit
    whole = study.whole.zone(circuit.store(tank))
    ends = {circuit.store(other) for other in circuit.reservoirs if other.settings["role"] != tank.settings["role"]}
    ends |= {circuit.space_of(d, d.kind.source.port) for d in circuit.devices if d.kind.source is not None}
    seen, todo = {circuit.store(tank)}, [circuit.store(tank)]
    while todo:
        here = todo.pop()
        for way in circuit.ways_at[here]:
            there = way.end if way.start == here else way.start
            if there in whole and there not in seen and there not in ends and way.passage.opening is None:
                seen.add(there)
                todo.append(there)
    return frozenset(seen)


def losses_of(study: Study, *roles: str) -> tuple[Effect, ...]:
    """The bursts of reservoirs of some roles: the worst fault of those that open a store."""
    found: dict[int, Effect] = {}
    for tank in study.circuit.reservoirs_for(*roles):
        store = study.circuit.store(tank)
        if not study.whole.full.is_charged(store):
            continue
        for effect in study.effects:
            if effect.fault.parts and effect.fault.device == tank.name and holes(study.circuit, effect.fault) == {store}:
                found.setdefault(store, effect)
    return tuple(found.values())


def hoses_lost(study: Study, *lines: str) -> tuple[Effect, ...]:
    """Faults by which heads to a vehicle behind stand open: each head of a line; with two lines, both heads together."""
    heads = {head.name: head.settings["line"] for head in study.whole.rear_heads}
    found = []
    for effect in study.effects:
        names = [name for name, _ in effect.fault.parts]
        if names and set(names) <= heads.keys() and sorted(heads[name] for name in names) == sorted(lines) \
                and holes(study.circuit, effect.fault) and is_sudden(study.circuit, effect.fault):
            found.append(effect)
    return tuple(found)


def losses_by_users(study: Study) -> tuple[Effect, ...]:
    """Faults that let air out at users of air that are no brakes, at their reservoirs, and on the way to them.

    What is always one with a reservoir of the brakes is still the brakes' own.
    """
    circuit, air = study.circuit, study.whole.normal.at("driving")
    users = [*circuit.having(Trait.USES_AIR), *circuit.reservoirs_for("auxiliary")]
    own = {space for user in users for _, space in circuit.spaces_of[user.name]} - {SPACE_OUTSIDE}
    brakes = [circuit.store(tank) for tank in circuit.reservoirs if tank.settings["role"] != "auxiliary"]
    kept = frozenset().union(*(study.whole.zone(store) for store in brakes), study.whole.service_system)
    kept |= air.leading_to(brakes, frozenset(air.level))
    way = air.leading_to(own, frozenset(air.level) - kept) | (own - kept)
    names = {user.name for user in users}
    return tuple(effect for effect in study.effects
                 if (found := holes(circuit, effect.fault)) and (found <= way or effect.fault.device in names))


def users_on_the_springs(study: Study) -> tuple[Effect, ...]:
    """Those of `losses_by_users` that draw on a reservoir whose air holds the springs off."""
    circuit, air = study.circuit, study.whole.normal.at("driving")
    stores = {circuit.store(tank) for tank in circuit.reservoirs}
    feeding = air.commanding(circuit.spring_space(spring) for spring in study.whole.springs)
    own = air.commanded_by(_first_of(study, stores & feeding))
    return tuple(effect for effect in losses_by_users(study) if holes(circuit, effect.fault) <= own)


def _first_of(study: Study, stores: set[int]) -> set[int]:
    """The stores that feed the springs through no other reservoir."""
    circuit, air = study.circuit, study.whole.normal.at("driving")
    goals = {circuit.spring_space(spring) for spring in study.whole.springs}
    return {store for store in stores if air.fed_by(store, frozenset(stores - study.whole.zone(store))) & goals}


def failures_of(study: Study, devices: Iterable[Device]) -> tuple[Effect, ...]:
    """Every fault of some parts alone."""
    names = {device.name for device in devices}
    return tuple(effect for effect in study.effects
                 if len(effect.fault.parts) == 1 and effect.fault.device in names)
