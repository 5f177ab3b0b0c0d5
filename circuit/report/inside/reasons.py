"""Why a passage stands open or shut at a moment, from the weighted sum that its opening is there."""

from collections.abc import Callable
from typing import NamedTuple

from circuit.declaring.kind import Latch, Passage
from circuit.report.inside.openings import Inside
from circuit.sim.tracing import ONE, Choice, Sum, Tree, Untraceable, trace
from circuit.units import ATMOSPHERE, value_in

EMPTY = ATMOSPHERE + 5e3
"""Absolute Pa up to which a port counts as empty; our choice."""
PLACES = {"bar": 1, "psi": 0}


class Leaf(NamedTuple):
    """A push at this moment, Pa. weights: by port. rest: what state and settings add. asked_by: state variables in it.
    decided_by: state variables that chose it."""

    weights: dict[str, float]
    rest: float
    asked_by: tuple[str, ...]
    decided_by: tuple[str, ...]


def tree_of(inside: Inside, opening: Callable[..., float], with_state: bool = True) -> Tree | None:
    """An opening as data, or None where it cannot be."""
    ports = tuple(port.number for port in inside.kind.ports)
    try:
        return trace(opening, ports, inside.settings, tuple(inside.kind.rest) if with_state else None)
    except Untraceable:
        return None


def leaf(inside: Inside, tree: Tree) -> Leaf:
    """The sum that holds at this moment."""
    decided: list[str] = []
    while isinstance(tree, Choice):
        decided += [name for what, name in tree.asks.weights if what == "u"]
        tree = tree.yes if _number(inside, tree.asks) > 0 else tree.no
    weights: dict[str, float] = {}
    rest = tree.number
    asked = [name for (what, name) in tree.weights if what == "u"]
    for (what, name), weight in tree.weights.items():
        if what == "p":
            weights[name] = weights.get(name, 0.0) + weight
        elif what == "u":
            rest += weight * inside.state[name]
    for (factor, (_, name)), weight in tree.products.items():
        weights[name] = weights.get(name, 0.0) + weight * _number(inside, factor)
        asked += [each for (what, each) in factor.weights if what == "u"]
    return Leaf({port: weight for port, weight in weights.items() if abs(weight) > 1e-9}, rest, tuple(asked), tuple(decided))


def _number(inside: Inside, asked: Sum) -> float:
    given = {("p", port.number): inside.pressure(port.number) for port in inside.kind.ports}
    given |= {("u", name): value for name, value in inside.state.items()}
    total = asked.number + sum(weight * given[key] for key, weight in asked.weights.items() if key != ONE)
    return total + sum(weight * given[key] * _number(inside, factor) for (factor, key), weight in asked.products.items())


def _stands(name: str, on: bool) -> str:
    """A hand or a coil in words.

    >>> _stands("hold", True), _stands("energised", False)
    ('hold is on', 'it is not energised')
    """
    return f"it is {'' if on else 'not '}{name}" if name.endswith("ed") else f"{name} is {'on' if on else 'off'}"


class Why:
    """Reasons in words, for one part at one moment."""

    def __init__(self, inside: Inside, unit: str):
        self.inside, self.unit = inside, unit

    def pressure(self, value: float, fine: bool = False) -> str:
        return f"{value_in(max(value, ATMOSPHERE), self.unit, 'pressure'):.{PLACES[self.unit] + fine}f} {self.unit}"

    def difference(self, value: float, fine: bool = False) -> str:
        return f"{value_in(value, self.unit, 'difference'):.{PLACES[self.unit] + fine}f} {self.unit}"

    def opened(self, passage: Passage) -> str:
        """Why a passage stands open."""
        says = passage.says.removeprefix("open ").removeprefix("while ")
        now = self._leaf(passage)
        if now is None:
            return says
        hands = self._hands(now)
        if not now.weights:
            return self._latched(now.decided_by) or (self._stand(hands) if " or " in f" {says}" and hands else says)
        numbers = self._compared(now) or self._asked(passage, now)
        return f"{says.split(' and ')[0].split(',')[0]}, and {numbers}" if hands and not now.asked_by else numbers

    def shut(self, passage: Passage) -> str:
        """Why a passage stays shut: what is not reached."""
        now = self._leaf(passage)
        if now is None or not now.weights:
            words = passage.says.removeprefix("open ")
            stand = self._stand(self._hands(now)) if now and (" and " in words or "," in words) else ""
            return (self._latched(now.decided_by) if now else "") or stand or f"it is open only {words}"
        if pair := self._pair(now):
            ahead, behind = pair
            by, needs = self.inside.pressure(ahead) - self.inside.pressure(behind), -now.rest / now.weights[ahead]
            if by < -100:
                return f"{behind} is {self.difference(-by, -by < 0.15e5)} ahead of {ahead}"
            if by <= 100:
                return f"{ahead} and {behind} are level"
            lead = f"{ahead} is {self.difference(by, by < 0.15e5)} ahead of {behind}"
            return f"{lead}, of the {self.difference(needs, True)} that open it"
        return self._asked(passage, now)

    def _hands(self, now: Leaf) -> list[str]:
        """The state variables that chose the sum and that a hand or a coil moves."""
        return [name for name in dict.fromkeys(now.decided_by) if self._latch(name, "sets") is None]

    def _stand(self, names: list[str]) -> str:
        """How hands and coils stand that decide now."""
        on = [name for name in names if self.inside.state.get(name, 0.0) > 0.5]
        return " and ".join(_stands(name, True) for name in on) or " and ".join(_stands(name, False) for name in names)

    def _leaf(self, passage: Passage) -> Leaf | None:
        tree = tree_of(self.inside, passage.opening) if passage.opening is not None else None
        return None if tree is None else leaf(self.inside, tree)

    def _latch(self, name: str, moment: str = "resets") -> Callable[..., float] | None:
        latch: Latch | None = next((each for each in self.inside.kind.latches if each.variable == name), None)
        found: Callable[..., float] | None = getattr(latch, moment) if latch else None
        return found

    def _latched(self, names: tuple[str, ...]) -> str:
        """What has to come before a latch snaps over, where pressure alone does that."""
        for name in names:
            over = self.inside.state.get(name, 0.0) > 0.5
            moment = self._latch(name, "resets" if over else "sets")
            if moment is None or self._latch(name, "sets") is None:
                continue
            tree = tree_of(self.inside, moment, with_state=False)
            now = leaf(self.inside, tree) if tree is not None else None
            if now is not None and len(now.weights) == 1:
                port, weight = next(iter(now.weights.items()))
                has, limit = self.inside.pressure(port), -now.rest / weight
                fine = abs(has - limit) < 0.15e5
                until = "risen" if weight > 0 else "fallen"
                return f"{port} has {self.pressure(has, fine)} and has not {until} to {self.pressure(limit, fine)}"
        return ""

    def _pair(self, now: Leaf) -> tuple[str, str] | None:
        """The port that pushes open and the one that pushes shut, where it is two that weigh the same."""
        ahead = [port for port, weight in now.weights.items() if weight > 0]
        behind = [port for port, weight in now.weights.items() if weight < 0]
        if len(ahead) == len(behind) == 1 and abs(now.weights[ahead[0]] + now.weights[behind[0]]) < 1e-6:
            return ahead[0], behind[0]
        return None

    def _compared(self, now: Leaf) -> str:
        """Two ports, the one by which the opening rises first; nothing where it is not two."""
        pair = self._pair(now)
        if pair is None:
            return ""
        ahead, behind = pair
        by = self.inside.pressure(ahead) - self.inside.pressure(behind)
        if by < -100:
            return f"{ahead} is no more than {self.difference(-by, -by < 0.15e5)} behind {behind}"
        if by <= 100:
            return f"{ahead} and {behind} are level"
        return f"{ahead} is {self.difference(by, by < 0.15e5)} ahead of {behind}"

    def _asked(self, passage: Passage, now: Leaf) -> str:
        """One port against its threshold, or what is asked of an end of the passage."""
        ports = [port.number for port in self.inside.kind.ports if port.number in now.weights]
        if len(ports) > 1 and min(now.weights.values()) > 0:
            lift = " and ".join(f"{port} with {self.pressure(self.inside.pressure(port))}" for port in ports)
            up = sum(weight * self.inside.pressure(each) for each, weight in now.weights.items()) + now.rest > 0
            return f"{lift} lift it together" if up else f"{lift} do not lift it"
        port = ports[0] if len(ports) == 1 else next((p for p in (passage.end, passage.start) if p in now.weights), ports[0])
        has = self.inside.pressure(port)
        others = now.rest + sum(weight * self.inside.pressure(each) for each, weight in now.weights.items() if each != port)
        limit = -others / now.weights[port]
        fine = abs(has - limit) < 0.15e5
        if len(ports) == 1 and not now.asked_by:
            return f"{port} is {self.pressure(has, fine)}, {'above' if has > limit else 'below'} {self.pressure(limit, fine)}"
        names = list(dict.fromkeys(now.asked_by)) or [each for each in ports if each != port]
        who = (f"the {names[0]}" if now.asked_by else " and ".join(names)) + (" asks" if len(names) == 1 else " ask")
        asked = self.pressure(limit, fine) if limit > ATMOSPHERE + 100 else "nothing"
        return f"{who} for {asked} at {port}, which has {self.pressure(has, fine)}"
