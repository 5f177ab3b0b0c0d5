"""The order of the items in each column, searched for by annealing on ranks: fewest crossings, before any heights.

How often two wires cross in a channel depends on the order of their ends on its two sides; heights only say which of the
ways to draw them is taken, and the best is taken. So a step (an item past some neighbours, a passing wire past another
thing, a symbol turned upside down) costs a few look-ups, and some ten thousand are made.
"""

from functools import cache
from itertools import combinations
from math import exp
from random import Random
from typing import NamedTuple

from circuit.draw.field import Field, Item, Point
from circuit.draw.parts import LEFT, Body, is_wheel
from circuit.draw.refine import turnable
from circuit.draw.shape import turn_over
from circuit.model.circuit import Circuit

_HOT, _COLD = 0.9, 0.14
"""Of the annealing, in crossings."""
_ROOM, _LOOSE = 4096, 2048
"""Ends of one item on one side are told apart by less than the one; ends that may change places all have the other."""

_HEADS_CROSSED = 4
"""What two crossed lines between vehicles count as: they look like a mistake of the design."""

_UPSIDE_DOWN = 0.6
"""What a valve upside down counts as: a kind is known again by its one look in all drawings. Wheels are free."""

End = list[int]
"""Where a wire meets an item: the item's index, and how far down it."""
Meeting = tuple[list[tuple[End, End, int]], list[tuple[int, int]]]
"""Of the wires on two neighbours: the far ends of those with one end on either side, with what a crossing of them
counts as; and the others."""


@cache
def fewest(lefts: tuple[int, ...], rights: tuple[int, ...]) -> int:
    """The fewest crossings of two wires in a channel. lefts, rights: whose ends stand there, 0 or 1, from the top."""
    every = range(len(lefts) + len(rights))
    best = len(every)
    for places in combinations(every, len(lefts)):
        of_left, of_right = iter(lefts), iter(rights)
        ends: tuple[tuple[list[int], list[int]], ...] = (([], []), ([], []))
        for y in every:
            if y in places:
                ends[next(of_left)][0].append(y)
            else:
                ends[next(of_right)][1].append(y)
        best = min(best, _trunks(*ends[0], *ends[1]), _trunks(*ends[1], *ends[0]))
    return best


def _trunks(lefts: list[int], rights: list[int], other_lefts: list[int], other_rights: list[int]) -> int:
    """Crossings with the first wire's trunk left of the other's."""
    own, other = lefts + rights, other_lefts + other_rights
    return (sum(min(own) < y < max(own) for y in other_lefts)
            + sum(min(other) < y < max(other) for y in rights))


class Order(NamedTuple):
    """An order set aside: columns of item indices, and which of the bodies that may be are upside down."""

    columns: list[list[int]]
    flipped: list[bool]


class Ranks:
    """A field as ranks, with its crossings kept count of while items change places."""

    def __init__(self, circuit: Circuit, target: Field) -> None:
        self.circuit, self.target = circuit, target
        self.items = [item for column in target.columns for item in column]
        self.index = {id(item): k for k, item in enumerate(self.items)}
        self.columns: list[list[int]] = []
        self.column = [item.column for item in self.items]
        self.rank = [0] * len(self.items)
        self.axle = [target.axles[item.axle] if item.axle else 0 for item in self.items]
        self.wires: list[tuple[list[End], list[End]]] = []
        self.on: list[tuple[list[int], list[int]]] = [([], []) for _ in self.items]
        self.couples: list[bool] = []
        self.loose: list[bool] = []
        self.channel: list[range] = []
        self.ends: dict[int, End] = {}
        for channel in target.channels:
            first = len(self.wires)
            for points in channel.values():
                self.loose.append(any(point.slot is not None and point.slot.free for point in points))
                sides: tuple[list[End], list[End]] = ([], [])
                for point in points:
                    k = self.index[id(point.item)]
                    end = self.ends[id(point)] = [k, _down(point)]
                    sides[point.side == LEFT].append(end)
                    seats = self.on[k][point.side != LEFT]
                    if len(self.wires) not in seats:
                        seats.append(len(self.wires))
                self.wires.append(sides)
                self.couples.append(any(run.couples for run in points[0].wire.runs))
            self.channel += [range(first, len(self.wires))] * len(channel)
        self._met: dict[tuple[int, int], Meeting] = {}
        self.single = [len(lefts) == 1 == len(rights) for lefts, rights in self.wires]
        self.turnable = [_Turnable(circuit, item, body, self.ends) for item in self.items for body in turnable(item)
                         if any(slot.wire is not None for slot in body.slots)]
        self.begin()

    def _renumber(self) -> None:
        for column in self.columns:
            for place, k in enumerate(column):
                self.rank[k] = place

    # --- counting --------------------------------------------------------------------------------------------------

    def pair(self, a: int, b: int) -> int:
        """How often two wires of a channel cross."""
        rank = self.rank
        (la, ra), (lb, rb) = self.wires[a], self.wires[b]
        if self.single[a] and self.single[b]:
            (i, di), (j, dj) = la[0], lb[0]
            (m, dm), (n, dn) = ra[0], rb[0]
            over = (rank[i] - rank[j]) * _ROOM + di - dj
            crossed = over * ((rank[m] - rank[n]) * _ROOM + dm - dn) < 0
            return (_HEADS_CROSSED if self.couples[a] and self.couples[b] else 1) if crossed else 0
        left = sorted([(rank[k] * _ROOM + down) * 2 for k, down in la] + [(rank[k] * _ROOM + down) * 2 + 1 for k, down in lb])
        right = sorted([(rank[k] * _ROOM + down) * 2 for k, down in ra] + [(rank[k] * _ROOM + down) * 2 + 1 for k, down in rb])
        if self.loose[a] and self.loose[b]:
            return min(fewest(one, other) for one in _readings(left) for other in _readings(right))
        return fewest(tuple([end & 1 for end in left]), tuple([end & 1 for end in right]))

    def total(self) -> float:
        """Crossings of everything, axles out of order included."""
        found = float(sum(self.pair(a, b) for a, channel in enumerate(self.channel) for b in channel if b < a))
        for column in self.columns:
            numbers = [self.axle[k] for k in column if self.axle[k]]
            found += self.target.axle_cost * sum(a > b for i, a in enumerate(numbers) for b in numbers[i + 1:])
        return found + sum(each.cost for each in self.turnable if each.flipped)

    def among(self, k: int) -> int:
        """Crossings among the wires on each side of one item: what a turn of it changes, as others lie above or below
        all of them."""
        return sum(self.pair(a, b) for side in self.on[k] for a, b in combinations(side, 2))

    # --- changing --------------------------------------------------------------------------------------------------

    def exchange(self, c: int, place: int) -> float:
        """Let the items at a place of a column and below it change places; returns what that costs more."""
        column, rank = self.columns[c], self.rank
        upper, lower = column[place], column[place + 1]
        far, others = self._met.get((upper, lower)) or self._meet(upper, lower)
        more = 0.0
        for (one, down), (other, other_down), weight in far:
            over = (rank[one] - rank[other]) * _ROOM + down - other_down
            if over:
                more += weight if over < 0 else -weight
        if others:
            more -= sum(self.pair(a, b) for a, b in others)
        column[place], column[place + 1] = lower, upper
        rank[upper], rank[lower] = place + 1, place
        if others:
            more += sum(self.pair(a, b) for a, b in others)
        if self.axle[upper] and self.axle[lower]:
            more += self.target.axle_cost * (1 if self.axle[lower] > self.axle[upper] else -1)
        return more

    def _meet(self, upper: int, lower: int) -> Meeting:
        """The wires on two items that are neighbours, worked out once.

        Two with one end on either side cross after an exchange if they did not before, or the other way about: only
        their far ends are to be looked at.
        """
        far: list[tuple[End, End, int]] = []
        others: list[tuple[int, int]] = []
        for a, b in [(a, b) for side in (0, 1) for a in self.on[upper][side] for b in self.on[lower][side] if a != b]:
            if self.single[a] and self.single[b]:
                one, other = (next(end for (end,) in self.wires[wire] if end[0] != near)
                              for wire, near in ((a, upper), (b, lower)))
                far.append((one, other, _HEADS_CROSSED if self.couples[a] and self.couples[b] else 1))
            else:
                others.append((a, b))
        found = self._met[upper, lower] = far, others
        return found

    def move(self, k: int, by: int, done: list[tuple[int, int]]) -> float:
        """Move an item some places down, or up where negative, as far as its column goes; notes each exchange."""
        c, more = self.column[k], 0.0
        for _ in range(abs(by)):
            place = self.rank[k] if by > 0 else self.rank[k] - 1
            if not 0 <= place < len(self.columns[c]) - 1:
                break
            more += self.exchange(c, place)
            done.append((c, place))
        return more

    def undo(self, done: list[tuple[int, int]]) -> None:
        for c, place in reversed(done):
            column = self.columns[c]
            upper, lower = column[place], column[place + 1]
            column[place], column[place + 1] = lower, upper
            self.rank[upper], self.rank[lower] = place + 1, place

    def begin(self) -> None:
        """Take over the order of the field, with everything upright."""
        self.columns = [[self.index[id(item)] for item in column] for column in self.target.columns]
        self._renumber()
        for each in self.turnable:
            if each.flipped:
                each.turn()

    def keep(self) -> Order:
        """The present order, to come back to."""
        return Order([list(column) for column in self.columns], [each.flipped for each in self.turnable])

    def restore(self, state: Order) -> None:
        """Come back to an order, in the field too."""
        self.columns = [list(column) for column in state.columns]
        self._renumber()
        for each, flipped in zip(self.turnable, state.flipped):
            if each.flipped != flipped:
                each.turn()
            each.settle()
        self.target.columns[:] = [[self.items[k] for k in column] for column in self.columns]


class _Turnable:
    """A body that may be upside down: its ends' places both ways, so that a turn is tried without shaping it anew."""

    def __init__(self, circuit: Circuit, item: Item, body: Body, ends: dict[int, End]) -> None:
        assert item.body is not None
        points = [point for point in item.points if point.slot is not None and point.slot.body is body]
        self.circuit, self.whole, self.body, self.flipped = circuit, item.body, body, body.flipped
        self.cost = 0.0 if is_wheel(body.device) else _UPSIDE_DOWN
        self.ends = [ends[id(point)] for point in points]
        turn_over(circuit, self.whole, body)
        self.other = [_down(point) for point in points]
        turn_over(circuit, self.whole, body)

    def turn(self) -> None:
        self.flipped = not self.flipped
        for place, end in enumerate(self.ends):
            end[1], self.other[place] = self.other[place], end[1]

    def settle(self) -> None:
        """Bring the body itself into the state that was found."""
        if self.body.flipped != self.flipped:
            turn_over(self.circuit, self.whole, self.body)


def _down(point: Point) -> int:
    """How far down its item a wire ends; ends that may change places are told apart by nothing."""
    if point.slot is None:
        return 0
    if point.slot.hole:
        body = point.slot.body
        return int(body.ports[point.slot.hole][1]) + point.slot.drop + 64
    return _LOOSE if point.slot.free else point.dy + 64


def _readings(ends: list[int]) -> list[tuple[int, ...]]:
    """Whose ends stand there from the top; two readings where ends of both wires may change places."""
    first = tuple([end & 1 for end in ends])
    if all(one >> 1 != other >> 1 or one & 1 == other & 1 for one, other in zip(ends, ends[1:])):
        return [first]
    return [first, tuple([end & 1 for end in sorted(ends, key=lambda end: end ^ 1)])]


def anneal(ranks: Ranks, steps: int, chance: Random, hot: float = _HOT) -> None:
    """Search from the present order and leave the best found, in the field too. hot: at the start, in crossings."""
    now = best = ranks.total()
    kept = ranks.keep()
    movable = [k for k, c in enumerate(ranks.column) if len(ranks.columns[c]) > 1]
    passing: dict[int, list[int]] = {}
    for k, item in enumerate(ranks.items):
        if item.wire is not None:
            passing.setdefault(item.wire.number, []).append(k)
    ways = list(passing.values())
    draw = chance.random
    for step in range(steps if movable else 0):
        heat = hot * (_COLD / hot) ** (step / steps)
        kind, by = draw(), 1 if draw() < 0.5 else -1
        done: list[tuple[int, int]] = []
        if kind < 0.04 and ranks.turnable:
            each = ranks.turnable[int(draw() * len(ranks.turnable))]
            more = -float(ranks.among(each.ends[0][0]))
            each.turn()
            more += ranks.among(each.ends[0][0]) + (each.cost if each.flipped else -each.cost)
            if more <= 0 or draw() < exp(-more / heat):
                now += more
            else:
                each.turn()
        else:
            if kind < 0.15 and ways:
                way = ways[int(draw() * len(ways))]
                first = int(draw() * len(way))
                last = first + 1 + int(draw() * (len(way) - first))
                more = sum(ranks.move(k, by * (1 + int(draw() * 2)), done) for k in way[first:last])
            else:
                more = ranks.move(movable[int(draw() * len(movable))], by * (1 + int(draw() * draw() * 5)), done)
            if more <= 0 or draw() < exp(-more / heat):
                now += more
            else:
                ranks.undo(done)
        if now < best - 1e-9:
            best, kept = now, ranks.keep()
    ranks.restore(kept)
