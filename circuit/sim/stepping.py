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

from circuit.sim.equations import flows, outside_pressures, pressures
from circuit.sim.packing import (
    BACK, BACK_END, BACK_ORDER, BD, BD_END, BD_NODE, BD_SLOT, BEGIN, BEGIN_END, BOTH, COLUMN, DIAGONAL, GROUP,
    GROUP_END, INNER, LOW, LOWEST, NODES, N_NODES, ORDER, OUTSIDE, PLACE_K, ROW, SOURCE, TARGET, UPPER, W_FLOW,
    W_HELD, W_INVERSE, W_JACOBIAN, W_MATRIX, W_SLOPE, W_STAGE, W_STAGE_HELD, W_TIME, W_X,
)


def factor(index, room, scale):
    """The matrix of a step, slope times `scale` less the derivatives, ready to solve with."""
    matrix = index[W_MATRIX]
    jacobian = index[W_JACOBIAN]
    slope = index[W_SLOPE]
    diagonal = index[DIAGONAL]
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
        k = index[index[ORDER] + place]
        inverse = 1.0 / room[matrix + index[diagonal + k]]
        room[index[W_INVERSE] + k] = inverse
        for s in range(index[index[GROUP] + place], index[index[GROUP_END] + place]):
            at = matrix + index[low + s]
            share = room[at] * inverse
            room[at] = share
            for u in range(index[begin + s], index[begin_end + s]):
                room[matrix + index[target + u]] -= share * room[matrix + index[source + u]]


def solve(index, room):
    """Overwrites the right side with the solution."""
    matrix = index[W_MATRIX]
    x = index[W_X]
    low = index[LOW]
    row = index[ROW]
    upper = index[UPPER]
    column = index[COLUMN]
    for place in range(index[NODES]):
        known = room[x + index[index[ORDER] + place]]
        for s in range(index[index[GROUP] + place], index[index[GROUP_END] + place]):
            room[x + index[row + s]] -= room[matrix + index[low + s]] * known
    for place in range(index[NODES]):
        i = index[index[BACK_ORDER] + place]
        total = room[x + i]
        for u in range(index[index[BACK] + place], index[index[BACK_END] + place]):
            total -= room[matrix + index[upper + u]] * room[x + index[column + u]]
        room[x + i] = total * room[index[W_INVERSE] + i]


def add_stages(index, room, weights, first, count):
    """Puts the masses and the stages' increments, weighted, into the row of a stage's masses. first: of the weights."""
    nodes = index[NODES]
    to = index[W_STAGE_HELD]
    held = index[W_HELD]
    for n in range(nodes):
        room[to + n] = room[held + n]
    for j in range(count):
        share = weights[first + j]
        if share != 0.0:
            other = index[index[PLACE_K] + j]
            for n in range(nodes):
                room[to + n] += share * room[other + n]


def attempt(index, whole, real, room, tableau, h, since):
    """One step of size h. Leaves the new masses and pressures in the rows of a stage and returns the error, the root of
    the mean square in Pa."""
    stages, gamma, _, ta, tc, alpha, gammas, tm, fresh = tableau
    nodes = index[NODES]
    both = index[BOTH]
    stage = index[W_STAGE]
    flow = index[W_FLOW]
    in_time = index[W_TIME]
    slope = index[W_SLOPE]
    x = index[W_X]
    factor(index, room, 1.0 / (h * gamma))
    for i in range(stages):
        row = i * (i - 1) // 2
        if i > 0 and fresh[i] == 1:
            add_stages(index, room, ta, row, i)
            pressures(index, whole, real, room)
            for n in range(nodes):
                if not room[stage + n] > real[LOWEST]:
                    room[stage + n] = real[LOWEST]
            outside_pressures(index, room, stage, since + alpha[i] * h)
            flows(index, whole, real, room, stage, since + alpha[i] * h, False)
        late = gammas[i] * h
        # the right side is put together where this stage's increment will be, outside nodes and all
        mine = index[index[PLACE_K] + i]
        for n in range(both):
            room[mine + n] = room[flow + n] + late * room[in_time + n]
        for j in range(i):
            share = tc[row + j] / h
            other = index[index[PLACE_K] + j]
            for n in range(both):
                room[mine + n] += share * room[other + n]
        for n in range(nodes):
            room[x + n] = room[mine + n]
        solve(index, room)
        for n in range(nodes):
            room[mine + n] = room[slope + n] * room[x + n]
        for o in range(index[OUTSIDE]):
            total = room[mine + (nodes + o)]
            for u in range(index[index[BD] + o], index[index[BD_END] + o]):
                total += room[index[W_JACOBIAN] + index[index[BD_SLOT] + u]] * room[x + index[index[BD_NODE] + u]]
            room[mine + (nodes + o)] = h * gamma * total
    error = 0.0
    for n in range(nodes):
        error += room[x + n] * room[x + n]
    add_stages(index, room, tm, 0, stages)
    pressures(index, whole, real, room)
    for n in range(nodes):
        if not room[stage + n] > real[LOWEST]:
            return 1e30
    return sqrt(error / whole[N_NODES])


FUNCTIONS = (factor, solve, add_stages, attempt)
"""In the order in which they must be compiled."""
