"""A bare set of linear equations in the rows that the solver works on."""

from types import SimpleNamespace

from circuit.sim.elimination import sweeps


def system(moves, full):
    """The circuit and the room for a matrix; the solver takes it as less the derivatives, with slopes of nothing."""
    size, inner = len(moves.diagonal), len(moves.slots)
    down, up = sweeps(moves.order, (moves.group, moves.row, moves.low), (moves.back, moves.upper, moves.column))
    (down_row, down_slot, down_column), (up_row, up_slot, up_column) = zip(*down), zip(*up)
    arrays = SimpleNamespace(
        nodes=size, inner=inner, downs=len(down), ups=len(up), lu_diagonal=moves.diagonal, lu_order=moves.order,
        lu_group=moves.group, lu_low=moves.low, lu_begin=moves.begin, lu_target=moves.target, lu_source=moves.source,
        down_row=down_row, down_slot=down_slot, down_column=down_column, up_row=up_row, up_slot=up_slot,
        up_column=up_column)
    room = SimpleNamespace(jacobian=[0.0] * inner, matrix=[0.0] * inner, slope=[0.0] * size, inverse=[0.0] * size,
                           x=[0.0] * size)
    for (i, j), slot in moves.slots.items():
        room.jacobian[slot] = -full[i, j]
    return arrays, room
