"""Mistakes where vehicles are coupled: what protects the towing vehicle, what signals the trailer, what stays open."""

from collections.abc import Iterator
from random import Random

from circuit import kinds
from circuit.declaring.traits import Role, Trait
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, PortKey
from circuit.plant.bed import Bed
from circuit.plant.planting import Operator, Site
from circuit.plant.rows import dropped, swapped


def _heads_crossed(bed: Bed, chance: Random) -> Iterator[Site]:
    """Supply coupled to control and control to supply at one joint of a combination."""
    rows = [s for s in bed.of_kind("couple") if s.ends]
    for place, one in enumerate(rows):
        for other in rows[place + 1:]:
            if one.ends and other.ends and [n.parts[0] for n in one.ends] == [n.parts[0] for n in other.ends]:
                first, second = one.ends[1], other.ends[1]
                yield Site((swapped(first.span, second.text), swapped(second.span, first.text)),
                           tuple(name.text for row in (one, other) for name in row.ends or ()),
                           "supply and control are coupled crosswise")


def _tail_open(bed: Bed, chance: Random) -> Iterator[Site]:
    """The last trailer left behind, the cocks of the vehicle before it still open."""
    vehicles = bed.of_kind("vehicle")
    if not bed.circuit.is_combination or len(vehicles) < 3:
        return
    for gone in vehicles:
        name = gone.names[0].text
        joints = [s for s in bed.of_kind("couple") if s.ends and any(n.parts[0] == name for n in s.ends)]
        before = {n.parts[0] for s in joints for n in s.ends or ()} - {name}
        heads = [n.text for s in joints for n in s.ends or () if n.parts[0] != name]
        loose = [bed.circuit.by_name[text] for text in heads]
        open_ = all(head.settings["end"] == "rear" and head.settings["seals"] != "yes" for head in loose)
        if len(before) == 1 and open_:
            edits = [edit for statement in (gone, *joints) for edit in dropped(statement)]
            yield Site(tuple(edits), tuple(heads), f"{name} is left behind and the cocks before it stand open")


def _exposed(circuit: Circuit) -> int:
    """How many service reservoirs empty by a lost trailer, over all rear heads."""
    evidence = Evidence(circuit)
    return sum(circuit.store(tank) in evidence.emptied(circuit.store(head), situation) for head in evidence.rear_heads
               for situation in ("driving", "braking") for tank in evidence.service_reservoirs)


def _valve_missing(bed: Bed, chance: Random) -> Iterator[Site]:
    """What protects the towing vehicle left out, its lines led straight on."""
    before = _exposed(bed.circuit)
    heads = tuple(head.name for head in bed.evidence.rear_heads)
    for valve in bed.own(Trait.PROTECTS_TOWING):
        if valve.has(Trait.PARK_CONTROL):
            continue  # its own vehicle would be without its park control as well
        edits = bed.straightened(valve, *valve.kind.turns)
        if edits and heads:
            yield Site(edits, heads, f"{valve.name}, which protects the towing vehicle, is left out",
                       lambda spoilt: _exposed(spoilt) > before)


def _supply_from_tank(bed: Bed, chance: Random) -> Iterator[Site]:
    """The trailer's supply taken from a service reservoir, past the valve that would shut it."""
    circuit, evidence, before = bed.circuit, bed.evidence, _exposed(bed.circuit)
    leading = evidence.driving.commanding(circuit.store(head) for head in evidence.rear_heads)
    for valve in bed.own(Trait.PROTECTS_TOWING):
        for port in valve.kind.ports_as(Role.DELIVERY):
            key = (valve.name, port.number)
            line, rest = bed.only_line(key), bed.closed(key)
            if line is None or rest is None or circuit.space[key] not in leading:
                continue
            for tank in evidence.service_reservoirs:
                target = (tank.name, tank.kind.ports[0].number)
                heads = tuple(head.name for head in evidence.rear_heads if head.settings["line"] == "supply")
                if bed.statement(tank) and bed.takes_more(target) and heads:
                    yield Site((bed.moved(*line, target), *rest), heads,
                               f"the trailer is filled from {tank.name}, past {valve.name}",
                               lambda spoilt: _exposed(spoilt) > before)


def _unbraked(circuit: Circuit) -> int:
    """How many losses of a service reservoir leave a control head without its signal."""
    evidence = Evidence(circuit)
    return sum(not evidence.braking_without(lost).is_charged(circuit.store(head)) for _, lost in evidence.losses
               for head in evidence.rear_heads if head.settings["line"] == "control")


def _one_signal(bed: Bed, chance: Random) -> Iterator[Site]:
    """Both signals for the trailer taken from one service circuit."""
    circuit, evidence, before = bed.circuit, bed.evidence, _unbraked(bed.circuit)
    heads = tuple(head.name for head in evidence.rear_heads if head.settings["line"] == "control")
    leading = evidence.braking.commanding(circuit.store(head) for head in evidence.rear_heads if head.name in heads)
    for device in bed.own():
        keys = [(device.name, port.number) for port in device.kind.ports_as(Role.SUPPLY, Role.CONTROL)]
        signals = [key for key in keys if circuit.space[key] in leading and bed.only_line(key)
                   and not evidence.driving.is_charged(circuit.space[key])]
        for mine in signals:
            for other in signals:
                source, wanted = _far(bed, mine), _far(bed, other)
                rest, room = bed.closed(source), bed.opened(wanted)
                line = bed.only_line(mine)
                if mine != other and line and rest is not None and room is not None and source[0] != device.name:
                    yield Site((bed.moved(line[0], 1 - line[1], wanted), *room, *rest), (*heads, device.name),
                               f"both signals of {device.name} come from {bed.reference(wanted)}",
                               lambda spoilt: _unbraked(spoilt) > before)


def _far(bed: Bed, key: PortKey) -> PortKey:
    """The other end of the only line on a port."""
    found = bed.only_line(key)
    assert found is not None and found[0].ends is not None
    return found[0].ends[1 - found[1]]


def _signal_by_load(bed: Bed, chance: Random) -> Iterator[Site]:
    """A signal for the trailer taken from behind the valve that lowers it with the load."""
    circuit, evidence = bed.circuit, bed.evidence
    heads = tuple(head.name for head in evidence.rear_heads if head.settings["line"] == "control")
    leading = evidence.braking.commanding(circuit.store(head) for head in evidence.rear_heads if head.name in heads)
    for valve in bed.own(Trait.SENSES_LOAD):
        target = (valve.name, "2")
        room = bed.opened(target)
        if room is None or circuit.space[target] in leading:
            continue
        for device in bed.own():
            out = [circuit.space_of(device, port.number) for port in device.kind.ports_as(Role.DELIVERY)]
            if not leading.intersection(out):
                continue
            for port in device.kind.ports_as(Role.CONTROL):
                key = (device.name, port.number)
                line = bed.only_line(key) if circuit.space[key] != SPACE_OUTSIDE else None
                if line is None or circuit.space[key] not in leading or device is valve:
                    continue
                rest = bed.closed(_far(bed, key))
                if rest is not None and not evidence.driving.is_charged(circuit.space[key]):
                    yield Site((bed.moved(line[0], 1 - line[1], target), *room, *rest), (*heads, device.name),
                               f"{bed.reference(key)} gets its signal from behind {valve.name}")


def _cock_in_line(bed: Bed, chance: Random) -> Iterator[Site]:
    """A cock that has to be remembered, in the line of a coupling head."""
    cock = next((kind for kind in kinds.every() if Trait.SHUTS_BY_HAND in kind.traits and kind.setting("state")), None)
    for head in bed.own(Trait.COUPLES_VEHICLES):
        for line, place in bed.lines_at((head.name, head.kind.ports[0].number)):
            found = bed.inserted(line, place, cock, ": state open") if cock is not None else None
            if found is not None:
                yield Site(found[1], (found[0], head.name), f"a cock stands in the line of {head.name}")


OPERATORS = (
    Operator("heads-crossed", "heads of a combination coupled crosswise", ("heads-crossed",),
             "crossed, swapped, heads", _heads_crossed),
    Operator("tail-open", "the last vehicle's heads open", ("tail-open",), "open, tail, cock", _tail_open),
    Operator("towing-valve-missing", "nothing protects the towing vehicle", ("towing-vehicle-not-protected",),
             "protect, unprotected, tractor protection", _valve_missing),
    Operator("trailer-filled-unprotected", "a trailer filled past the valve that shuts its line",
             ("towing-vehicle-not-protected",), "protect, unprotected, reservoir", _supply_from_tank,
             ("trailer-not-parked",)),
    Operator("trailer-one-signal", "a trailer's signal from one circuit", ("trailer-signal-from-one-circuit",),
             "one circuit, same circuit, signal", _one_signal),
    Operator("trailer-signal-by-load", "a trailer's signal from behind a load-sensing valve",
             ("trailer-signal-by-load",), "load, behind, signal", _signal_by_load),
    Operator("cock-in-line", "a cock in a coupling's line", ("cock-in-coupling-line",), "cock, by hand", _cock_in_line),
)
