"""What the inputs mean for weighted sums, and the air that spaces hold.

In every function: a is the circuit, room the run's own, `pressure` a row of pressures in it, `since` the s after the time
for which the inputs stand. Written in the small part of Python that `translate` knows.
"""

from circuit.sim.arrays import Arrays, Room
from circuit.sim.elements import pushes, stand


def refresh(a: Arrays, room: Room, until: float) -> None:
    """Weighted sums' constants at the time of the inputs' values, and their rise a second; and up to when they hold:
    `until`, s, or where a question that asks inputs alone turns. Up to there it has one answer, that of the middle."""
    for k in range(a.sums):
        room.constant[k] = a.af_constant[k]
        room.drift[k] = 0.0
    for j in range(a.entries):
        room.constant[a.it_sum[j]] += a.it_weight[j] * room.input[a.it_slot[j]]
        room.drift[a.it_sum[j]] += a.it_weight[j] * room.rate[a.it_slot[j]]
    stop = until
    for k in range(a.sums):
        if a.af_middle[k] == 1 and room.drift[k] != 0.0:
            turns = room.since - room.constant[k] / room.drift[k]
            if turns > room.t + a.least_step and turns < stop - a.least_step:
                stop = turns
    middle = 0.5 * (room.t + stop) - room.since
    for k in range(a.sums):
        if a.af_middle[k] == 1:
            room.constant[k] += middle * room.drift[k]
            room.drift[k] = 0.0
        room.haste[k] = room.drift[k]
    room.stop = stop
    stand(a, room)
    pushes(a, room, room.pressure, room.t - room.since)


def answer(a: Arrays, room: Room, code: int) -> int:
    """Which weighted sum a tree leads to, the sums being those of `weigh`."""
    while code >= 0:
        code = a.tr_yes[code] if room.value[a.tr_sum[code]] > 0.0 else a.tr_no[code]
    return -1 - code


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


FUNCTIONS = (refresh, answer, outside_pressures, slopes, pressures, air)
"""What is compiled of this file."""
