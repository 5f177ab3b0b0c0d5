"""What the inputs mean for weighted sums, and the air that spaces hold.

In every function: a is the circuit, room the run's own, `pressure` a row of pressures in it, `since` the s after the time
for which the inputs stand. Written in the small part of Python that `translate` knows.
"""

from circuit.sim.arrays import Arrays, Room
from circuit.sim.elements import stand


def refresh(a: Arrays, room: Room, until: float) -> None:
    """Weighted sums' constants at the time of the inputs' values, and their rise a second. until: s, the segment's
    end."""
    middle = 0.5 * (until - room.since)
    for k in range(a.sums):
        room.constant[k] = a.af_constant[k]
        room.drift[k] = 0.0
    for j in range(a.entries):
        k = a.it_sum[j]
        slot = a.it_slot[j]
        weight = a.it_weight[j]
        if a.af_middle[k] == 1:
            room.constant[k] += weight * (room.input[slot] + middle * room.rate[slot])
        else:
            room.constant[k] += weight * room.input[slot]
            room.drift[k] += weight * room.rate[slot]
    stand(a, room)


def sum_of(a: Arrays, room: Room, k: int, pressure: list[float], since: float) -> float:
    """A weighted sum."""
    total = room.constant[k] + room.drift[k] * since
    for j in range(a.af_start[k], a.af_start[k + 1]):
        total += room.weight[j] * pressure[a.at_node[j]]
    return total


def answer(a: Arrays, room: Room, code: int, pressure: list[float], since: float) -> int:
    """Which weighted sum a tree leads to."""
    while code >= 0:
        code = a.tr_yes[code] if sum_of(a, room, a.tr_sum[code], pressure, since) > 0.0 else a.tr_no[code]
    return -1 - code


def freeze(a: Arrays, room: Room, since: float) -> None:
    """Works out the frozen factors at this moment and scales what they stand before."""
    for j in range(a.frozen):
        room.factor[j] = sum_of(a, room, a.fz_sum[j], room.pressure, since)
    for j in range(a.scaled):
        room.weight[a.ft_term[j]] = a.at_weight[a.ft_term[j]]
    for j in range(a.scaled):
        room.weight[a.ft_term[j]] += a.ft_weight[j] * room.factor[a.ft_factor[j]]


def outside_pressures(a: Arrays, room: Room, pressure: list[float], since: float) -> None:
    """The pressures of the atmosphere, intakes and feeds."""
    for j in range(a.outside):
        slot = a.os_slot[j]
        pressure[a.nodes + j] = room.input[slot] + room.rate[slot] * since


def slopes(a: Arrays, room: Room) -> None:
    """How much more air the spaces hold for each Pa, kg/Pa, where that changes with pressure."""
    for n in range(a.bends):
        i = a.nd_bend[n]
        piece = a.nd_start[i]
        last = a.nd_start[i + 1] - 1
        p = room.pressure[i]
        while piece < last and a.pc_pressure[piece + 1] <= p:
            piece += 1
        q = p - a.pc_pressure[piece]
        room.slope[i] = a.pc_1[piece] + q * (2.0 * a.pc_2[piece] + q * (3.0 * a.pc_3[piece] + q * 4.0 * a.pc_4[piece]))


def pressures(a: Arrays, room: Room) -> None:
    """The pressures at which spaces hold the air of a stage; looked for from those at the start of the step."""
    for i in range(a.nodes):
        room.stage[i] = room.stage_held[i] * a.nd_per[i]
    for n in range(a.bends):
        i = a.nd_bend[n]
        piece = a.nd_start[i]
        last = a.nd_start[i + 1] - 1
        while piece < last and a.pc_held[piece + 1] <= room.stage_held[i]:
            piece += 1
        wanted = room.stage_held[i] - a.pc_held[piece]
        from_ = a.pc_pressure[piece]
        end = a.pc_pressure[piece + 1] - from_ if piece < last else 1e9
        c1 = a.pc_1[piece]
        c2 = a.pc_2[piece]
        c3 = a.pc_3[piece]
        c4 = a.pc_4[piece]
        q = min(max(room.pressure[i] - from_, 0.0), end)
        for _ in range(30):
            value = q * (c1 + q * (c2 + q * (c3 + q * c4)))
            steep = c1 + q * (2.0 * c2 + q * (3.0 * c3 + q * 4.0 * c4))
            change = (wanted - value) / steep
            q = min(max(q + change, 0.0), end)
            if change < 1e-2 and change > -1e-2:
                break
        room.stage[i] = from_ + q


def air(a: Arrays, room: Room) -> float:
    """The air in all spaces at their pressures, kg: what the balance compares with what came and went."""
    total = 0.0
    for i in range(a.nodes):
        piece = a.nd_start[i]
        last = a.nd_start[i + 1] - 1
        p = room.pressure[i]
        while piece < last and a.pc_pressure[piece + 1] <= p:
            piece += 1
        q = p - a.pc_pressure[piece]
        total += a.pc_held[piece] + q * (a.pc_1[piece] + q * (a.pc_2[piece] + q * (a.pc_3[piece] + q * a.pc_4[piece])))
    return total


FUNCTIONS = (refresh, sum_of, answer, freeze, outside_pressures, slopes, pressures, air)
"""What is compiled of this file."""
