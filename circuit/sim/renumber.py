"""The numbers of a changed part put into the rows of a circuit that has been read already.

Only the changed part is asked again for what it declares: its ways, latches and stores. Where the shape of that is the
same (as many ways, sums of the same pressures), the numbers go into the base's rows; where it is not, as when a line
becomes so long that it counts in more pieces, there is nothing to put in, and the circuit is to be read anew.
"""

from typing import Any

from circuit.gas.volume import Knots
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.sim.arrays import Arrays
from circuit.sim.assemble import bent
from circuit.sim.network import Network
from circuit.sim.sums import Sums


class Otherwise(Exception):
    """The part's equations have another shape now."""


def renumbered(network: Network, a: Arrays, circuit: Circuit, names: set[str], extras: int) -> Arrays:
    """The rows of `a`, read from `network`, for a circuit in which the parts `names` have other settings.

    extras: elements at the end that only variants have. Raises Otherwise."""
    rows: dict[str, list[Any]] = {name: list(getattr(a, name)) for name in (
        "el_flow", "el_ratio", "el_inverse", "el_sub", "af_constant", "at_weight", "it_weight", "pr_weight",
        "nd_per", "nd_slope", "pc_pressure", "pc_held", "pc_1", "pc_2", "pc_3", "pc_4")}
    volumes: dict[int, list[Knots]] = {}
    for name in sorted(names):
        device = circuit.by_name[name]
        part = network.of_one(circuit, device)
        if name in network.doubled or len(part.sums.inputs) != len(network.sums.inputs):
            raise Otherwise
        _elements(network, part, device, rows, a.elements - extras)
        _sums(network, part, device, rows, a)
        _stores(network, part, device, rows, a, volumes)
    changed: Any = rows
    return a._replace(**changed)


def _elements(network: Network, part: Network, device: Device, rows: dict[str, list[Any]], count: int) -> None:
    mine = [n for n, e in enumerate(network.elements[:count])  # holes and feeds are not of its declaration
            if e.owner[0] == device.name and e.owner[1] and e.owner[2]]
    if [network.elements[n].owner for n in mine] != [e.owner for e in part.elements]:
        raise Otherwise
    for number, element in zip(mine, part.elements):
        rows["el_flow"][number] = element.flow
        rows["el_ratio"][number] = element.ratio
        rows["el_inverse"][number] = 1.0 / (1.0 - element.ratio)
        rows["el_sub"][number] = element.subsonic


def _sums(network: Network, part: Network, device: Device, rows: dict[str, list[Any]], a: Arrays) -> None:
    sums, fresh = network.sums, part.sums
    mine = [number for number, owner in enumerate(sums.owners) if owner == device.name]
    if _shape(sums, mine) != _shape(fresh, list(range(len(fresh.terms)))):
        raise Otherwise
    place = {number: new for new, number in enumerate(mine)}
    for number, new in place.items():
        rows["af_constant"][number] = fresh.constant[new]
        for place_, term in enumerate(fresh.terms[new], a.af_start[number]):
            rows["at_weight"][place_] = term.weight
    entries = [n for n, entry in enumerate(sums.entries) if entry[0] in place]
    products = [n for n, product in enumerate(sums.products) if product.sum in place]
    for n, new_entry in zip(entries, fresh.entries):
        rows["it_weight"][n] = new_entry[2]
    for n, product in zip(products, fresh.products):
        rows["pr_weight"][n] = product.weight


def _shape(sums: Sums, numbers: list[int]) -> tuple[Any, ...]:
    """What must be alike for two devices' sums to stand in the same rows."""
    place = {number: new for new, number in enumerate(numbers)}
    return (
        [[term.node for term in sums.terms[number]] for number in numbers], [sums.middle[number] for number in numbers],
        [(place[entry[0]], entry[1]) for entry in sums.entries if entry[0] in place],
        [(place[product.sum], place[product.factor], product.term) for product in sums.products if product.sum in place],
        [(place[tree[0]], *(place.get(-1 - code) for code in tree[1:])) for tree in sums.trees if tree[0] in place],
    )


def _stores(network: Network, part: Network, device: Device, rows: dict[str, list[Any]], a: Arrays,
            now: dict[int, list[Knots]]) -> None:
    """now: the volumes of the nodes that parts before this one have changed: several parts may store air at one node."""
    chain, fresh = network.lines.get(device.name, []), part.lines.get(device.name, [])
    if len(chain) != len(fresh):
        raise Otherwise
    inner = dict(zip(fresh[1:-1], chain[1:-1]))
    for new, volumes in enumerate(part.volumes):
        if not volumes:
            continue
        node = inner.get(new, new)
        if new in inner:
            every: list[Knots] = volumes
        else:
            every = now.setdefault(node, list(network.volumes[node]))
            places = network.stored.get((device.name, node), [])
            if len(places) != len(volumes):
                raise Otherwise
            for place, knots in zip(places, volumes):
                every[place] = knots
        _held(network, rows, a, node, every)


def _held(network: Network, rows: dict[str, list[Any]], a: Arrays, node: int, volumes: list[Knots]) -> None:
    pieces = network.held_as(volumes, node)
    first, last = a.nd_start[node], a.nd_start[node + 1]
    if len(pieces) != last - first or bent(pieces) != (node in a.nd_bend):
        raise Otherwise
    for place, (pressure, coefficients) in enumerate(pieces, first):
        rows["pc_pressure"][place] = pressure
        for name, number in zip(("pc_held", "pc_1", "pc_2", "pc_3", "pc_4"), coefficients):
            rows[name][place] = number
    rows["nd_slope"][node] = pieces[0][1][1]
    rows["nd_per"][node] = 0.0 if bent(pieces) else 1.0 / pieces[0][1][1]
