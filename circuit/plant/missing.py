"""Mistakes of forgetting: a part or a line that is not there."""

from collections.abc import Callable, Iterator
from functools import partial
from random import Random

from circuit import kinds
from circuit.declaring.traits import Role, Trait
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.plant.bed import Bed
from circuit.plant.planting import Operator, Site
from circuit.plant.rows import Add, Drop, dropped, rows_of, with_setting
from circuit.units import value_in


def _drain(bed: Bed, chance: Random) -> Iterator[Site]:
    for drain in bed.own(Trait.DRAINS_WATER):
        space = bed.circuit.store(drain)
        tanks = bed.circuit.on_space(space, Trait.STORES_AIR)
        others = [d for d in bed.circuit.on_space(space, Trait.DRAINS_WATER) if d is not drain]
        edits = bed.removed(drain)
        if edits and tanks and not any(_by_hand(other) for other in others) and _by_hand(drain):
            yield Site(edits, (tanks[0].name,), f"{tanks[0].name} has lost its drain")


def _by_hand(drain: Device) -> bool:
    return not drain.has(Trait.DRAINS_BY_ITSELF) or drain.settings["by-hand"] == "yes"


def _safety_valve(bed: Bed, chance: Random) -> Iterator[Site]:
    circuit, evidence = bed.circuit, bed.evidence
    for valve in bed.own(Trait.RELIEVES):
        others = [v for v in circuit.having(Trait.RELIEVES) if v is not valve]
        guarded = frozenset().union(*(evidence.zone(circuit.store(other)) for other in others))
        exposed = evidence.could_reach(guarded)
        tanks = [tank for tank in circuit.reservoirs if circuit.store(tank) in exposed]
        edits = bed.removed(valve)
        if edits and tanks and not circuit.is_towed:
            yield Site(edits, tuple(tank.name for tank in tanks), f"no safety valve guards {tanks[0].name} any more")


def _seeing(trait: Trait, what: str, bed: Bed, chance: Random) -> Iterator[Site]:
    """A part that alone shows the driver the pressure of a store of service air."""
    circuit, evidence = bed.circuit, bed.evidence
    for group in evidence.stores:
        zone = evidence.zone(circuit.store(group[0]))
        seeing = [device for device in circuit.having(trait) if circuit.store(device) in zone]
        if len(seeing) == 1 and bed.statement(seeing[0]):
            edits = bed.removed(seeing[0])
            if edits:
                yield Site(edits, tuple(tank.name for tank in group), f"{group[0].name} has lost its {what}")


def _stop_lamp(bed: Bed, chance: Random) -> Iterator[Site]:
    circuit, evidence = bed.circuit, bed.evidence
    switches = circuit.having(Trait.LIGHTS_STOP_LAMP)
    for switch in bed.own(Trait.LIGHTS_STOP_LAMP):
        rest = [circuit.store(other) for other in switches if other is not switch]
        for group, _ in evidence.losses:
            lost = frozenset().union(*(gone for other, gone in evidence.losses if other is not group))
            air = evidence.braking_without(lost)
            dark = not any(air.is_charged(space) for space in rest) and air.is_charged(circuit.store(switch))
            edits = bed.removed(switch) if dark else None
            if edits:
                yield Site(edits, tuple(tank.name for tank in circuit.reservoirs_for("service")),
                           "no stop lamp lights with the brakes of " + group[0].name)
                break


def _check(bed: Bed, chance: Random) -> Iterator[Site]:
    """A check valve left out: what it kept goes with what feeds it."""
    for valve in bed.own(Trait.ONE_WAY):
        edits = bed.straightened(valve, ("1", "2"))
        before = _unheld(bed.circuit)
        if edits:
            tanks = [tank.name for tank in bed.evidence.service_reservoirs
                     if bed.circuit.space_of(valve, "2") in bed.evidence.zone(bed.circuit.store(tank))]
            if tanks:
                yield Site(edits, tuple(tanks), f"the check valve before {tanks[0]} is left out",
                           lambda spoilt: bool(_unheld(spoilt) - before))


def _unheld(circuit: Circuit) -> frozenset[str]:
    """Service reservoirs that empty with a supply reservoir or with the place where air comes in."""
    evidence = Evidence(circuit)
    holes = [circuit.store(tank) for tank in evidence.supply_reservoirs] + list(evidence.sources)
    lost = frozenset().union(*(evidence.emptied(hole) for hole in holes))
    return frozenset(tank.name for tank in evidence.service_reservoirs if circuit.store(tank) in lost)


def _protection(bed: Bed, chance: Random) -> Iterator[Site]:
    """A protection valve left out before an auxiliary user."""
    before = _drawn_down(bed.circuit)
    for valve in bed.own(Trait.KEEPS_BACK):
        edits = bed.straightened(valve, ("1", "2")) if valve.kind.port("2") else None
        if edits:
            behind = bed.evidence.driving.fed_by(bed.circuit.space_of(valve, "2"), frozenset())
            users = [d.name for d in (*bed.circuit.having(Trait.USES_AIR), *bed.circuit.reservoirs_for("auxiliary"))
                     if any(space in behind for _, space in bed.circuit.spaces_of[d.name])]
            if users:
                yield Site(edits, tuple(users), f"the protection valve before {users[0]} is left out",
                           lambda spoilt: bool(_drawn_down(spoilt) - before))


def _drawn_down(circuit: Circuit) -> frozenset[tuple[str, str]]:
    """Auxiliary users, each with a brake reservoir that empties with it."""
    evidence = Evidence(circuit)
    users = (*circuit.having(Trait.USES_AIR), *circuit.reservoirs_for("auxiliary"))
    brakes = circuit.reservoirs_for("service", "parking", "supply")
    return frozenset((user.name, tank.name) for user in users for tank in brakes
                     if circuit.store(tank) in evidence.emptied(circuit.store(user)))


def _line(bed: Bed, chance: Random) -> Iterator[Site]:
    """A line forgotten, so that a port is left open."""
    for line in bed.own(Trait.LINE):
        statement = bed.statement(line)
        assert statement is not None and line.ends is not None
        if any(bed.circuit.by_name[name].has(Trait.OPEN_END) for name, _ in line.ends):
            continue
        opened = []
        for key in line.ends:
            device = bed.circuit.by_name[key[0]]
            port = device.kind.port(key[1])
            assert port is not None
            left = bed.circuit.used[key] - line.ends.count(key)
            if port.role is not Role.EXHAUST and (
                    (port.required and not left) or (left and bed.circuit.holes(device, port))):
                opened.append(key)
        own = line.settings.get("name")
        mentioned = bed.unmentioned(own) if own else ()
        if opened:
            things = tuple(dict.fromkeys(name for name, _ in opened))
            yield Site((*dropped(statement), *mentioned), things, f"the line to {bed.reference(opened[0])} is missing")


def _brake(bed: Bed, chance: Random) -> Iterator[Site]:
    """A chamber forgotten at one wheel."""
    for chamber in bed.own(Trait.SERVICE_ACTUATOR):
        twins = [c for c in bed.evidence.chambers if c is not chamber and c.settings["axle"] == chamber.settings["axle"]
                 and c.settings["side"] == chamber.settings["side"]]
        edits = bed.removed(chamber) if not twins else None
        if edits:
            axle = chamber.settings["axle"]
            yield Site(edits, (axle,), f"axle {axle} has no brake on the {chamber.settings['side']}")


def _modulator(bed: Bed, chance: Random) -> Iterator[Site]:
    """A modulating valve left out: after the loss of its circuit the axle has nothing between released and locked."""
    for valve in bed.own(Trait.MODULATES_SPRINGS):
        edits = bed.straightened(valve, ("1", "2"))
        behind = bed.evidence.driving.fed_by(bed.circuit.space_of(valve, "2"), frozenset())
        springs = [s for s in bed.evidence.springs if bed.circuit.spring_space(s) in behind]
        if edits and springs and not bed.circuit.having(Trait.GRADUATES_SPRINGS):
            tanks = [t.name for t in bed.evidence.service_reservoirs if springs[0] in bed.evidence.served[t.name]]
            yield Site(edits, (*tanks, *(s.name for s in springs)), "the modulating valve is left out")


def _wet_reservoir(bed: Bed, chance: Random) -> Iterator[Site]:
    """A manifold where the wet reservoir was; without a dryer before it the lines behind it would be too hot too."""
    block = next((kind for kind in kinds.every() if Trait.JOINS in kind.traits and kind.ports[0].holes_from), None)
    wet = [tank for tank in bed.circuit.reservoirs if tank.settings["role"] == "supply"]
    statement = bed.statement(wet[0]) if len(wet) == 1 else None
    if block is None or statement is None or len(statement.names) != 1 or bed.circuit.is_towed:
        return
    if not any(device.has(Trait.DRIES) or device.has(Trait.COOLS) for device in bed.circuit.devices):
        return
    lone = [drain for drain in bed.circuit.on_space(bed.circuit.store(wet[0]), Trait.DRAINS_WATER)]
    gone = [edit for drain in lone for edit in bed.removed(drain) or ()]
    key = (wet[0].name, wet[0].kind.ports[0].number)
    holes = bed.circuit.used[key] - len(lone)
    rows = rows_of(statement)
    row = f"{block.name} {wet[0].name}: {block.ports[0].holes_from} {holes}"
    others = [tank for tank in bed.evidence.service_reservoirs if bed.statement(tank)]
    if others and not any(wet[0].name in intent.reservoirs for intent in bed.circuit.intents):
        found = bed.written(others[0])
        assert found is not None
        whole = value_in(others[0].settings["volume"] + wet[0].settings["volume"], "L", "volume")
        larger = with_setting(*found, "volume", f"{whole:.0f} L")  # or the volume asked for would be missing too
        yield Site((*(Drop(line) for line in rows), Add(rows[-1], row), *gone, *larger),
                   tuple(tank.name for tank in bed.evidence.service_reservoirs), "there is no wet reservoir")


def _governor(bed: Bed, chance: Random) -> Iterator[Site]:
    """The unloader's line forgotten, its ports plugged, so that nothing rests the compressor."""
    for governor in bed.own(Trait.GOVERNS):
        signal = governor.kind.port("unloader")
        if signal is None or governor.has(Trait.BLOWS_OFF):
            continue
        key = (governor.name, signal.number)
        for line, place in bed.lines_at(key):
            far = line.ends[1 - place] if line.ends else key
            statement = bed.statement(line)
            rest = bed.closed(key, far)
            if statement and rest is not None and bed.circuit.by_name[far[0]].has(Trait.COMPRESSES):
                yield Site((*dropped(statement), *rest), (governor.name,),
                           "the line to the compressor's unloader is missing")


def _test_point(bed: Bed, chance: Random) -> Iterator[Site]:
    """The only test connection of a reservoir, of a load-sensing valve's outlet or of a trailer's control line."""
    circuit, evidence = bed.circuit, bed.evidence
    points = circuit.having(Trait.TESTS_PRESSURE)
    wanted = [(tank.name, circuit.store(tank)) for tank in evidence.service_reservoirs]
    wanted += [(valve.name, circuit.space_of(valve, "2")) for valve in circuit.having(Trait.SENSES_LOAD)]
    wanted += [(head.name, circuit.store(head)) for head in circuit.having(Trait.COUPLES_VEHICLES)
               if circuit.is_towed and head.settings["line"] == "control" and head.settings["end"] == "front"]
    for name, space in wanted:
        zone = evidence.zone(space)
        seeing = [point for point in points if circuit.store(point) in zone]
        edits = bed.removed(seeing[0]) if len(seeing) == 1 else None
        if edits:
            yield Site(edits, (name,), f"{name} has lost its test connection")


def _sole(trait: Trait, what: str) -> Callable[[Bed, Random], Iterator[Site]]:
    return partial(_seeing, trait, what)


OPERATORS = (
    Operator("drain-missing", "a reservoir without a drain", ("reservoir-without-drain",),
             "drain, drain cock, water", _drain),
    Operator("safety-valve-missing", "no safety valve", ("reservoir-without-safety-valve",),
             "safety valve, relief", _safety_valve),
    Operator("warning-missing", "no low-pressure switch", ("no-low-pressure-warning",),
             "warning, switch, low pressure", _sole(Trait.WARNS_LOW, "low-pressure switch")),
    Operator("gauge-missing", "no gauge", ("no-pressure-gauge",),
             "gauge, pressure gauge", _sole(Trait.SHOWS_PRESSURE, "pressure gauge")),
    Operator("stop-lamp-missing", "no stop-lamp switch", ("stop-lamp-not-lit",),
             "stop lamp, brake light, lamp", _stop_lamp),
    Operator("check-missing", "no check valve before a reservoir",
             ("reservoir-not-held", "circuits-not-separate"), "check valve, not held", _check),
    Operator("protection-missing", "no protection valve before auxiliaries", ("auxiliary-not-protected",),
             "protection, unprotected, auxiliary", _protection),
    Operator("line-missing", "a line forgotten", ("port-open",),
             "open, missing line, unconnected, joined to nothing", _line),
    Operator("brake-missing", "a wheel without a brake", ("wheel-without-brake",),
             "no brake, without brake, chamber missing", _brake),
    Operator("modulator-missing", "no modulating valve", ("no-rear-emergency-brake",),
             "modulating, emergency, by degrees", _modulator),
    Operator("wet-reservoir-missing", "no wet reservoir", ("no-wet-reservoir",),
             "wet, supply reservoir", _wet_reservoir),
    Operator("unloader-line-missing", "the governor does not reach the compressor", ("governor-misplaced",),
             "governor, unloader", _governor),
    Operator("test-point-missing", "no test connection", ("no-test-connection",),
             "test point, test connection, measure", _test_point),
)
