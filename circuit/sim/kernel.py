"""The integrator: one step after another until the script's last segment is done, stopping where a latch turns.

In every function: index, whole and real are the circuit, room is the run's own, `pressure` the place of a row of
pressures in it, `since` the s after the time for which the inputs stand. Written in the part of Python that a
compiler for numbers takes: loops over flat rows, no objects made. The same text also runs uncompiled on plain lists.
`packing` says what lies where. Places are unsigned once compiled: they are added to each other, never to a written
number, which would make them signed or worse.
"""

from circuit.sim.arrays import CHATTER, DONE, FULL, NOTHING, STUCK
from circuit.sim.elements import flows
from circuit.sim.equations import answer, freeze, outside_pressures, refresh, slopes, sum_of
from circuit.sim.stepping import attempt
from circuit.sim.packing import (
    BOTH, CH, CH_WIDE, DWELL, ENTERED, EVENT, EVENTS, FIRST_STEP, FORCED, FROZEN, INPUTS, LA, LATCHES, LA_WIDE,
    LEAST_STEP, MOST_STEPS, NODES, N_NODES, OUTSIDE, PLACES_K, RECORDS, REFUSED, R_CH, R_SG, SEGMENT, SEGMENTS, SG,
    TAKEN, W_FIRST, W_FLOW, W_HELD, W_INPUT, W_LATCH, W_OUT, W_PRESSURE, W_RATE, W_SLOPE, W_STAGE, W_STAGE_HELD,
    W_STATE,
)


def push_of_latch(index, whole, room, number, pressure, since):
    """Pa by which a latch is pushed to its other side; negative is not."""
    row = whole[LA] + LA_WIDE * number
    if whole[row + 3] == 0:
        return -1.0
    code = whole[row + 1] if room[index[W_INPUT] + whole[row]] < 0.5 else whole[row + 2]
    if code == NOTHING:
        return -1.0
    return sum_of(index, room, answer(index, whole, room, code, pressure, since), pressure, since)


def flip_latches(index, whole, real, room, counts, events, until):
    """Turns every latch that is pushed over and may move; returns how many."""
    state = index[W_STATE]
    t = room[state]
    flips = 0
    for number in range(whole[LATCHES]):
        push = push_of_latch(index, whole, room, number, index[W_PRESSURE], t - room[state + 2])
        if push > 0.0 and t - room[state + 3 + number] >= real[DWELL]:
            slot = index[W_INPUT] + whole[whole[LA] + LA_WIDE * number]
            room[slot] = 0.0 if room[slot] >= 0.5 else 1.0
            room[state + 3 + number] = t
            flips += 1
            place = 3 * counts[EVENTS]
            if place < len(events):
                events[place] = t
                events[place + 1] = number
                events[place + 2] = room[slot]
            counts[EVENTS] += 1
            refresh(index, whole, real, room, until)
    return flips


def write_down(index, whole, room, counts, record, t):
    """Records the time, the pressures, and how fast they change."""
    nodes = whole[N_NODES]
    pressure = index[W_PRESSURE]
    flow = index[W_FLOW]
    slope = index[W_SLOPE]
    at = counts[RECORDS] * (1 + 2 * nodes)
    record[at] = t
    at += 1
    for i in range(nodes):
        record[at + i] = room[pressure + i]
    at += nodes
    for i in range(nodes):
        record[at + i] = room[flow + i] / room[slope + i]
    counts[RECORDS] += 1


def enter(index, whole, real, room, segment):
    """Sets the inputs as the script says for the start of a segment."""
    state = index[W_STATE]
    since = room[state] - room[state + 2]
    for slot in range(whole[INPUTS]):
        room[index[W_INPUT] + slot] += room[index[W_RATE] + slot] * since
    for j in range(whole[whole[SG] + segment], whole[whole[SG] + segment + 1]):
        slot = whole[whole[CH] + j]
        room[index[W_INPUT] + slot] = real[whole[R_CH] + CH_WIDE * j]
        room[index[W_RATE] + slot] = real[whole[R_CH] + CH_WIDE * j + 1]
    room[state + 2] = room[state]
    refresh(index, whole, real, room, real[whole[R_SG] + segment + 1])
    room[state + 1] = real[FIRST_STEP]


def crossing(index, whole, real, room, h, since):
    """1 when no latch is passed too far by the step, else the share of the step at which the first is reached."""
    tolerance = real[EVENT]
    share = 1.0
    t = room[index[W_STATE]]
    for number in range(whole[LATCHES]):
        before = room[index[W_LATCH] + number]
        if before > 0.0 or t + h - room[index[W_STATE] + 3 + number] < real[DWELL]:
            continue
        after = push_of_latch(index, whole, room, number, index[W_STAGE], since + h)
        if after > tolerance:
            place = (0.5 * tolerance - before) / (after - before)
            share = min(share, max(0.02, min(0.98, place)))
    return share


def integrate(index, whole, real, room, counts, record, events, tableau, tolerance, most):
    """Runs to the end of the script, or until `most` records are made. Returns DONE, FULL, STUCK or CHATTER."""
    nodes = index[NODES]
    both = index[BOTH]
    state = index[W_STATE]
    pressure = index[W_PRESSURE]
    flow = index[W_FLOW]
    first = index[W_FIRST]
    held = index[W_HELD]
    new_pressure = index[W_STAGE]
    new_held = index[W_STAGE_HELD]
    least = real[LEAST_STEP]
    while counts[SEGMENT] < whole[SEGMENTS]:
        segment = counts[SEGMENT]
        until = real[whole[R_SG] + segment + 1]
        if counts[ENTERED] == 1:
            enter(index, whole, real, room, segment)
            counts[ENTERED] = 0
        while room[state] < until:
            if counts[RECORDS] + 2 >= most:
                return FULL
            if counts[TAKEN] > real[MOST_STEPS]:
                return STUCK
            for _ in range(20):
                if flip_latches(index, whole, real, room, counts, events, until) == 0:
                    break
                room[state + 1] = real[FIRST_STEP]
            if 3 * counts[EVENTS] >= len(events):
                return CHATTER
            t = room[state]
            since = t - room[state + 2]
            outside_pressures(index, room, pressure, since)
            if whole[FROZEN] > 0:
                freeze(index, whole, real, room, since)
            for number in range(whole[LATCHES]):
                room[index[W_LATCH] + number] = push_of_latch(index, whole, room, number, pressure, since)
            flows(index, whole, real, room, pressure, since, True)
            slopes(index, whole, real, room)
            write_down(index, whole, room, counts, record, t)
            for i in range(both):
                room[first + i] = room[flow + i]
            h = room[state + 1]
            refused = False
            while True:
                if t + h * 1.000001 >= until:
                    h = until - t
                elif t + 2.0 * h > until:
                    h = 0.5 * (until - t)
                error = attempt(index, whole, real, room, tableau, h, since) / tolerance
                if not error < 1e12:
                    error = 1e12
                best = 0.9 * (error + 1e-12) ** (-1.0 / tableau[2])
                if error > 1.0 and h > least:
                    counts[REFUSED] += 1
                    h = max(h * max(0.1, best), least)
                    refused = True
                    continue
                over = crossing(index, whole, real, room, h, since)
                if over < 1.0 and h > least:
                    counts[REFUSED] += 1
                    h = max(over * h, least)
                    refused = True
                    continue
                if error > 1.0:
                    counts[FORCED] += 1
                break
            for i in range(nodes):
                room[held + i] = room[new_held + i]
            for i in range(nodes):
                room[pressure + i] = room[new_pressure + i]
            for j in range(tableau[0]):
                other = index[index[PLACES_K] + j] + nodes
                for o in range(index[OUTSIDE]):
                    room[index[W_OUT] + o] += tableau[7][j] * room[other + o]
            counts[TAKEN] += 1
            room[state] = until if t + h * 1.0000000001 >= until else t + h
            room[state + 1] = max(least, h * min(1.0 if refused else 4.0, max(0.2, best)))
        outside_pressures(index, room, pressure, until - room[state + 2])
        flows(index, whole, real, room, pressure, until - room[state + 2], False)
        slopes(index, whole, real, room)
        write_down(index, whole, room, counts, record, until)
        counts[SEGMENT] = segment + 1
        counts[ENTERED] = 1
    return DONE


FUNCTIONS = (push_of_latch, flip_latches, write_down, enter, crossing, integrate)
"""In the order in which they must be compiled."""
