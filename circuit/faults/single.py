"""Every single fault of a design: what its kinds declare of every part, and what can be done wrong between vehicles."""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import Device, PortKey

LEAK = 0.1
"""Share of full opening up to which a failure is a leak: slower than an application of the brakes lasts."""

THEN = "; then: "
"""Between what is seen of a part that has failed already and of the second one."""


class Fault(NamedTuple):
    """Something that goes wrong.

    name: the part and its failure, in words. says: what is seen of the part. parts: (device, failure) as kinds declare
    them. exchanged: two ports whose lines stand on each other's place. holds: further (device, variable, value).
    """

    name: str
    says: str
    parts: tuple[tuple[str, str], ...] = ()
    exchanged: tuple[PortKey, PortKey] | None = None
    holds: tuple[tuple[str, str, float], ...] = ()

    @property
    def device(self) -> str:
        """The part it is about, the first of several."""
        if self.parts:
            return self.parts[0][0]
        return self.exchanged[0][0] if self.exchanged else self.holds[0][0]


def single(circuit: Circuit) -> tuple[Fault, ...]:
    """Every failure of every part, then the parting and crossing of vehicles and the loss of current."""
    own = (Fault(f"{device.title}: {failure.name.replace('-', ' ')}", failure.says, ((device.name, failure.name),))
           for device in circuit.devices for failure in device.kind.failures)
    return (*own, *_between_vehicles(circuit), *_current(circuit))


def both(one: Fault, other: Fault) -> Fault:
    """Two faults at once, the first already there when the second comes."""
    return Fault(f"{one.name} + {other.name}", f"{one.says}{THEN}{other.says}", one.parts + other.parts,
                 one.exchanged or other.exchanged, one.holds + other.holds)


def _between_vehicles(circuit: Circuit) -> Iterator[Fault]:
    for supply, control in head_pairs(circuit):
        of = f"{supply.name} and {control.name}"
        off = next((f.name for f in supply.kind.failures if f.opens), None)
        if off is not None:
            yield Fault(f"{of}: both off", "the vehicles have parted", ((supply.name, off), (control.name, off)))
        ends = tuple((head.name, head.kind.ports[0].number) for head in (supply, control))
        yield Fault(f"{of}: crossed", "each hose is on the other's head", exchanged=(ends[0], ends[1]))


def head_pairs(circuit: Circuit) -> tuple[tuple[Device, Device], ...]:
    """The supply and the control head of each end of each vehicle."""
    found: dict[tuple[str, str], dict[str, Device]] = {}
    for head in circuit.having(Trait.COUPLES_VEHICLES):
        vehicle = head.name.rpartition(".")[0]
        found.setdefault((vehicle, head.settings["end"]), {}).setdefault(head.settings["line"], head)
    return tuple((pair["supply"], pair["control"]) for pair in found.values() if len(pair) == 2)


def _current(circuit: Circuit) -> Iterator[Fault]:
    """No current in any coil."""
    coils = [(device, variable) for device in circuit.devices for variable in _coils(device)]
    if coils:
        yield Fault("electrical power: lost", "no coil has current",
                    holds=tuple((device.name, variable, 0.0) for device, variable in coils))


def _coils(device: Device) -> tuple[str, ...]:
    found = ["energised"] if device.has(Trait.SWITCHED_BY_CURRENT) else []
    found += [variable for failure in device.kind.failures if "current" in failure.name
              for variable, value in failure.holds.items() if not value]
    return tuple(dict.fromkeys(found))
