"""In which order to eliminate the unknowns of a sparse set of equations, worked out once and kept as a list of moves.

The pattern of a circuit is nearly a tree, so that eliminating the least joined unknown first adds few new places. Of
those joined alike the one with the shortest chain behind it goes first, which keeps chains of waiting short. The list
has no searching left in it: a run of multiply-and-subtract on numbered slots.
"""

from heapq import heapify, heappop, heappush
from typing import NamedTuple


class Moves(NamedTuple):
    """slots: (row, column) to slot, new places included; diagonal: slot of each unknown.

    Factoring, pivot by pivot of `order`: for each of the pivot's steps (its range in `group`), slot `low` is divided by
    the pivot's diagonal; then, for the step's range of `source`, that slot times it is taken from `target`. Solving:
    forward along the same steps, row from pivot, then back along `order` with the ranges of (upper, column).
    """

    slots: dict[tuple[int, int], int]
    diagonal: list[int]
    row: list[int]
    low: list[int]
    group: list[int]
    begin: list[int]
    target: list[int]
    source: list[int]
    order: list[int]
    back: list[int]
    upper: list[int]
    column: list[int]


def plan(size: int, entries: set[tuple[int, int]]) -> Moves:
    """The moves for a square pattern without pivoting; the diagonal is added to `entries`, (row, column) each."""
    slots = {pair: place for place, pair in enumerate(sorted(entries | {(i, i) for i in range(size)}))}
    rows: list[set[int]] = [set() for _ in range(size)]
    columns: list[set[int]] = [set() for _ in range(size)]
    for i, j in entries:
        if i != j:
            rows[i].add(j)
            columns[j].add(i)
    moves = Moves(slots, [slots[i, i] for i in range(size)], [], [], [0], [0], [], [], [], [0], [], [])
    done = [False] * size
    level = [0] * size
    waiting = [(len(rows[i] | columns[i]), 0, i) for i in range(size)]
    heapify(waiting)
    while waiting:
        degree, depth, k = heappop(waiting)
        if done[k]:
            continue
        now = len(rows[k] | columns[k])
        if (degree, depth) != (now, level[k]):
            heappush(waiting, (now, level[k], k))
            continue
        done[k] = True
        _eliminate(k, rows, columns, slots, moves)
        for other in rows[k] | columns[k]:
            level[other] = max(level[other], level[k] + 1)
            heappush(waiting, (len(rows[other] | columns[other]), level[other], other))
    return moves


def _eliminate(k, rows, columns, slots, moves) -> None:  # type: ignore[no-untyped-def]
    right = sorted(rows[k])
    for i in sorted(columns[k]):
        moves.row.append(i)
        moves.low.append(slots[i, k])
        for j in right:
            if (i, j) not in slots:
                slots[i, j] = len(slots)
            if i != j and j not in rows[i]:
                rows[i].add(j)
                columns[j].add(i)
            moves.target.append(slots[i, j])
            moves.source.append(slots[k, j])
        moves.begin.append(len(moves.target))
        rows[i].discard(k)
    for j in right:
        columns[j].discard(k)
    moves.order.append(k)
    moves.group.append(len(moves.row))
    for j in right:
        moves.upper.append(slots[k, j])
        moves.column.append(j)
    moves.back.append(len(moves.upper))


Part = tuple[list[int], list[int], list[int]]
Sweep = list[tuple[int, int, int]]
"""(row, slot, column) each: that slot times the unknown of the column is taken from the row."""


def sweeps(order: list[int], below: Part, above: Part) -> tuple[Sweep, Sweep]:
    """The moves of solving, forward and back, without the divisions by the diagonal between the two.

    order, below (group, row, low), above (back, upper, column): of `Moves`. Moves that need not wait for each other
    stand together, so that a machine that can do several at once finds them.
    """
    (group, rows, lows), (back, uppers, columns) = below, above
    places = range(len(order))
    forward = [(rows[s], lows[s], order[place]) for place in places for s in range(*group[place:place + 2])]
    backward = [(order[place], uppers[u], columns[u]) for place in reversed(places)
                for u in range(*back[place:place + 2])]
    return _by_waiting(len(order), forward), _by_waiting(len(order), backward)


def _by_waiting(size: int, moves: Sweep) -> Sweep:
    """Ordered by how long a chain of others each has to wait for, then so that rows take turns."""
    waits, met, keyed = [0] * size, [0] * size, []
    for row, slot, column in moves:
        waits[row] = max(waits[row], waits[column] + 1)
        keyed.append((waits[column], met[row], row, slot, column))
        met[row] += 1
    return [(row, slot, column) for *_, row, slot, column in sorted(keyed)]
