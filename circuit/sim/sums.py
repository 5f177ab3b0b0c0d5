"""Collects traced openings as arrays: trees, weighted sums, inputs and latches."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from circuit.declaring.kind import OUTSIDE
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.sim.arrays import NOTHING
from circuit.sim.tracing import ONE, Choice, Sum, Tree, jumps, trace
from circuit.units import ATMOSPHERE

SWITCH = 1e3
"""Pa by which a pressure has to pass the border where an opening jumps, so that it does not flutter there; our
choice."""


MOST_TRACED = 5000
"""Trees that a process keeps."""
_traced: dict[Any, Tree] = {}
_jumping: dict[tuple[int, float], tuple[Choice, bool]] = {}
"""Whether a choice jumps; with the choice itself, so that no other gets its number."""


class Term(NamedTuple):
    node: int
    weight: float


class Product(NamedTuple):
    """A factor, itself a sum, times a pressure. term: which of the sum's; the terms of the factor follow it."""

    sum: int
    factor: int
    term: int
    weight: float


class Sums:
    """Grows while a circuit is read. inputs: (device, variable) to slot; slot 0 is always 1."""

    def __init__(self, circuit: Circuit, nodes: Mapping[int, int], shift: float, wide: float):
        self.circuit, self.nodes, self.shift, self.wide = circuit, nodes, shift, wide
        self.inputs: dict[tuple[str, str], int] = {("", "one"): 0}
        self.start: list[float] = [1.0]
        self.terms: list[list[Term]] = []
        self.owners: list[str] = []
        self.constant: list[float] = []
        self.middle: list[int] = []
        self.entries: list[tuple[int, int, float]] = []
        self.trees: list[list[int]] = []
        self.products: list[Product] = []
        self.latches: list[tuple[int, int, int, tuple[str, str]]] = []
        self.switches: dict[tuple[Any, ...], int] = {}
        self.notes: list[str] = []

    def slot(self, key: tuple[str, str], value: float = 0.0) -> int:
        """The input of a name, made at first use."""
        if key not in self.inputs:
            self.inputs[key] = len(self.start)
            self.start.append(value)
        return self.inputs[key]

    def traced(self, device: Device, function: Any, with_state: bool) -> Tree:
        """The tree of one of a device's functions; alike devices share it."""
        key = (function, device.kind.name, *device.settings.items(), with_state)
        try:
            found = _traced.get(key)
        except TypeError:  # a setting that is no plain value
            key, found = (function, device.kind.name, str(device.settings), with_state), None
        if found is None:
            ports = tuple(port.number for port in device.kind.ports)
            found = trace(function, ports, device.settings, variables(device) if with_state else None)
            if len(_traced) > MOST_TRACED:
                _traced.clear()
                _jumping.clear()
            _traced[key] = found
        return found

    def add(self, device: Device, tree: Tree) -> int:
        """The code of a tree, its sums and questions added."""
        if isinstance(tree, Sum):
            return -1 - self.sum(device, tree)
        place = len(self.trees)
        self.trees.append([])
        if self._jumps(tree):
            asks = self._switched(device, tree)
        else:
            asks = self.sum(device, tree.asks, asked=True)
        self.trees[place] = [asks, self.add(device, tree.yes), self.add(device, tree.no)]
        return place

    def _jumps(self, tree: Choice) -> bool:
        key = (id(tree), self.wide)
        if key not in _jumping:
            _jumping[key] = tree, jumps(tree, self.wide)
        return _jumping[key][1]

    def sum(self, device: Device, given: Sum, asked: bool = False) -> int:
        """The number of a weighted sum; absolute pressures of the declaration become those of this altitude. asked:
        whether it is a question: one without a pressure turns at a time that is known beforehand."""
        number = len(self.terms)
        self.terms.append([])
        self.owners.append(device.name)
        self.constant.append(given.number)
        self.middle.append(1 if asked and not given.senses else 0)
        for key, weight in given.weights.items():
            if key != ONE:
                self._weigh(device, number, key, weight, None)
        for (factor, key), weight in given.products.items():
            self._weigh(device, number, key, weight, self.sum(device, factor))
            self.constant[number] -= self.shift * weight * factor.number
            for inner, share in factor.weights.items():
                if inner != ONE and self.shift:
                    self._weigh(device, number, inner, -self.shift * weight * share, None)
        return number

    def _weigh(self, device: Device, number: int, key: tuple[str, str], weight: float, factor: int | None) -> None:
        kind, name = key
        if kind == "u":
            self.entries.append((number, self.slot((device.name, name), starting(device, name)), weight))
            return
        space = SPACE_OUTSIDE if name == OUTSIDE else self.circuit.space[device.name, name]
        if factor is None:
            if space == SPACE_OUTSIDE:
                self.constant[number] += weight * ATMOSPHERE
                return
            self.constant[number] -= weight * self.shift
            self.terms[number].append(Term(self.nodes[space], weight))
            return
        if space == SPACE_OUTSIDE:
            self.notes.append(f"{device.title}: a product with the atmosphere's pressure is left out")
            return
        self.products.append(Product(number, factor, len(self.terms[number]), weight))
        self.terms[number] += [Term(self.nodes[space], 0.0), *(Term(term.node, 0.0) for term in self.terms[factor])]

    def _switched(self, device: Device, choice: Choice) -> int:
        """A sum that is positive while a switch is on, and the latch that throws it."""
        key = (device.name, *choice.asks.mark())
        if key not in self.switches:
            name = f"switch {sum(1 for k in self.switches if k[0] == device.name) + 1}"
            slot = self.slot((device.name, name))
            on = self.sum(device, choice.asks - SWITCH)
            off = self.sum(device, -choice.asks - SWITCH)
            self.latches.append((slot, -1 - on, -1 - off, (device.name, name)))
            self.switches[key] = slot
        number = len(self.terms)
        self.terms.append([])
        self.owners.append(device.name)
        self.constant.append(-0.5)
        self.middle.append(1)
        self.entries.append((number, self.switches[key], 1.0))
        return number

    def latch(self, device: Device, latch: Any) -> None:
        """A declared latch."""
        codes = [NOTHING if function is None else self.add(device, self.traced(device, function, False))
                 for function in (latch.sets, latch.resets)]
        slot = self.slot((device.name, latch.variable), starting(device, latch.variable))
        self.latches.append((slot, codes[0], codes[1], (device.name, latch.variable)))


def variables(device: Device) -> tuple[str, ...]:
    """The state variables of a device's kind."""
    kind = device.kind
    named = set(kind.rest) | {latch.variable for latch in kind.latches} | {n for v in kind.when.values() for n in v}
    return tuple(sorted(named))


def starting(device: Device, variable: str) -> float:
    """A state variable's value at rest."""
    return float(device.kind.rest.get(variable, 0.0))
