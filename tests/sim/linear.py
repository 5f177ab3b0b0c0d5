"""A bare set of linear equations in the rows that the solver works on."""

from circuit.sim.elimination import sweeps
from circuit.sim.packing import (
    BEGIN,
    BEGIN_END,
    DIAGONAL,
    DOWN_COLUMN,
    DOWN_ROW,
    DOWN_SLOT,
    DOWNS,
    GROUP,
    GROUP_END,
    INDEX_HEAD,
    INNER,
    LOW,
    NODES,
    ORDER,
    SOURCE,
    TARGET,
    UP_COLUMN,
    UP_ROW,
    UP_SLOT,
    UPS,
    W_INVERSE,
    W_JACOBIAN,
    W_MATRIX,
    W_SLOPE,
    W_X,
)


def system(moves, full):
    """The rows `index` and `room` for a matrix; the solver takes it as less the derivatives, with slopes of nothing."""
    size, inner = len(moves.diagonal), len(moves.slots)
    index = [0] * INDEX_HEAD
    index[NODES], index[INNER] = size, inner
    down, up = sweeps(moves.order, (moves.group, moves.row, moves.low), (moves.back, moves.upper, moves.column))
    index[DOWNS], index[UPS] = len(down), len(up)
    for head, row in ((DIAGONAL, moves.diagonal), (ORDER, moves.order), (GROUP, moves.group), (LOW, moves.low),
                      (BEGIN, moves.begin), (TARGET, moves.target), (SOURCE, moves.source),
                      *zip((DOWN_ROW, DOWN_SLOT, DOWN_COLUMN), zip(*down)),
                      *zip((UP_ROW, UP_SLOT, UP_COLUMN), zip(*up))):
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
