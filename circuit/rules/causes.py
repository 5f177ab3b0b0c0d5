"""Where one mistake shows at several brakes: what stops the air on its way to them, so that it is said once."""

from collections.abc import Callable, Iterable

from circuit.kinds.kind import Trait
from circuit.model.air import Air
from circuit.model.circuit import SPACE_OUTSIDE, Circuit, Device


def listed(names: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def together(devices: Iterable[Device], cause: Callable[[Device], Device | None]) -> list[tuple[Device, list[Device]]]:
    """Devices gathered by their cause, in order; a device without one stands for itself."""
    groups: dict[str, tuple[Device, list[Device]]] = {}
    for device in devices:
        found = cause(device) or device
        groups.setdefault(found.name, (found, []))[1].append(device)
    return list(groups.values())


def stops_at(air: Air, space: int) -> Device | None:
    """The nearest part on the way to a space that has air ahead of it and none behind it.

    Where no part has air ahead of it, the farthest valve that leads to the space.
    """
    circuit = air.circuit
    seen = {space}
    todo = [space]
    farthest: Device | None = None
    for here in todo:
        for way in circuit.ways_at[here]:
            source = way.start if way.end == here else (way.end if way.passage.both_ways else None)
            if source is None or source in seen or source == SPACE_OUTSIDE:
                continue
            if air.is_charged(source):
                return way.device
            if not way.device.is_line:
                farthest = way.device
            seen.add(source)
            todo.append(source)
    return farthest


def valve_before(circuit: Circuit, space: int) -> Device | None:
    """The nearest part that is no line and no fitting on the way to a space."""
    seen = {space}
    todo = [space]
    for here in todo:
        for way in circuit.ways_at[here]:
            source = way.start if way.end == here else (way.end if way.passage.both_ways else None)
            if source is None or source in seen or source == SPACE_OUTSIDE:
                continue
            if not way.device.is_line:
                return way.device
            stores = circuit.on_space(source, Trait.STORES_AIR)
            if stores:
                return stores[0]
            seen.add(source)
            todo.append(source)
    return None
