"""Turns the openings that device kinds declare, plain Python functions, into data that an integrator can run fast.

A function is called with stand-ins for pressures and state variables. They add up to a weighted sum of what went in,
and each question asked of them (`if`, `min`, `max`) is answered both ways in turn. The result is a decision tree:
questions on weighted sums, and weighted sums as answers. Knows nothing of kinds.

A product of two stand-ins is no weighted sum. It is kept as a factor, a weighted sum itself (that without a pressure, or
else the left one), times each of the other's pressures: what a kind that senses a load does.
"""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

Key = tuple[str, str]
"""("p", port) for a pressure, ("u", variable) for a state variable, ("", "") for the constant."""
ONE: Key = ("", "")
_MANY = 512


class Untraceable(Exception):
    """An opening does something that no weighted sum can follow; the text says what."""


class Sum:
    """A weighted sum. weights: by key. products: (factor, key) to weight."""

    __slots__ = ("weights", "products", "asks")

    def __init__(
        self, weights: dict[Key, float], asks: "_Path", products: "dict[tuple[Sum, Key], float] | None" = None
    ):
        self.weights = {key: value for key, value in weights.items() if value != 0.0 or key == ONE}
        self.asks = asks
        self.products = products or {}

    @property
    def is_plain(self) -> bool:
        """Whether it is a number."""
        return not self.products and all(key == ONE for key in self.weights)

    @property
    def senses(self) -> bool:
        """Whether a pressure is in it."""
        return any(key[0] == "p" for key in self.weights) or any(key[0] == "p" for _, key in self.products)

    @property
    def number(self) -> float:
        return self.weights.get(ONE, 0.0)

    def _with(self, other: Any, scale: float) -> "Sum":
        more = other if isinstance(other, Sum) else Sum({ONE: float(other)}, self.asks)
        weights = dict(self.weights)
        for key, value in more.weights.items():
            weights[key] = weights.get(key, 0.0) + scale * value
        products = dict(self.products)
        for pair, value in more.products.items():
            products[pair] = products.get(pair, 0.0) + scale * value
        return Sum(weights, self.asks, products)

    def times(self, factor: float) -> "Sum":
        return Sum({key: value * factor for key, value in self.weights.items()}, self.asks,
                   {pair: value * factor for pair, value in self.products.items()})

    def __add__(self, other: Any) -> "Sum":
        return self._with(other, 1.0)

    __radd__ = __add__

    def __sub__(self, other: Any) -> "Sum":
        return self._with(other, -1.0)

    def __rsub__(self, other: Any) -> "Sum":
        return self.times(-1.0)._with(other, 1.0)

    def __neg__(self) -> "Sum":
        return self.times(-1.0)

    def __mul__(self, other: Any) -> "Sum":
        if not isinstance(other, Sum):
            return self.times(float(other))
        if other.is_plain:
            return self.times(other.number)
        if self.is_plain:
            return other.times(self.number)
        factor, kept = (other, self) if self.senses and not other.senses else (self, other)
        if factor.products or kept.products or any(key[0] == "u" for key in kept.weights):
            raise Untraceable("a product of more than two things that change")
        constant = kept.weights.get(ONE, 0.0)
        products = {(factor, key): value for key, value in kept.weights.items() if key != ONE}
        return Sum({}, self.asks, products) + factor.times(constant)

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> "Sum":
        if isinstance(other, Sum) and not other.is_plain:
            raise Untraceable("a division by something that changes")
        return self.times(1.0 / (other.number if isinstance(other, Sum) else float(other)))

    def __rtruediv__(self, other: Any) -> "Sum":
        raise Untraceable("a division by something that changes")

    def __pow__(self, other: Any) -> "Sum":
        raise Untraceable("a power of something that changes")

    def __gt__(self, other: Any) -> bool:
        return self.asks.positive(self - other)

    __ge__ = __gt__

    def __lt__(self, other: Any) -> bool:
        return self.asks.positive(-(self - other))

    __le__ = __lt__

    def __eq__(self, other: object) -> bool:
        return self is other or not self.asks.positive(self - other) and not self.asks.positive(-(self - other))

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = object.__hash__

    def __bool__(self) -> bool:
        return not self == 0.0 if self.senses else self.asks.positive(self - 1e-9)

    def __float__(self) -> float:
        if self.is_plain:
            return self.number
        raise Untraceable("a plain number made from something that changes")

    def __abs__(self) -> "Sum":
        return self if self > 0 else -self

    def mark(self) -> tuple[Any, ...]:
        """Equal for sums that are equal, and for a sum and its negative but for the sign that comes first."""
        return (*sorted(self.weights.items()), *sorted(((id(f), k), v) for (f, k), v in self.products.items()))


class _Path:
    """The answers given on one way through a function."""

    def __init__(self, forced: tuple[bool, ...]):
        self.forced = forced
        self.answers: list[tuple[Sum, bool]] = []
        self.known: dict[tuple[Any, ...], bool] = {}

    def positive(self, asked: Sum) -> bool:
        if asked.is_plain:
            return asked.number > 0
        mark, opposite = asked.mark(), (-asked).mark()
        if mark in self.known:
            return self.known[mark]
        if self.known.get(opposite):
            return False
        place = len(self.answers)
        answer = self.forced[place] if place < len(self.forced) else True
        self.answers.append((asked, answer))
        self.known[mark] = answer
        return answer


class Choice(NamedTuple):
    """A question and what follows. asks: positive leads to `yes`."""

    asks: Sum
    yes: "Tree"
    no: "Tree"


Tree = Choice | Sum


def trace(function: Callable[..., Any], ports: tuple[str, ...], settings: Mapping[str, Any],
          state: tuple[str, ...] | None) -> Tree:
    """The decision tree of a function of (pressures, settings, state), or of (pressures, settings) with state None.

    Raises Untraceable.
    """
    paths: list[tuple[list[tuple[Sum, bool]], Sum]] = []
    waiting: list[tuple[bool, ...]] = [()]
    while waiting:
        forced = waiting.pop()
        path = _Path(forced)
        pressures = {port: Sum({("p", port): 1.0}, path) for port in ports}
        arguments: list[Any] = [pressures, settings]
        if state is not None:
            arguments.append({name: Sum({("u", name): 1.0}, path) for name in state})
        try:
            value = function(*arguments)
        except (TypeError, KeyError, ValueError) as trouble:
            raise Untraceable(str(trouble)) from trouble
        result = value if isinstance(value, Sum) else Sum({ONE: float(value)}, path)
        paths.append((path.answers, result))
        given = tuple(answer for _, answer in path.answers)
        waiting += [(*given[:place], not given[place]) for place in range(len(forced), len(given))]
        if len(paths) > _MANY:
            raise Untraceable(f"more than {_MANY} cases")
    return _tree(paths, 0)


def _tree(paths: list[tuple[list[tuple[Sum, bool]], Sum]], depth: int) -> Tree:
    if len(paths) == 1:
        return paths[0][1]
    yes = [path for path in paths if path[0][depth][1]]
    no = [path for path in paths if not path[0][depth][1]]
    return Choice(yes[0][0][depth][0], _tree(yes, depth + 1), _tree(no, depth + 1))


def value(tree: Tree, given: Mapping[Key, float]) -> float:
    """What a tree gives for numbers."""
    while isinstance(tree, Choice):
        tree = tree.yes if _number(tree.asks, given) > 0 else tree.no
    return _number(tree, given)


def _number(asked: Sum, given: Mapping[Key, float]) -> float:
    total = asked.number + sum(weight * given[key] for key, weight in asked.weights.items() if key != ONE)
    return total + sum(weight * given[key] * _number(factor, given) for (factor, key), weight in asked.products.items())


def jumps(choice: Choice, wide: float) -> bool:
    """Whether the answer jumps where the question turns: both sides are compared on its border.

    Only what lies between shut (0) and fully open (`wide`, Pa) counts. The border is looked at in a fixed set of
    places.
    """
    if not choice.asks.senses or choice.asks.products:
        return False
    keys = sorted(_keys(choice))
    pivot = next(key for key in keys if key[0] == "p" and choice.asks.weights.get(key))
    for number in range(48):
        given = {key: _place(key, number, order) for order, key in enumerate(keys)}
        rest = _number(choice.asks, {**given, pivot: 0.0})
        given[pivot] = -rest / choice.asks.weights[pivot]
        if not 0.5e5 < given[pivot] < 15e5:
            continue
        one, other = (min(max(value(side, given), 0.0), wide) for side in (choice.yes, choice.no))
        if abs(one - other) > 1.0:
            return True
    return False


def _place(key: Key, number: int, order: int) -> float:
    share = (0.5 + number * (0.618034 + 0.1 * order)) % 1.0
    return 1e5 + 10e5 * share if key[0] == "p" else (0.0, 1.0, share)[(number + order) % 3]


def _keys(tree: Tree) -> set[Key]:
    if isinstance(tree, Choice):
        return _keys(tree.asks) | _keys(tree.yes) | _keys(tree.no)
    own = {key for key in tree.weights if key != ONE}
    for factor, key in tree.products:
        own |= {key} | _keys(factor)
    return own
