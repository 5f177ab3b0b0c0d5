"""Mistakes of a hurried hand at one valve: lines exchanged between two of its ports."""

from collections.abc import Iterator
from random import Random

from circuit.declaring.traits import Role, Trait
from circuit.judging.evidence import Evidence
from circuit.model.devices import Device, PortKey
from circuit.plant.bed import Bed
from circuit.plant.planting import Operator, Site


def _crossed(bed: Bed, device: Device, one: str, other: str) -> Iterator[tuple[Site, PortKey, PortKey]]:
    """Each way to exchange a line on one port with a line on another, of what the text itself declares."""
    keys = (device.name, one), (device.name, other)
    for first in bed.lines_at(keys[0]):
        for second in bed.lines_at(keys[1]):
            if first[0] is not second[0]:
                says = f"the lines on {bed.reference(keys[0])} and {bed.reference(keys[1])} are exchanged"
                yield Site(bed.crossed(first, second), (device.name,), says), *keys


def _part_reversed(bed: Bed, chance: Random) -> Iterator[Site]:
    circuit = bed.circuit
    for device in bed.own():
        for one, other in device.kind.turns:
            entry, leaving = device.kind.port(one), device.kind.port(other)
            if entry is None or leaving is None or entry.role is not Role.SUPPLY or leaving.role is not Role.DELIVERY:
                continue
            keys = (device.name, entry.number), (device.name, leaving.number)
            if not bed.only_line(keys[0]) or not bed.only_line(keys[1]):
                continue
            ports = [(device.name, p.number) for p in device.kind.ports_as(Role.SUPPLY, Role.DELIVERY)]
            alone = Evidence(circuit.apart(*ports))
            feeding, led = (circuit.space[key] for key in keys)
            fed = [air.is_charged(feeding) for air in (bed.evidence.driving, bed.evidence.braking)]
            otherwise = [air.is_charged(led) for air in (alone.driving, alone.braking)]
            if any(fed) and not any(otherwise):
                for site, *_ in _crossed(bed, device, entry.number, leaving.number):
                    yield site._replace(says=f"{device.name} is fitted the wrong way round")


def _relay_crossed(bed: Bed, chance: Random) -> Iterator[Site]:
    driving, braking = bed.evidence.driving, bed.evidence.braking
    for relay in bed.own(Trait.REPEATS_CONTROL):
        control = relay.kind.port("control")
        assert control is not None
        steady, signal = bed.circuit.space_of(relay, "1"), bed.circuit.space_of(relay, control.number)
        if driving.is_charged(steady) and braking.is_charged(signal) and not driving.is_charged(signal):
            for site, *_ in _crossed(bed, relay, "1", control.number):
                yield site._replace(says=f"supply and control of {relay.name} are exchanged")


def _signals_exchanged(bed: Bed, chance: Random) -> Iterator[Site]:
    driving = bed.evidence.driving
    for device in bed.own():
        for one, other in device.kind.turns:
            ports = device.kind.port(one), device.kind.port(other)
            if any(port is None or port.role is not Role.CONTROL for port in ports):
                continue
            spaces = [bed.circuit.space_of(device, number) for number in (one, other)]
            if driving.is_charged(spaces[0]) != driving.is_charged(spaces[1]):
                yield from (site for site, *_ in _crossed(bed, device, one, other))


def _trailer_valve_crossed(bed: Bed, chance: Random) -> Iterator[Site]:
    for valve in bed.own(Trait.TRAILER_SUPPLY):
        filling, holding = valve.kind.port("reservoir"), valve.kind.port("spring")
        assert filling is not None and holding is not None
        for site, *_ in _crossed(bed, valve, filling.number, holding.number):
            yield site._replace(says=f"reservoir and springs are exchanged at {valve.name}")


def _trailer_lines_crossed(bed: Bed, chance: Random) -> Iterator[Site]:
    """Supply and control of a trailer exchanged between the valve and the relay they lead to."""
    circuit, driving = bed.circuit, bed.evidence.driving
    heads = [head for head in circuit.having(Trait.COUPLES_VEHICLES) if head.settings["end"] == "front"]
    zones = {line: frozenset().union(*(bed.evidence.zone(circuit.store(head)) for head in heads
                                       if head.settings["line"] == line)) for line in ("supply", "control")}
    for valve in bed.own(Trait.TAKES_SUPPLY_LINE):
        for relay in bed.own(Trait.REPEATS_CONTROL):
            control = relay.kind.port("control")
            assert control is not None
            keys = (valve.name, "1"), (relay.name, control.number)
            lines = bed.only_line(keys[0]), bed.only_line(keys[1])
            if lines[0] is None or lines[1] is None or driving.is_charged(circuit.space[keys[1]]):
                continue
            if circuit.space[keys[0]] in zones["supply"] and circuit.space[keys[1]] in zones["control"]:
                yield Site(bed.crossed(lines[0], lines[1]), (valve.name, relay.name),
                           f"supply and control line are exchanged: {valve.name} gets the control line")


OPERATORS = (
    Operator("part-reversed", "a one-way part fitted the wrong way round", ("part-backwards",),
             "backwards, reversed, wrong way, turned round, direction", _part_reversed),
    Operator("relay-crossed", "supply and control of a relay exchanged",
             ("control-and-supply-crossed", "coupling-lines-crossed"),
             "crossed, swapped, exchanged, 1 and 4", _relay_crossed),
    Operator("signals-exchanged", "two signals of a valve exchanged",
             ("signals-exchanged", "modulating-valve-senses-wrong"),
             "crossed, swapped, exchanged, 41 and 42", _signals_exchanged),
    Operator("trailer-valve-crossed", "reservoir and spring ports of a trailer's valve exchanged",
             ("reservoir-and-springs-crossed",), "crossed, swapped, exchanged", _trailer_valve_crossed),
    Operator("trailer-lines-crossed", "supply and control line of a trailer exchanged",
             ("coupling-lines-crossed", "control-and-supply-crossed"),
             "crossed, swapped, exchanged", _trailer_lines_crossed),
)
