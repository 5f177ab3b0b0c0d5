"""What a hole empties: the air at rest, and one space of it open to the atmosphere."""

from collections.abc import Iterable, Mapping

from circuit.model.air import NEARLY_EMPTY, Air, leaves, opening
from circuit.model.devices import SPACE_OUTSIDE, Way
from circuit.units import ATMOSPHERE


def emptied_by(air: Air, *holes: int) -> frozenset[int]:
    """Every space that ends empty when all of `holes` are open to the atmosphere and nothing is fed from outside.

    First all that could flow towards the hole, or out of an exhaust that the loss opens, at full pressure; then those
    that still do when they are nearly empty. A protection valve, which shuts on the way down, so keeps its feed. A
    valve that snaps over because one of its ports is empty has done so. What the loss newly fills is not followed.
    """
    charged = {there for there, pressure in air.level.items() if pressure > ATMOSPHERE + 1000}
    falling = _Draining(air, holes, air.level).among(charged)
    while True:
        still = _Draining(air, holes, {**air.level, **dict.fromkeys(falling, NEARLY_EMPTY)}).among(falling)
        if still == falling:
            return frozenset(still)
        falling = still


class _Draining:
    """A circuit with holes: what is found to be empty is seen so by every valve, and by every latch.

    pressures: what each space has while it is asked whether it flows. An exhaust opens only for what is found, not for
    what is supposed: else a supposed loss would let a valve snap, and the valve prove the loss.
    """

    def __init__(self, air: Air, holes: Iterable[int], pressures: Mapping[int, float]) -> None:
        self.air, self.pressures = air, pressures
        self.level = dict(pressures)
        self.known = dict(air.level)
        self.states = dict(air.states)
        self.found: set[int] = set()
        for hole in holes:
            self._empty(hole)

    def among(self, spaces: set[int]) -> set[int]:
        """The holes, and every one of `spaces` whose air flows on to it or out of an exhaust that was shut before."""
        circuit, before = self.air.circuit, 0
        while before < len(self.found):
            before = len(self.found)
            todo = [*self.found, SPACE_OUTSIDE]
            while todo:
                sink = todo.pop()
                for way in circuit.ways_at[sink]:
                    source = way.start if way.end == sink else (way.end if way.passage.both_ways else None)
                    if source is None or source in self.found or source not in spaces:
                        continue
                    if self._escapes(way, source) if sink == SPACE_OUTSIDE else self._flows(way, source, self.level):
                        self._empty(source)
                        todo.append(source)
        return self.found

    def _empty(self, space: int) -> None:
        self.found.add(space)
        self.level[space] = self.known[space] = ATMOSPHERE
        circuit = self.air.circuit
        for name in {name for name, _ in circuit.ports_of.get(space, ())}:
            device = circuit.by_name[name]
            if not device.kind.latches:
                continue
            pressures = {port: self.known.get(there, ATMOSPHERE) for port, there in circuit.spaces_of[name]}
            for latch in device.kind.latches:
                for value, snaps in ((1.0, latch.sets), (0.0, latch.resets)):
                    if snaps is not None and snaps(pressures, device.settings) > 0:
                        self.states[name] = {**self.states[name], latch.variable: value}

    def _flows(self, way: Way, source: int, level: Mapping[int, float]) -> bool:
        ends = (self.pressures[source], ATMOSPHERE) if way.start == source else (ATMOSPHERE, self.pressures[source])
        return opening(self.air.circuit, way, self.states[way.device.name], *ends, level) > 0

    def _escapes(self, way: Way, source: int) -> bool:
        """Whether an exhaust lets a space out that was shut before; one that was open is a leak of the design."""
        rest = self.air.level.get(source, ATMOSPHERE)
        return not leaves(self.air, way, source, rest, self.air.level) and self._flows(way, source, self.known)
