"""What flows through the elements: how far each is open, the law of its flow, and their sum in every space.

In every function: index, whole and real are the circuit, room is the run's own, `pressure` the place of a row of
pressures in it, `since` the s after the time for which the inputs stand. Written in the part of Python that a
compiler for numbers takes: loops over flat rows, no objects made. The same text also runs uncompiled on plain lists.
`packing` says what lies where. Places are unsigned once compiled: they are added to each other, never to a written
number, which would make them signed or worse.
"""

from math import sqrt

from circuit.sim.arrays import HELD_OPEN, HELD_SHUT, NOTHING, ONE_WAY, PUMP
from circuit.sim.packing import (
    AF, AF_END, ALL_SUMS, ALL_TERMS, AT_A, AT_B, AT_NODE, AT_SUM, BOTH, EL, ELEMENTS, EL_A, EL_AA, EL_AB, EL_B, EL_BA,
    EL_BB, EL_GATE, EL_WIDE, EXPANSION, LAMINAR, LEAF, NODES, N_ELEMENTS, N_SIMPLE, ODD, ODD_COUNT, OS, PER_INLET,
    R_FLOW, R_INVERSE, R_RATIO, R_SUB, SEATS, SIMPLE, SLOTS, TR, TREE, TREE_COUNT, TR_WIDE, WIDTH, W_BY_A, W_BY_B,
    W_BY_DOWN, W_CONSTANT, W_DRIFT, W_FLOW, W_FULL, W_INPUT, W_JACOBIAN, W_LEAF, W_LEVEL, W_LIFT, W_OPEN, W_PA, W_PB,
    W_PER_AHEAD, W_PER_PUSH, W_PUSH, W_RATE, W_SCALE, W_STEEP, W_SUM, W_TILT, W_TIME, W_UNPUSHED, W_WEIGHT,
)


def stand(index, whole, real, room):
    """What each element lets through while the inputs stand, conductance times gate in kg/(s Pa), or kg/s of a pump,
    and by which straight line it opens: with the pressure of its opening, and with that ahead of it."""
    for e in range(whole[N_ELEMENTS]):
        row = whole[EL] + EL_WIDE * e
        let = real[index[R_FLOW] + e] * room[index[W_INPUT] + index[index[EL_GATE] + e]]
        way = whole[row]
        mode = whole[row + 2]
        if mode == HELD_SHUT:
            let = 0.0
        less = 1.0 - real[index[R_SUB] + e]
        if way != PUMP:
            let *= sqrt(1.0 + real[LAMINAR]) if less == 0.5 else (1.0 + real[LAMINAR]) ** less
        room[index[W_SCALE] + e] = let
        room[index[W_OPEN] + e] = 1.0
        room[index[W_LEAF] + e] = index[index[LEAF] + e]
        per_wide = 1.0 / real[WIDTH]
        if whole[row + 1] == NOTHING or mode == HELD_OPEN:
            room[index[W_PER_PUSH] + e] = 0.0
            room[index[W_UNPUSHED] + e] = 1.0
        else:
            room[index[W_PER_PUSH] + e] = -per_wide if way == PUMP else per_wide
            room[index[W_UNPUSHED] + e] = 1.0 if way == PUMP else 0.0
        room[index[W_PER_AHEAD] + e] = 1.0 / real[SEATS] if way == ONE_WAY else 0.0
        room[index[W_LEVEL] + e] = 0.0 if way == ONE_WAY else 1.0


def law(index, real, room, derive):
    """The flow of every element as if it were open, kg/s from its start to its end; with `derive` also its derivatives
    by the pressures at both.

    ISO 6358 with a smooth zone near no flow; `circuit.gas.flow` has the formulas. With y times the upper pressure
    squared one division is enough, and `above` is 0 where the flow is choked. Plain loops over rows, one result each:
    a compiler makes them do several elements at once.
    """
    laminar = real[LAMINAR]
    at_a = index[W_PA]
    at_b = index[W_PB]
    scales = index[W_SCALE]
    critical = index[R_RATIO]
    inverse = index[R_INVERSE]
    full = index[W_FULL]
    for e in range(index[ELEMENTS]):
        pa = room[at_a + e]
        pb = room[at_b + e]
        up = max(pa, pb)
        above = max(min(pa, pb) - real[critical + e] * up, 0.0) * real[inverse + e]
        y = up * up - above * above
        amount = room[scales + e] * y / sqrt(y + laminar * up * up)
        room[full + e] = amount if pa >= pb else -amount
    if derive:
        by_down = index[W_BY_DOWN]
        by_a = index[W_BY_A]
        by_b = index[W_BY_B]
        for e in range(index[ELEMENTS]):
            pa = room[at_a + e]
            pb = room[at_b + e]
            up = max(pa, pb)
            above = max(min(pa, pb) - real[critical + e] * up, 0.0) * real[inverse + e]
            y = up * up - above * above
            part = 1.0 / (y + laminar * up * up)
            room[by_down + e] = -room[scales + e] * sqrt(part) * (2.0 - y * part) * above * real[inverse + e]
        # twice the pressures pass twice the air, so that one derivative follows from the other
        for e in range(index[ELEMENTS]):
            pa = room[at_a + e]
            pb = room[at_b + e]
            room[by_a + e] = (room[full + e] - pb * room[by_down + e]) / pa if pa >= pb else -room[by_down + e]
        for e in range(index[ELEMENTS]):
            pa = room[at_a + e]
            pb = room[at_b + e]
            room[by_b + e] = room[by_down + e] if pa >= pb else (room[full + e] + pa * room[by_down + e]) / pb


def openings(index, whole, real, room, pressure, since, derive):
    """How far each element with an opening or a direction is open, from 0 to 1; with `derive` also how that rises with
    its opening's pressure and with that ahead of it, 1/Pa."""
    value = index[W_SUM]
    constant = index[W_CONSTANT]
    drift = index[W_DRIFT]
    weight = index[W_WEIGHT]
    node = index[AT_NODE]
    of_sum = index[AT_SUM]
    for k in range(index[ALL_SUMS]):
        room[value + k] = room[constant + k] + room[drift + k] * since
    for j in range(index[ALL_TERMS]):
        room[value + index[of_sum + j]] += room[weight + j] * room[pressure + index[node + j]]
    first = index[SIMPLE]
    count = index[ELEMENTS] - first
    at_a = index[W_PA] + first
    at_b = index[W_PB] + first
    opened = index[W_OPEN] + first
    push = index[W_PUSH] + first
    per_push = index[W_PER_PUSH] + first
    unpushed = index[W_UNPUSHED] + first
    per_ahead = index[W_PER_AHEAD] + first
    level = index[W_LEVEL] + first
    lift = index[W_LIFT] + first
    leaf = index[LEAF] + first
    for n in range(count):
        room[push + n] = room[value + index[leaf + n]]
    for n in range(index[TREE_COUNT]):
        e = index[index[TREE] + n]
        code = whole[whole[EL] + EL_WIDE * e + 1]
        while code >= 0:
            row = whole[TR] + TR_WIDE * code
            code = whole[row + 1] if room[value + whole[row]] > 0.0 else whole[row + 2]
        room[index[W_LEAF] + e] = -1 - code
        room[index[W_PUSH] + e] = room[value + (-1 - code)]
    for n in range(count):
        share = min(max(room[push + n] * room[per_push + n] + room[unpushed + n], 0.0), 1.0)
        room[opened + n] = share * share * (3.0 - 2.0 * share)
    for n in range(count):
        share = min(max((room[at_a + n] - room[at_b + n]) * room[per_ahead + n] + room[level + n], 0.0), 1.0)
        room[lift + n] = share * share * (3.0 - 2.0 * share)
    if derive:
        steep = index[W_STEEP] + first
        tilt = index[W_TILT] + first
        for n in range(count):
            share = min(max(room[push + n] * room[per_push + n] + room[unpushed + n], 0.0), 1.0)
            room[steep + n] = 6.0 * share * (1.0 - share) * room[per_push + n] * room[lift + n]
        for n in range(count):
            share = min(max((room[at_a + n] - room[at_b + n]) * room[per_ahead + n] + room[level + n], 0.0), 1.0)
            room[tilt + n] = 6.0 * share * (1.0 - share) * room[per_ahead + n] * room[opened + n]
    for n in range(count):
        room[opened + n] *= room[lift + n]


def unlike(index, whole, real, room):
    """Pumps and elements with another exponent than 0.5, which the law has treated as if they were not."""
    for n in range(index[ODD_COUNT]):
        e = index[index[ODD] + n]
        let = room[index[W_SCALE] + e]
        if let == 0.0 or room[index[W_OPEN] + e] == 0.0:
            continue
        critical = real[index[R_RATIO] + e]
        pa = room[index[W_PA] + e]
        pb = room[index[W_PB] + e]
        if whole[whole[EL] + EL_WIDE * e] == PUMP:
            power = (pb * real[PER_INLET]) ** real[EXPANSION]
            taken = 1.0 + critical - critical * power
            room[index[W_FULL] + e] = let * max(taken, 0.0)
            room[index[W_BY_A] + e] = 0.0
            room[index[W_BY_B] + e] = -let * critical * power * real[EXPANSION] / pb if taken > 0.0 else 0.0
        else:
            less = 1.0 - real[index[R_SUB] + e]
            up = max(pa, pb)
            inverse = real[index[R_INVERSE] + e]
            above = max(min(pa, pb) - critical * up, 0.0) * inverse
            y = up * up - above * above
            part = 1.0 / (y + real[LAMINAR] * up * up)
            rise = let * (up * up * part) ** less / up
            by_down = -2.0 * rise * (1.0 - less * y * part) * above * inverse
            by_up = (y * rise - min(pa, pb) * by_down) / up
            room[index[W_FULL] + e] = y * rise if pa >= pb else -y * rise
            room[index[W_BY_A] + e] = by_up if pa >= pb else -by_down
            room[index[W_BY_B] + e] = by_down if pa >= pb else -by_up


def flows(index, whole, real, room, pressure, since, derive):
    """Mass flow into every node, kg/s, outside nodes included; with `derive` also its derivatives."""
    flow = index[W_FLOW]
    ends_a = index[EL_A]
    ends_b = index[EL_B]
    at_a = index[W_PA]
    at_b = index[W_PB]
    full = index[W_FULL]
    for e in range(index[ELEMENTS]):
        room[at_a + e] = room[pressure + index[ends_a + e]]
        room[at_b + e] = room[pressure + index[ends_b + e]]
    law(index, real, room, derive)
    openings(index, whole, real, room, pressure, since, derive)
    unlike(index, whole, real, room)
    for i in range(index[BOTH]):
        room[flow + i] = 0.0
    if derive:
        derivatives(index, whole, real, room)
    opened = index[W_OPEN]
    for e in range(index[ELEMENTS]):
        amount = room[full + e] * room[opened + e]
        room[flow + index[ends_a + e]] -= amount
        room[flow + index[ends_b + e]] += amount


def derivatives(index, whole, real, room):
    """How the flows change with every pressure and with time."""
    jacobian = index[W_JACOBIAN]
    in_time = index[W_TIME]
    nodes = index[NODES]
    opened = index[W_OPEN]
    slopes_a = index[W_BY_A]
    slopes_b = index[W_BY_B]
    in_aa = index[EL_AA]
    in_ab = index[EL_AB]
    in_ba = index[EL_BA]
    in_bb = index[EL_BB]
    for i in range(index[SLOTS]):
        room[jacobian + i] = 0.0
    for i in range(index[BOTH]):
        room[in_time + i] = 0.0
    for number in range(whole[N_ELEMENTS] - whole[N_SIMPLE]):
        e = index[SIMPLE] + number
        by_a = room[slopes_a + e] * room[opened + e]
        by_b = room[slopes_b + e] * room[opened + e]
        if room[opened + e] != 0.0:
            a = index[index[EL_A] + e]
            b = index[index[EL_B] + e]
            tilt = room[index[W_FULL] + e] * room[index[W_TILT] + e]
            push = room[index[W_FULL] + e] * room[index[W_STEEP] + e]
            by_a += tilt
            by_b -= tilt
            change = 0.0
            if a >= nodes:
                change += by_a * room[index[W_RATE] + index[index[OS] + (a - nodes)]]
            if b >= nodes:
                change += by_b * room[index[W_RATE] + index[index[OS] + (b - nodes)]]
            if push != 0.0:
                k = int(room[index[W_LEAF] + e])
                for j in range(index[index[AF] + k], index[index[AF_END] + k]):
                    weighed = push * room[index[W_WEIGHT] + j]
                    room[jacobian + index[index[AT_A] + j]] -= weighed
                    room[jacobian + index[index[AT_B] + j]] += weighed
                change += push * room[index[W_DRIFT] + k]
            room[in_time + a] -= change
            room[in_time + b] += change
        room[slopes_a + e] = by_a
        room[slopes_b + e] = by_b
    for e in range(index[ELEMENTS]):
        by_a = room[slopes_a + e]
        by_b = room[slopes_b + e]
        room[jacobian + index[in_aa + e]] -= by_a
        room[jacobian + index[in_ab + e]] -= by_b
        room[jacobian + index[in_ba + e]] += by_a
        room[jacobian + index[in_bb + e]] += by_b


FUNCTIONS = (stand, law, openings, unlike, derivatives, flows)
"""In the order in which they must be compiled."""
