"""In which order to eliminate the unknowns of a sparse set of equations, worked out once and kept as a list of moves.

The pattern of a circuit is nearly a tree, so that eliminating the least joined unknown first adds few new places. The
list has no searching left in it: a run of multiply-and-subtract on numbered slots.
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
    waiting = [(len(rows[i] | columns[i]), i) for i in range(size)]
    heapify(waiting)
    while waiting:
        degree, k = heappop(waiting)
        if done[k]:
            continue
        now = len(rows[k] | columns[k])
        if degree != now:
            heappush(waiting, (now, k))
            continue
        done[k] = True
        _eliminate(k, rows, columns, slots, moves)
        for other in rows[k] | columns[k]:
            heappush(waiting, (len(rows[other] | columns[other]), other))
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
