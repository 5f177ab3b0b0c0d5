"""From an order to heights, and improving it there: neighbours change places, symbols turn over, free ports are sorted.

The cost counts what a trunk-per-channel drawing will show, so a step that lowers it lowers the crossings drawn.
"""

from dataclasses import dataclass

from circuit.draw.field import Field, Item, Point, apart, sort_free
from circuit.draw.heights import mean, median, settle, stack, straighten, sweep
from circuit.draw.parts import LEFT, Body, is_wheel
from circuit.draw.shape import turn_over
from circuit.model.circuit import Circuit

_CROSSING = 3.0
_PER_U = 0.12


@dataclass(slots=True)
class Channelled:
    """A wire in a channel: heights on its left and right side, and the range of its trunk."""

    lefts: list[float]
    rights: list[float]
    low: float
    high: float


def span(points: list[Point]) -> Channelled:
    lefts: list[float] = []
    rights: list[float] = []
    for point in points:  # a point on an item's right side is on the channel's left
        slot = point.slot
        y = point.item.y if slot is None else point.item.y + slot.drop + int(slot.y) + slot.leave
        (rights if point.side == LEFT else lefts).append(y)
    everything = lefts + rights
    return Channelled(lefts, rights, min(everything), max(everything))


def crossings(a: Channelled, b: Channelled) -> tuple[int, int]:
    """How often two wires cross in a channel with a's trunk left of b's, and right of it."""
    if a.low > b.high or b.low > a.high:
        return 0, 0
    before = after = 0
    for y in b.lefts:
        before += a.low < y < a.high
    for y in a.rights:
        before += b.low < y < b.high
    for y in a.lefts:
        after += b.low < y < b.high
    for y in b.rights:
        after += a.low < y < a.high
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
        total += 3 * target.axle_cost * sum(a > b for i, a in enumerate(numbers) for b in numbers[i + 1:])
    return total


def arrange(circuit: Circuit, target: Field, rounds: int) -> float:
    """From an order to final heights; returns the cost. rounds: of improvement, fewer for a big circuit."""
    stack(target)
    sort_free(target)
    sweep(target, 6, mean)
    best = keep(target)
    best_cost = float("inf")
    for _ in range(rounds):
        sort_free(target)
        sweep(target, 6, median)
        now = cost(target)
        if now < best_cost - 1e-6:
            best, best_cost = keep(target), now
        changed = _swap(target)
        changed |= _flip(circuit, target)
        changed |= sort_free(target)
        if not changed:
            break
        sweep(target, 6, mean)
    sort_free(target)
    sweep(target, 6, median)
    if cost(target) > best_cost:
        restore(circuit, target, best)
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
    wrong = upper.axle and lower.axle and target.axles[upper.axle] > target.axles[lower.axle]
    return 3 * target.axle_cost if wrong else 0.0


def _flip(circuit: Circuit, target: Field) -> bool:
    """Turn wheels' symbols upside down where that helps."""
    changed = False
    for c, column in enumerate(target.columns):
        for item in column:
            for part in turnable(item):
                assert item.body is not None
                if not is_wheel(part.device):
                    continue
                before = _near(target, c)
                turn_over(circuit, item.body, part)
                if _near(target, c) < before - 1e-6:
                    changed = True
                else:
                    turn_over(circuit, item.body, part)
    return changed


def turnable(item: Item) -> list[Body]:
    """The bodies of an item that may be turned upside down."""
    return [part for part, _ in item.body.all() if part.symbol.flips] if item.body is not None else []


@dataclass(slots=True)
class Kept:
    """An arrangement set aside: the columns, the items' heights, the flipped bodies and the slots' places."""

    columns: list[list[Item]]
    heights: list[float]
    flips: list[bool]
    slots: list[float]


def keep(target: Field) -> Kept:
    """Set the present arrangement aside."""
    items = [item for column in target.columns for item in column]
    return Kept(
        [list(column) for column in target.columns], [item.y for item in items],
        [part.flipped for item in items for part in turnable(item)],
        [point.slot.y for item in items for point in item.points if point.slot is not None],
    )


def restore(circuit: Circuit, target: Field, kept: Kept) -> None:
    """Take an arrangement back."""
    target.columns[:] = [list(column) for column in kept.columns]
    items = [item for column in target.columns for item in column]
    for item, y in zip(items, kept.heights):
        item.y = y
    flips = iter(kept.flips)
    for item in items:
        for part in turnable(item):
            if part.flipped != next(flips):
                assert item.body is not None
                turn_over(circuit, item.body, part)
    slots = (point.slot for item in items for point in item.points if point.slot is not None)
    for slot, place in zip(slots, kept.slots):
        slot.y = place


def begin(circuit: Circuit, target: Field) -> None:
    """Turn every symbol upright again."""
    for column in target.columns:
        for item in column:
            for part in turnable(item):
                if part.flipped:
                    assert item.body is not None
                    turn_over(circuit, item.body, part)
