"""The sheet while it is being laid out: columns of items, and between them channels in which wires change height.

An item is a body, or a place where a wire passes a column. Channel c is left of column c, so there is one more channel
than columns. Heights are in U, y downwards.
"""

from dataclasses import dataclass, field
from math import ceil

from circuit.draw.parts import LEFT, RIGHT, Body, Parts, Slot, Wire

WEIGHTS = {"delivery": 1.2, "supply": 1.0, "spring": 0.9, "signal": 0.7}
"""How much a wire of a role wants to be straight."""


@dataclass(eq=False, slots=True, repr=False)
class Point:
    """Where a wire meets one side of an item. dy: below the item's y. mates: the points across the channel."""

    item: "Item"
    side: int
    wire: Wire
    slot: Slot | None
    mates: "list[Point]" = field(default_factory=list)
    weight: float = 1.0

    @property
    def dy(self) -> int:
        return self.slot.dy if self.slot is not None else 0

    @property
    def y(self) -> float:
        return self.item.y + (self.slot.dy if self.slot is not None else 0)


@dataclass(eq=False, slots=True, repr=False)
class Item:
    """body, or wire for a passing one."""

    column: int
    body: Body | None = None
    wire: Wire | None = None
    y: float = 0
    points: list[Point] = field(default_factory=list)

    @property
    def axle(self) -> str:
        return self.body.axle if self.body is not None else ""


@dataclass(slots=True, repr=False)
class Field:
    """columns: items from top to bottom. channels: for each, wire number to its points. axles: name to position.

    axle_cost: what a lower axle number below a higher one is worth, in crossings.
    """

    columns: list[list[Item]]
    channels: list[dict[int, list[Point]]]
    wires: list[Wire]
    axles: dict[str, int]
    axle_cost: float = 1.5


def lay_out(parts: Parts, count: int, axles: dict[str, int]) -> Field:
    """A field with its items in the order of the design. count: of columns. axles: name to position."""
    columns: list[list[Item]] = [[] for _ in range(count)]
    channels: list[dict[int, list[Point]]] = [{} for _ in range(count + 1)]
    of_slot: dict[int, Item] = {}
    for body in parts.bodies:
        item = Item(body.column, body)
        columns[body.column].append(item)
        for slot in body.slots:
            of_slot[id(slot)] = item

    def add(point: Point) -> None:
        point.item.points.append(point)
        channel = point.item.column + (1 if point.side == RIGHT else 0)
        channels[channel].setdefault(point.wire.number, []).append(point)

    for wire in parts.wires:
        at = []
        for slot in wire.slots:
            item = of_slot[id(slot)]
            at.append(item.column + (1 if slot.side == RIGHT else 0))
            add(Point(item, slot.side, wire, slot))
        for column in range(min(at), max(at)):
            item = Item(column, wire=wire)
            columns[column].append(item)
            for side in (LEFT, RIGHT):
                add(Point(item, side, wire, None))
    for channel in channels:
        for points in channel.values():
            for point in points:
                point.mates = [other for other in points if other.side != point.side]
                if not point.mates:
                    point.mates = [other for other in points if other is not point]
                weight = WEIGHTS[point.wire.role]
                if not point.mates or point.mates[0].side == point.side:
                    weight *= 0.3
                elif point.slot is None and all(mate.slot is None for mate in point.mates):
                    weight *= 1.5
                point.weight = weight / max(1, len(point.mates)) ** 0.5
    return Field(columns, channels, parts.wires, axles)


def apart(upper: Item, lower: Item) -> int:
    """How far two items of a column that follow each other stay apart, from y to y, U."""
    a, b = upper.body, lower.body
    if a is None and b is None:
        return 2
    over = a.height + a.bottom + a.spare if a is not None else 0.0
    under = b.top + b.spare if b is not None else 0.0
    room = 1.8 if a is not None and b is not None else 1.0
    return ceil(over + under + room - 0.001)


def sort_free(target: Field) -> bool:
    """Put the free slots of every body into the order of the heights they go to; says whether any changed."""
    changed = False
    for column in target.columns:
        for item in column:
            if item.body is None:
                continue
            for part, _ in item.body.all():
                free = [point for point in item.points if point.slot is not None and point.slot.free
                        and point.slot.body is part]
                groups: dict[tuple[int, str], list[Point]] = {}
                for point in free:
                    groups.setdefault((point.side, point.slot.hole if point.slot is not None else ""), []).append(point)
                for row in groups.values():
                    if len(row) > 1:
                        changed |= _sort_row(item, row)
    return changed


def _sort_row(item: Item, row: list[Point]) -> bool:
    assert item.body is not None
    middle = item.y + item.body.height / 2

    def goal(point: Point) -> tuple[float, float]:
        across = [mate for mate in point.mates if mate.side != point.side]
        if across:
            return (0, sum(mate.y for mate in across) / len(across))
        beside = [mate.y for mate in point.mates]
        away = sum(beside) / len(beside) - middle if beside else 0
        # the nearer of two that turn back lies further inside, so that they do not cross
        return (-1, -away) if away < 0 else (1, -away)

    slots = sorted((point.slot for point in row if point.slot is not None), key=lambda slot: slot.y)
    heights = [slot.y for slot in slots]
    before = [point.slot for point in sorted(row, key=lambda p: p.slot.y if p.slot else 0)]
    wanted = sorted(row, key=goal)
    for point, y in zip(wanted, heights):
        assert point.slot is not None
        point.slot.y = y
    after = [point.slot for point in sorted(row, key=lambda p: p.slot.y if p.slot else 0)]
    return before != after
