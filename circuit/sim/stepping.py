"""One step of a Rosenbrock method: linear equations solved stage by stage with one factored matrix.

The unknowns are the masses of air in the spaces, so that what a step takes from one space it gives to the next to the
last digit; pressures follow from them, and a step is judged by its error in Pa.

In every function: index, whole and real are the circuit, room is the run's own, `pressure` the place of a row of
pressures in it, `since` the s after the time for which the inputs stand. Written in the part of Python that a
compiler for numbers takes: loops over flat rows, no objects made. The same text also runs uncompiled on plain lists.
`packing` says what lies where. Places are unsigned once compiled: they are added to each other, never to a written
number, which would make them signed or worse.
"""

from math import sqrt

from circuit.sim.elements import flows
from circuit.sim.equations import outside_pressures, pressures
from circuit.sim.packing import (
    BD, BD_END, BD_NODE, BD_SLOT, BEGIN, BEGIN_END, DIAGONAL, DOWNS, DOWN_COLUMN, DOWN_ROW, DOWN_SLOT, GROUP, GROUP_END,
    INNER, LOW, LOWEST, NODES, N_NODES, ORDER, OUTSIDE, PLACES_K, SOURCE, TARGET, UPS, UP_COLUMN, UP_ROW, UP_SLOT, WIDE,
    W_FIRST, W_FLOW, W_HELD, W_INVERSE, W_JACOBIAN, W_MATRIX, W_SLOPE, W_STAGE, W_STAGE_HELD, W_TIME, W_X,
)


def factor(index, room, scale):
    """The matrix of a step, slope times `scale` less the derivatives, as L D U with ones on the diagonals of L and
    U."""
    matrix = index[W_MATRIX]
    jacobian = index[W_JACOBIAN]
    slope = index[W_SLOPE]
    inverses = index[W_INVERSE]
    diagonal = index[DIAGONAL]
    order = index[ORDER]
    group = index[GROUP]
    group_end = index[GROUP_END]
    begin = index[BEGIN]
    begin_end = index[BEGIN_END]
    low = index[LOW]
    target = index[TARGET]
    source = index[SOURCE]
    for j in range(index[INNER]):
        room[matrix + j] = -room[jacobian + j]
    for i in range(index[NODES]):
        room[matrix + index[diagonal + i]] += room[slope + i] * scale
    for place in range(index[NODES]):
        k = index[order + place]
        inverse = 1.0 / room[matrix + index[diagonal + k]]
        room[inverses + k] = inverse
        for s in range(index[group + place], index[group_end + place]):
            at = matrix + index[low + s]
            share = room[at] * inverse
            room[at] = share
            for u in range(index[begin + s], index[begin_end + s]):
                room[matrix + index[target + u]] -= share * room[matrix + index[source + u]]
    upper = index[UP_SLOT]
    row = index[UP_ROW]
    for u in range(index[UPS]):
        room[matrix + index[upper + u]] *= room[inverses + index[row + u]]


def solve(index, room):
    """Overwrites the right side with the solution."""
    matrix = index[W_MATRIX]
    inverses = index[W_INVERSE]
    x = index[W_X]
    row = index[DOWN_ROW]
    slot = index[DOWN_SLOT]
    column = index[DOWN_COLUMN]
    for s in range(index[DOWNS]):
        room[x + index[row + s]] -= room[matrix + index[slot + s]] * room[x + index[column + s]]
    for i in range(index[NODES]):
        room[x + i] *= room[inverses + i]
    row = index[UP_ROW]
    slot = index[UP_SLOT]
    column = index[UP_COLUMN]
    for s in range(index[UPS]):
        room[x + index[row + s]] -= room[matrix + index[slot + s]] * room[x + index[column + s]]


def blend(index, room, to, base, late, other, stages, count, weights, first, per):
    """Writes row `base` + late times row `other` + the stages' increments, weighted, into row `to`.

    stages: where the row of each stage begins in `index`. count: how many. first: of the weights. per: a factor on
    them. Three at once, because a machine is quicker with one long loop than with several short ones.
    """
    wide = index[WIDE]
    one = weights[first] * per if count > 0 else 0.0
    two = weights[first + 1] * per if count > 1 else 0.0
    three = weights[first + 2] * per if count > 2 else 0.0
    row_1 = index[stages]
    row_2 = index[stages + 1]
    row_3 = index[stages + 2]
    for n in range(wide):
        room[to + n] = (room[base + n] + late * room[other + n] + one * room[row_1 + n] + two * room[row_2 + n]
                        + three * room[row_3 + n])
    for j in range(3, count):
        share = weights[first + j] * per
        row = index[stages + j]
        for n in range(wide):
            room[to + n] += share * room[row + n]


def attempt(index, whole, real, room, tableau, h, since):
    """One step of size h from the flows in the row of the first. Leaves the new masses and pressures in the rows of a
    stage and returns the error, the root of the mean square in Pa."""
    stages, gamma, _, ta, tc, alpha, gammas, tm, fresh = tableau
    nodes = index[NODES]
    wide = index[WIDE]
    stage = index[W_STAGE]
    flow = index[W_FIRST]
    in_time = index[W_TIME]
    slope = index[W_SLOPE]
    held = index[W_HELD]
    x = index[W_X]
    places = index[PLACES_K]
    factor(index, room, 1.0 / (h * gamma))
    for i in range(stages):
        row = i * (i - 1) // 2
        if i > 0 and fresh[i] == 1:
            blend(index, room, index[W_STAGE_HELD], held, 0.0, held, places, i, ta, row, 1.0)
            pressures(index, whole, real, room)
            for n in range(nodes):
                room[stage + n] = room[stage + n] if room[stage + n] > real[LOWEST] else real[LOWEST]
            outside_pressures(index, room, stage, since + alpha[i] * h)
            flows(index, whole, real, room, stage, since + alpha[i] * h, False)
            flow = index[W_FLOW]
        # outside nodes and all; the solver leaves those as they are
        blend(index, room, x, flow, gammas[i] * h, in_time, places, i, tc, row, 1.0 / h)
        solve(index, room)
        mine = index[places + i]
        for n in range(wide):
            room[mine + n] = room[slope + n] * room[x + n]
        for o in range(index[OUTSIDE]):
            total = room[x + (nodes + o)]
            for u in range(index[index[BD] + o], index[index[BD_END] + o]):
                total += room[index[W_JACOBIAN] + index[index[BD_SLOT] + u]] * room[x + index[index[BD_NODE] + u]]
            room[mine + (nodes + o)] = h * gamma * total
    error = 0.0
    for n in range(nodes):
        error += room[x + n] * room[x + n]
    blend(index, room, index[W_STAGE_HELD], held, 0.0, held, places, stages, tm, 0, 1.0)
    pressures(index, whole, real, room)
    for n in range(nodes):
        if not room[stage + n] > real[LOWEST]:
            return 1e30
    return sqrt(error / whole[N_NODES])


FUNCTIONS = (factor, solve, blend, attempt)
"""In the order in which they must be compiled."""
