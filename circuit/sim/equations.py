"""What the inputs mean for weighted sums, and the air that spaces hold.

In every function: index, whole and real are the circuit, room is the run's own, `pressure` the place of a row of
pressures in it, `since` the s after the time for which the inputs stand. Written in the part of Python that a
compiler for numbers takes: loops over flat rows, no objects made. The same text also runs uncompiled on plain lists.
`packing` says what lies where. Places are unsigned once compiled: they are added to each other, never to a written
number, which would make them signed or worse.
"""

from circuit.sim.elements import stand
from circuit.sim.packing import (
    AF, AF_END, AT_NODE, BEND, BEND_COUNT, ENTRIES, FROZEN, FT, FZ, IT, LATCHES, MIDDLE, ND, ND_END, NODES, OS,
    OUTSIDE, PC_WIDE, R_AF, R_AT, R_FT, R_IT, R_PC, R_PER, SCALED, SUMS, TR, TR_WIDE, W_CONSTANT, W_DRIFT, W_INPUT,
    W_LATCH, W_PRESSURE, W_RATE, W_SLOPE, W_STAGE, W_STAGE_HELD, W_STATE, W_WEIGHT,
)


def refresh(index, whole, real, room, until):
    """Weighted sums' constants at the time of the inputs' values, and their rise a second. until: s, the segment's
    end."""
    constant = index[W_CONSTANT]
    drift = index[W_DRIFT]
    middle = 0.5 * (until - room[index[W_STATE] + 2])
    for k in range(whole[SUMS]):
        room[constant + k] = real[whole[R_AF] + k]
        room[drift + k] = 0.0
    for j in range(whole[ENTRIES]):
        k = whole[whole[IT] + 2 * j]
        slot = whole[whole[IT] + 2 * j + 1]
        weight = real[whole[R_IT] + j]
        value = room[index[W_INPUT] + slot]
        rate = room[index[W_RATE] + slot]
        if whole[whole[MIDDLE] + k] == 1:
            room[constant + k] += weight * (value + middle * rate)
        else:
            room[constant + k] += weight * value
            room[drift + k] += weight * rate
    stand(index, whole, real, room)


def sum_of(index, room, k, pressure, since):
    """A weighted sum."""
    node = index[AT_NODE]
    weight = index[W_WEIGHT]
    total = room[index[W_CONSTANT] + k] + room[index[W_DRIFT] + k] * since
    for j in range(index[index[AF] + k], index[index[AF_END] + k]):
        total += room[weight + j] * room[pressure + index[node + j]]
    return total


def answer(index, whole, room, code, pressure, since):
    """Which weighted sum a tree leads to."""
    while code >= 0:
        row = whole[TR] + TR_WIDE * code
        if sum_of(index, room, whole[row], pressure, since) > 0.0:
            code = whole[row + 1]
        else:
            code = whole[row + 2]
    return -1 - code


def freeze(index, whole, real, room, since):
    """Works out the frozen factors at this moment and scales what they stand before."""
    factors = index[W_LATCH] + whole[LATCHES]
    weight = index[W_WEIGHT]
    for j in range(whole[FROZEN]):
        room[factors + j] = sum_of(index, room, whole[whole[FZ] + j], index[W_PRESSURE], since)
    for j in range(whole[SCALED]):
        term = whole[whole[FT] + 2 * j + 1]
        room[weight + term] = real[whole[R_AT] + term]
    for j in range(whole[SCALED]):
        term = whole[whole[FT] + 2 * j + 1]
        room[weight + term] += real[whole[R_FT] + j] * room[factors + whole[whole[FT] + 2 * j]]


def outside_pressures(index, room, pressure, since):
    """The pressures of the atmosphere, intakes and feeds."""
    first = pressure + index[NODES]
    for j in range(index[OUTSIDE]):
        slot = index[index[OS] + j]
        room[first + j] = room[index[W_INPUT] + slot] + room[index[W_RATE] + slot] * since


def slopes(index, whole, real, room):
    """How much more air the spaces hold for each Pa, kg/Pa, where that changes with pressure."""
    for n in range(index[BEND_COUNT]):
        i = index[index[BEND] + n]
        piece = whole[R_PC] + PC_WIDE * index[index[ND] + i]
        last = whole[R_PC] + PC_WIDE * index[index[ND_END] + i] - PC_WIDE
        p = room[index[W_PRESSURE] + i]
        while piece < last and real[piece + PC_WIDE] <= p:
            piece += PC_WIDE
        q = p - real[piece]
        room[index[W_SLOPE] + i] = real[piece + 2] + q * (
            2.0 * real[piece + 3] + q * (3.0 * real[piece + 4] + q * 4.0 * real[piece + 5]))


def pressures(index, whole, real, room):
    """The pressures at which spaces hold the air of a stage; looked for from those at the start of the step."""
    found = index[W_STAGE]
    held = index[W_STAGE_HELD]
    per = index[R_PER]
    for i in range(index[NODES]):
        room[found + i] = room[held + i] * real[per + i]
    for n in range(index[BEND_COUNT]):
        i = index[index[BEND] + n]
        piece = whole[R_PC] + PC_WIDE * index[index[ND] + i]
        last = whole[R_PC] + PC_WIDE * index[index[ND_END] + i] - PC_WIDE
        while piece < last and real[piece + PC_WIDE + 1] <= room[held + i]:
            piece += PC_WIDE
        wanted = room[held + i] - real[piece + 1]
        end = real[piece + PC_WIDE] - real[piece] if piece < last else 1e9
        q = min(max(room[index[W_PRESSURE] + i] - real[piece], 0.0), end)
        for _ in range(30):
            value = q * (real[piece + 2] + q * (real[piece + 3] + q * (real[piece + 4] + q * real[piece + 5])))
            steep = real[piece + 2] + q * (
                2.0 * real[piece + 3] + q * (3.0 * real[piece + 4] + q * 4.0 * real[piece + 5]))
            change = (wanted - value) / steep
            q = min(max(q + change, 0.0), end)
            if change < 1e-2 and change > -1e-2:
                break
        room[found + i] = real[piece] + q


def air(index, whole, real, room):
    """The air in all spaces at their pressures, kg: what the balance compares with what came and went."""
    total = 0.0
    for i in range(index[NODES]):
        piece = whole[R_PC] + PC_WIDE * index[index[ND] + i]
        last = whole[R_PC] + PC_WIDE * index[index[ND_END] + i] - PC_WIDE
        p = room[index[W_PRESSURE] + i]
        while piece < last and real[piece + PC_WIDE] <= p:
            piece += PC_WIDE
        q = p - real[piece]
        total += real[piece + 1] + q * (real[piece + 2] + q * (
            real[piece + 3] + q * (real[piece + 4] + q * real[piece + 5])))
    return total


FUNCTIONS = (refresh, sum_of, answer, freeze, outside_pressures, slopes, pressures, air)
"""In the order in which they must be compiled."""
