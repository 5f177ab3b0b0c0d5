"""One step of the integration: a linear set of equations solved for each stage of a Rosenbrock method.

Masses of air are what is integrated, so that what leaves one space it gives to the next to the last digit; pressures
follow from them, and a step is judged by its error in Pa.

In every function: a is the circuit, room the run's own, `since` the s after the time for which the inputs stand. Written
in the small part of Python that `translate` knows.
"""

from math import sqrt

from circuit.sim.arrays import Arrays, Room, Tableau
from circuit.sim.elements import flows, pushes
from circuit.sim.equations import outside_pressures, pressures


def factor(a: Arrays, room: Room, scale: float) -> None:
    """The matrix of a step, slope times `scale` less the derivatives, as L D U with ones on the diagonals of L and
    U."""
    for j in range(a.inner):
        room.matrix[j] = -room.jacobian[j]
    for i in range(a.nodes):
        room.matrix[a.lu_diagonal[i]] += room.slope[i] * scale
    for place in range(a.nodes):
        k = a.lu_order[place]
        inverse = 1.0 / room.matrix[a.lu_diagonal[k]]
        room.inverse[k] = inverse
        for s in range(a.lu_group[place], a.lu_group[place + 1]):
            at = a.lu_low[s]
            share = room.matrix[at] * inverse
            room.matrix[at] = share
            for u in range(a.lu_begin[s], a.lu_begin[s + 1]):
                room.matrix[a.lu_target[u]] -= share * room.matrix[a.lu_source[u]]
    for u in range(a.ups):
        room.matrix[a.up_slot[u]] *= room.inverse[a.up_row[u]]


def solve(a: Arrays, room: Room) -> None:
    """Overwrites the right side with the solution."""
    for s in range(a.downs):
        room.x[a.down_row[s]] -= room.matrix[a.down_slot[s]] * room.x[a.down_column[s]]
    for i in range(a.nodes):
        room.x[i] *= room.inverse[i]
    for s in range(a.ups):
        room.x[a.up_row[s]] -= room.matrix[a.up_slot[s]] * room.x[a.up_column[s]]


def blend(a: Arrays, room: Room, to: list[float], base: list[float], late: float, other: list[float], count: int,
          weights: list[float], first: int, per: float) -> None:
    """Writes row `base` + late times row `other` + the first stages' increments, weighted, into row `to`.

    count: of stages. first: of the weights. per: a factor on them. Three at once, because a machine is quicker with one
    long loop than with several short ones.
    """
    both = a.both
    one = weights[first] * per if count > 0 else 0.0
    two = weights[first + 1] * per if count > 1 else 0.0
    three = weights[first + 2] * per if count > 2 else 0.0
    second = both
    third = 2 * both
    for n in range(both):
        to[n] = base[n] + late * other[n] + one * room.k[n] + two * room.k[second + n] + three * room.k[third + n]
    for j in range(3, count):
        share = weights[first + j] * per
        row = j * both
        for n in range(both):
            to[n] += share * room.k[row + n]


def attempt(a: Arrays, room: Room, method: Tableau, h: float, since: float) -> float:
    """One step of size h from the flows in the row of the first. Leaves the new masses and pressures in the rows of a
    stage and returns the error, the root of the mean square in Pa."""
    both = a.both
    gamma = method.gamma
    flow = room.first
    factor(a, room, 1.0 / (h * gamma))
    for i in range(method.stages):
        row = i * (i - 1) // 2
        late = method.gammas[i] * h
        if i > 0 and method.fresh[i] == 1:
            blend(a, room, room.stage_held, room.held, 0.0, room.held, i, method.a, row, 1.0)
            pressures(a, room)
            for n in range(a.nodes):
                room.stage[n] = max(a.lowest, room.stage[n])
            outside_pressures(a, room, room.stage, since + method.alpha[i] * h)
            pushes(a, room, room.stage, since + method.alpha[i] * h)
            flows(a, room, room.stage, False)
            flow = room.flow
        # outside nodes and all; the solver leaves those as they are
        blend(a, room, room.x, flow, late, room.in_time, i, method.c, row, 1.0 / h)
        solve(a, room)
        mine = i * both
        for n in range(both):
            room.k[mine + n] = room.slope[n] * room.x[n]
        for o in range(a.outside):
            total = room.x[a.nodes + o]
            for u in range(a.bd_start[o], a.bd_start[o + 1]):
                total += room.jacobian[a.bd_slot[u]] * room.x[a.bd_node[u]]
            room.k[mine + a.nodes + o] = h * gamma * total
    error = 0.0
    for n in range(a.nodes):
        error += room.x[n] * room.x[n]
    blend(a, room, room.stage_held, room.held, 0.0, room.held, method.stages, method.m, 0, 1.0)
    pressures(a, room)
    floor = room.stage[a.nodes]
    for o in range(a.outside):
        floor = min(floor, room.stage[a.nodes + o])
    # nothing falls below all that is outside: as far as it does is an error too
    under = 0.0
    for n in range(a.nodes):
        if not room.stage[n] > a.lowest:
            return 1e30
        under = max(under, min(floor, room.pressure[n]) - room.stage[n])
    return max(under, sqrt(error / a.nodes))


FUNCTIONS = (factor, solve, blend, attempt)
"""What is compiled of this file."""
