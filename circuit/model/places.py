"""Names in trials and scripts to devices and spaces of a circuit."""

from circuit.declaring.kind import Port
from circuit.model.accepting import place
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device


class NoSuchPlace(ValueError):
    """A script names something that the circuit does not have; the text says what."""


def device_named(circuit: Circuit, name: str) -> Device:
    """A device by its name; a line by its own name or its two ends, either way round. Raises NoSuchPlace."""
    found = circuit.by_name.get(name) or circuit.by_name.get(place(name, circuit.by_name, ""))
    if found is None:
        raise NoSuchPlace(f"there is no `{name}` in this design")
    return found


def port_named(circuit: Circuit, place: str) -> tuple[Device, Port]:
    """`device.port` by number or word, a thing with one space by its name, or the port of an assembly:
    `d1-left.service`.

    Raises NoSuchPlace.
    """
    if place in circuit.by_name:
        device = circuit.by_name[place]
        return device, device.kind.ports[0]
    name, _, word = place.rpartition(".")
    port = circuit.by_name[name].kind.port(word) if name in circuit.by_name else None
    if port is not None:
        return circuit.by_name[name], port
    inside = [(d, p) for d in circuit.devices if name and d.name.startswith(name + ".") and (p := d.kind.port(word))]
    if len(inside) == 1:
        return inside[0]
    raise NoSuchPlace(f"there is no `{place}` in this design")


def space_named(circuit: Circuit, place: str) -> int:
    """The space of a place. Raises NoSuchPlace, also for a port that is open to the air."""
    device, port = port_named(circuit, place)
    space = circuit.space[device.name, port.number]
    if space == SPACE_OUTSIDE:
        raise NoSuchPlace(f"`{place}` is open to the air")
    return space
