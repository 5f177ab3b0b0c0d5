"""The equations: openings, flows, the air that spaces hold.

In every function: index, whole and real are the circuit, room is the run's own, `pressure` the place of a row of
pressures in it, `since` the s after the time for which the inputs stand. Written in the part of Python that a
compiler for numbers takes: loops over flat rows, no objects made. The same text also runs uncompiled on plain lists.
`packing` says what lies where. Places are unsigned once compiled: they are added to each other, never to a written
number, which would make them signed or worse.
"""

from math import sqrt

from circuit.sim.arrays import HELD_OPEN, HELD_SHUT, NOTHING, ONE_WAY, PUMP
from circuit.sim.packing import (
    AF, AF_END, AT_A, AT_B, AT_NODE, BEND, BEND_COUNT, BOTH, EL, EL_A, EL_AA, EL_AB, EL_B, EL_BA, EL_BB, EL_GATE,
    EL_WIDE, ENTRIES, EXPANSION, FROZEN, FT, FZ, IT, LAMINAR, LATCHES, MIDDLE, ND, ND_END, NODES, N_ELEMENTS, N_SIMPLE,
    OS, OUTSIDE, PC_WIDE, PER_INLET, R_AF, R_AT, R_FLOW, R_FT, R_INVERSE, R_IT, R_PC, R_PER, R_RATIO, R_SUB, SCALED,
    SEATS, SIMPLE, SLOTS, SUMS, TR, TR_WIDE, WIDTH, W_CONSTANT, W_DRIFT, W_FLOW, W_INPUT, W_JACOBIAN, W_LATCH,
    W_PRESSURE, W_RATE, W_SLOPE, W_STAGE, W_STAGE_HELD, W_STATE, W_TIME, W_WEIGHT,
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


def flows(index, whole, real, room, pressure, since, derive):
    """Mass flow into every node, kg/s, outside nodes included; with `derive` also its derivatives.

    ISO 6358 with a smooth zone near no flow, times the opening's smooth step; `circuit.gas.flow` has the formulas.
    """
    nodes = index[NODES]
    flow = index[W_FLOW]
    jacobian = index[W_JACOBIAN]
    in_time = index[W_TIME]
    inputs = index[W_INPUT]
    per_wide = 1.0 / real[WIDTH]
    laminar = real[LAMINAR]
    for i in range(index[BOTH]):
        room[flow + i] = 0.0
    if derive:
        for i in range(index[SLOTS]):
            room[jacobian + i] = 0.0
        for i in range(index[BOTH]):
            room[in_time + i] = 0.0
    for e in range(index[SIMPLE]):
        a = index[index[EL_A] + e]
        b = index[index[EL_B] + e]
        scale = real[index[R_FLOW] + e] * room[inputs + index[index[EL_GATE] + e]]
        pa = room[pressure + a]
        pb = room[pressure + b]
        up = max(pa, pb)
        critical = real[index[R_RATIO] + e]
        inverse = real[index[R_INVERSE] + e]
        # y of the law times up squared, so that one division does; above is 0 where the flow is choked
        above = max(min(pa, pb) - critical * up, 0.0) * inverse
        y = up * up - above * above
        part = 1.0 / (y + laminar * up * up)
        rise = scale * sqrt((1.0 + laminar) * part)
        amount = y * rise if pa >= pb else -y * rise
        room[flow + a] -= amount
        room[flow + b] += amount
        if derive:
            by_y = rise * (1.0 - 0.5 * y * part)
            by_down = -2.0 * by_y * above * inverse
            by_up = 2.0 * by_y * (up + above * critical * inverse) - y * rise * laminar * up * part
            by_a = by_up if pa >= pb else -by_down
            by_b = by_down if pa >= pb else -by_up
            room[jacobian + index[index[EL_AA] + e]] -= by_a
            room[jacobian + index[index[EL_AB] + e]] -= by_b
            room[jacobian + index[index[EL_BA] + e]] += by_a
            room[jacobian + index[index[EL_BB] + e]] += by_b
    for number in range(whole[N_ELEMENTS] - whole[N_SIMPLE]):
        e = index[SIMPLE] + number
        row = whole[EL] + EL_WIDE * e
        scale = real[index[R_FLOW] + e] * room[inputs + index[index[EL_GATE] + e]]
        mode = whole[row + 2]
        if scale == 0.0 or mode == HELD_SHUT:
            continue
        a = index[index[EL_A] + e]
        b = index[index[EL_B] + e]
        way = whole[row]
        pa = room[pressure + a]
        pb = room[pressure + b]
        if way == ONE_WAY and pb >= pa:
            continue
        opened = 1.0
        steep = 0.0
        k = -1
        root = whole[row + 1]
        if root != NOTHING and mode != HELD_OPEN:
            k = -1 - root if root < 0 else answer(index, whole, room, root, pressure, since)
            share = sum_of(index, room, k, pressure, since) * per_wide
            if way == PUMP:
                share = 1.0 - share
            if share <= 0.0:
                continue
            if share < 1.0:
                opened = share * share * (3.0 - 2.0 * share)
                steep = 6.0 * share * (1.0 - share) * per_wide
                if way == PUMP:
                    steep = -steep
        if way == PUMP:
            power = (pb * real[PER_INLET]) ** real[EXPANSION]
            taken = 1.0 + real[index[R_RATIO] + e] - real[index[R_RATIO] + e] * power
            if taken <= 0.0:
                continue
            full = scale * taken
            by_a = 0.0
            by_b = -scale * opened * real[index[R_RATIO] + e] * power * real[EXPANSION] / pb
        else:
            up = max(pa, pb)
            critical = real[index[R_RATIO] + e]
            inverse = real[index[R_INVERSE] + e]
            above = max(min(pa, pb) - critical * up, 0.0) * inverse
            y = up * up - above * above
            part = 1.0 / (y + laminar * up * up)
            less = 1.0 - real[index[R_SUB] + e]
            if less == 0.5:
                rise = scale * sqrt((1.0 + laminar) * part)
            else:
                rise = scale * ((1.0 + laminar) * up * up * part) ** less / up
            full = y * rise
            by_a = 0.0
            by_b = 0.0
            if derive:
                by_y = opened * rise * (1.0 - less * y * part)
                by_b = -2.0 * by_y * above * inverse
                by_a = 2.0 * by_y * (up + above * critical * inverse) - opened * y * rise * (
                    2.0 * less * laminar * up * part - (2.0 * less - 1.0) / up)
            if pa < pb:
                full = -full
                by_a, by_b = -by_b, -by_a
            if way == ONE_WAY and pa - pb < real[SEATS]:
                ahead = (pa - pb) / real[SEATS]
                lifted = ahead * ahead * (3.0 - 2.0 * ahead)
                tilt = full * opened * 6.0 * ahead * (1.0 - ahead) / real[SEATS]
                full *= lifted
                by_a = by_a * lifted + tilt
                by_b = by_b * lifted - tilt
        amount = full * opened
        room[flow + a] -= amount
        room[flow + b] += amount
        if derive:
            room[jacobian + index[index[EL_AA] + e]] -= by_a
            room[jacobian + index[index[EL_AB] + e]] -= by_b
            room[jacobian + index[index[EL_BA] + e]] += by_a
            room[jacobian + index[index[EL_BB] + e]] += by_b
            change = 0.0
            if a >= nodes:
                change += by_a * room[index[W_RATE] + index[index[OS] + (a - nodes)]]
            if b >= nodes:
                change += by_b * room[index[W_RATE] + index[index[OS] + (b - nodes)]]
            if steep != 0.0:
                push = full * steep
                for j in range(index[index[AF] + k], index[index[AF_END] + k]):
                    weighed = push * room[index[W_WEIGHT] + j]
                    room[jacobian + index[index[AT_A] + j]] -= weighed
                    room[jacobian + index[index[AT_B] + j]] += weighed
                change += push * room[index[W_DRIFT] + k]
            room[in_time + a] -= change
            room[in_time + b] += change


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
            if change < 1e-6 and change > -1e-6:
                break
        room[found + i] = real[piece] + q


FUNCTIONS = (refresh, sum_of, answer, freeze, outside_pressures, flows, slopes, pressures)
"""In the order in which they must be compiled."""
