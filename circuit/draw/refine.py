"""Improving an order with heights: neighbours change places, symbols are turned upside down, free ports are sorted.

The cost counts what a trunk-per-channel drawing will show, so a step that lowers it lowers the crossings drawn.
"""

from dataclasses import dataclass

from circuit.draw.field import Field, Item, Point, apart, sort_free
from circuit.draw.heights import mean, median, settle, stack, straighten, sweep
from circuit.draw.order import sift
from circuit.draw.parts import LEFT
from circuit.draw.shape import shape
from circuit.model.circuit import Circuit

_CROSSING = 3.0
_PER_U = 0.12


@dataclass(frozen=True, slots=True)
class Span:
    """A wire in a channel: heights on its left and right side, and the range of its trunk."""

    lefts: tuple[float, ...]
    rights: tuple[float, ...]
    low: float
    high: float


def span(points: list[Point]) -> Span:
    lefts, rights = [], []
    for point in points:  # a point on an item's right side is on the channel's left
        (rights if point.side == LEFT else lefts).append(point.y)
    everything = lefts + rights
    return Span(tuple(lefts), tuple(rights), min(everything), max(everything))


def crossings(a: Span, b: Span) -> tuple[int, int]:
    """How often two wires cross in a channel with a's trunk left of b's, and right of it."""
    if a.low > b.high or b.low > a.high:
        return 0, 0
    before = sum(a.low < y < a.high for y in b.lefts) + sum(b.low < y < b.high for y in a.rights)
    after = sum(b.low < y < b.high for y in a.lefts) + sum(a.low < y < a.high for y in b.rights)
    return before, after


def channel_cost(target: Field, channel: int) -> float:
    """Crossings and height differences in one channel."""
    spans = [span(points) for points in target.channels[channel].values()]
    total = 0.0
    for i, a in enumerate(spans):
        total += _PER_U * (a.high - a.low) + (0.3 if a.high > a.low else 0.0)
        for b in spans[:i]:
            if a.low <= b.high and b.low <= a.high:
                total += _CROSSING * min(crossings(a, b))
    return total


def cost(target: Field) -> float:
    """Of the whole field, axles out of number order included."""
    total = sum(channel_cost(target, channel) for channel in range(len(target.channels)))
    for column in target.columns:
        numbers = [target.axles[item.axle] for item in column if item.axle]
        total += 5 * sum(a > b for i, a in enumerate(numbers) for b in numbers[i + 1:])
    return total


def arrange(circuit: Circuit, target: Field, rounds: int) -> float:
    """From an order to final heights; returns the cost. rounds: of improvement, fewer for a big circuit."""
    sift(target)
    stack(target)
    sort_free(target)
    sweep(target, 6, mean)
    best = _snapshot(target)
    best_cost = float("inf")
    for _ in range(rounds):
        sort_free(target)
        sweep(target, 6, median)
        now = cost(target)
        if now < best_cost - 1e-6:
            best, best_cost = _snapshot(target), now
        changed = _swap(target)
        changed |= _flip(circuit, target)
        changed |= sort_free(target)
        if not changed:
            break
        sweep(target, 6, mean)
    sort_free(target)
    sweep(target, 6, median)
    if cost(target) > best_cost:
        _restore(circuit, target, best)
        sort_free(target)
    settle(target)
    sort_free(target)
    straighten(target)
    return cost(target)


def _near(target: Field, column: int) -> float:
    return channel_cost(target, column) + channel_cost(target, column + 1)


def _swap(target: Field) -> bool:
    """Let neighbours change places in the room they have."""
    changed = False
    for c, column in enumerate(target.columns):
        for i in range(len(column) - 1):
            upper, lower = column[i], column[i + 1]
            before = _near(target, c) + _axles(target, upper, lower)
            old = upper.y, lower.y
            top = upper.y - _over(upper)
            lower.y = top + _over(lower)
            upper.y = lower.y + apart(lower, upper)
            if _near(target, c) + _axles(target, lower, upper) < before - 1e-6:
                column[i], column[i + 1] = lower, upper
                changed = True
            else:
                upper.y, lower.y = old
    return changed


def _over(item: Item) -> float:
    return item.body.top if item.body is not None else 0.0


def _axles(target: Field, upper: Item, lower: Item) -> float:
    return 5.0 if upper.axle and lower.axle and target.axles[upper.axle] > target.axles[lower.axle] else 0.0


def _flip(circuit: Circuit, target: Field) -> bool:
    """Turn symbols upside down where that helps."""
    changed = False
    for c, column in enumerate(target.columns):
        for item in column:
            if item.body is None or not item.body.symbol.flips:
                continue
            before = _near(target, c)
            _turn(circuit, item)
            if _near(target, c) < before - 1e-6:
                changed = True
            else:
                _turn(circuit, item)
    return changed


def _turn(circuit: Circuit, item: Item) -> None:
    assert item.body is not None
    order = {id(slot): slot.y for slot in item.body.slots if slot.free}
    item.body.flipped = not item.body.flipped
    shape(circuit, item.body)
    for slot in item.body.slots:
        if slot.free:
            slot.y = order[id(slot)]


def _snapshot(target: Field) -> tuple[list[list[Item]], dict[int, float], list[tuple[Item, bool]]]:
    flips = [(item, item.body.flipped) for column in target.columns for item in column if item.body is not None]
    return target.copy_order(), {id(i): i.y for column in target.columns for i in column}, flips


def _restore(
    circuit: Circuit, target: Field, kept: tuple[list[list[Item]], dict[int, float], list[tuple[Item, bool]]]
) -> None:
    columns, heights, flips = kept
    target.columns[:] = columns
    for column in columns:
        for item in column:
            item.y = heights[id(item)]
    for item, flipped in flips:
        assert item.body is not None
        if item.body.flipped != flipped:
            _turn(circuit, item)
