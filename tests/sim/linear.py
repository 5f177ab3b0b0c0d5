"""A bare set of linear equations in the rows that the solver works on."""

from circuit.sim.packing import (
    BACK, BACK_END, BACK_ORDER, BEGIN, BEGIN_END, COLUMN, DIAGONAL, GROUP, GROUP_END, INDEX_HEAD, INNER, LOW, NODES,
    ORDER, ROW, SOURCE, TARGET, UPPER, W_INVERSE, W_JACOBIAN, W_MATRIX, W_SLOPE, W_X,
)


def system(moves, full):
    """The rows `index` and `room` for a matrix; the solver takes it as less the derivatives, with slopes of nothing."""
    size, inner = len(moves.diagonal), len(moves.slots)
    index = [0] * INDEX_HEAD
    index[NODES], index[INNER] = size, inner
    for head, row in ((DIAGONAL, moves.diagonal), (ORDER, moves.order), (GROUP, moves.group), (ROW, moves.row),
                      (LOW, moves.low), (BEGIN, moves.begin), (TARGET, moves.target), (SOURCE, moves.source),
                      (UPPER, moves.upper), (COLUMN, moves.column), (BACK_ORDER, moves.order[::-1]),
                      (BACK, moves.back[:-1][::-1]), (BACK_END, moves.back[1:][::-1])):
        index[head] = len(index)
        index += row
    index[GROUP_END], index[BEGIN_END] = index[GROUP] + 1, index[BEGIN] + 1
    room = []
    for head, count in ((W_JACOBIAN, inner), (W_MATRIX, inner), (W_SLOPE, size), (W_INVERSE, size), (W_X, size)):
        index[head] = len(room)
        room += [0.0] * count
    for (i, j), slot in moves.slots.items():
        room[index[W_JACOBIAN] + slot] = -full[i, j]
    return index, room
