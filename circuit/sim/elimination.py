"""In which order to eliminate the unknowns of a sparse set of equations, worked out once and kept as a list of moves.

The pattern of a circuit is nearly a tree, so that eliminating the least joined unknown first adds few new places. The
list has no searching left in it: a run of multiply-and-subtract on numbered slots.
"""

from heapq import heapify, heappop, heappush
from typing import NamedTuple


class Moves(NamedTuple):
    """slots: (row, column) to slot, new places included; diagonal: slot of each unknown.

    Factoring: for each step, slot `low` is divided by the diagonal of `pivot`, then for its range of `source` that slot
    times it is taken from `target`. Solving: forward along (row, low, pivot), then back along `order` with the ranges of
    (upper, column).
    """

    slots: dict[tuple[int, int], int]
    diagonal: list[int]
    row: list[int]
    low: list[int]
    pivot: list[int]
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
    moves = Moves(slots, [slots[i, i] for i in range(size)], [], [], [], [0], [], [], [], [0], [], [])
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
    moves.order.reverse()
    _turn_back(moves)
    return moves


def _eliminate(k, rows, columns, slots, moves) -> None:  # type: ignore[no-untyped-def]
    right = sorted(rows[k])
    for i in sorted(columns[k]):
        moves.row.append(i)
        moves.low.append(slots[i, k])
        moves.pivot.append(k)
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
    moves.back.append(len(right))
    for j in right:
        moves.upper.append(slots[k, j])
        moves.column.append(j)


def _turn_back(moves: Moves) -> None:
    """Puts the rows of the upper triangle in the order in which they are solved, last eliminated first."""
    counts = moves.back[1:]
    starts = [0]
    for count in counts:
        starts.append(starts[-1] + count)
    upper, column, back = [], [], [0]
    for place in reversed(range(len(counts))):
        upper += moves.upper[starts[place]:starts[place + 1]]
        column += moves.column[starts[place]:starts[place + 1]]
        back.append(len(upper))
    moves.upper[:], moves.column[:], moves.back[:] = upper, column, back
