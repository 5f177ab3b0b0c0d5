"""The integrator: one step after another until the script's last segment is done, stopping where a latch or an opening
turns.

In every function: a is the circuit, room the run's own, `pressure` a row of pressures in it, `since` the s after the time
for which the inputs stand. Written in the small part of Python that `translate` knows.
"""

from circuit.sim.arrays import CHATTER, DONE, FULL, NOTHING, STUCK, Arrays, Room, Tableau
from circuit.sim.elements import flows, lean, pushes
from circuit.sim.equations import answer, outside_pressures, refresh, slopes
from circuit.sim.power import power
from circuit.sim.stepping import attempt


def push_of_latch(a: Arrays, room: Room, number: int) -> float:
    """Pa by which a latch is pushed to its other side, by the sums of `weigh`; negative is not."""
    if a.la_live[number] == 0:
        return -1.0
    code = a.la_set[number] if room.input[a.la_slot[number]] < 0.5 else a.la_reset[number]
    if code == NOTHING:
        return -1.0
    return room.value[answer(a, room, code)]


def flip_latches(a: Arrays, room: Room, until: float) -> int:
    """Turns every latch that is pushed over and may move; returns how many."""
    flips = 0
    for number in range(a.latches):
        if push_of_latch(a, room, number) > 0.0 and room.t - room.turned[number] >= a.dwell:
            slot = a.la_slot[number]
            room.input[slot] = 0.0 if room.input[slot] >= 0.5 else 1.0
            room.turned[number] = room.t
            flips += 1
            if room.happened < room.most_events:
                place = 3 * room.happened
                room.events[place] = room.t
                room.events[place + 1] = float(number)
                room.events[place + 2] = room.input[slot]
            room.happened += 1
            refresh(a, room, until)
    return flips


def write_down(a: Arrays, room: Room, t: float) -> None:
    """Records the time, the watched pressures, and how fast they change."""
    at = room.records * (1 + 2 * a.watching)
    room.record[at] = t
    for n in range(a.watching):
        i = a.watched[n]
        room.record[at + 1 + n] = room.pressure[i]
        room.record[at + 1 + a.watching + n] = room.flow[i] / room.slope[i]
    room.records += 1


def enter(a: Arrays, room: Room, segment: int) -> None:
    """Sets the inputs as the script says for the start of a segment."""
    for j in range(a.sg_start[segment], a.sg_start[segment + 1]):
        slot = a.ch_slot[j]
        room.input[slot] = a.ch_value[j]
        room.rate[slot] = a.ch_rate[j]


def carry_on(a: Arrays, room: Room) -> None:
    """Lets the inputs' values be those of this moment."""
    since = room.t - room.since
    for slot in range(a.inputs):
        room.input[slot] += room.rate[slot] * since
    room.since = room.t


def reached(before: float, after: float, beyond: float) -> float:
    """The share of a step at which what goes from `before` to `after` is half of `beyond` above nothing; 1 where it was
    above before, or does not get beyond."""
    if before > 0.0 or after <= beyond:
        return 1.0
    return max(0.02, min(0.98, (0.5 * beyond - before) / (after - before)))


def crossing(a: Arrays, room: Room, h: float, since: float) -> float:
    """1 when no latch and no opening is passed too far by the step, else the share of the step at which the first is
    reached. Leaves the sums and pushes at the end of the step."""
    share = 1.0
    pushes(a, room, room.stage, since + h)
    for number in range(a.latches):
        if room.t + h - room.turned[number] >= a.dwell:
            share = min(share, reached(room.pushed[number], push_of_latch(a, room, number), a.event))
    for e in range(a.simple, a.elements):
        # one that has no opening, or lets nothing through, has nothing to turn
        if room.per_push[e] != 0.0 and room.scale[e] != 0.0:
            before = room.before[e]
            after = room.push[e]
            share = min(share, min(reached(before, after, a.turn), reached(-before, -after, a.turn)))
    return share


def waiting(a: Arrays, room: Room) -> float:
    """How long the first of the latches that are pushed over, but have turned just now, waits to turn back, s."""
    wait = 1e9
    for number in range(a.latches):
        if room.pushed[number] > 0.0:
            wait = min(wait, room.turned[number] + a.dwell - room.t)
    return wait


def advance(a: Arrays, room: Room, method: Tableau, until: float, tolerance: float) -> int:
    """Steps up to where the sums hold, while the inputs go on as they stand; until: s, when they change next. Returns
    DONE, FULL (the record), STUCK or CHATTER."""
    while room.t < room.stop:
        if room.records + 2 >= room.most_records:
            return FULL
        if room.taken > a.most_steps:
            return STUCK
        for _ in range(20):
            if flip_latches(a, room, until) == 0:
                break
            room.step = a.first_step
        if room.happened >= room.most_events:
            return CHATTER
        t = room.t
        stop = room.stop
        since = t - room.since
        outside_pressures(a, room, room.pressure, since)
        for number in range(a.latches):
            room.pushed[number] = push_of_latch(a, room, number)
        lean(a, room)
        flows(a, room, room.pressure, True)
        slopes(a, room)
        write_down(a, room, t)
        for i in range(a.both):
            room.first[i] = room.flow[i]
        for e in range(a.simple, a.elements):
            room.before[e] = room.push[e]
        h = min(room.step, max(waiting(a, room), a.least_step))
        refused = False
        while True:
            if t + h * 1.000001 >= stop:
                h = stop - t
            elif t + 2.0 * h > stop:
                h = 0.5 * (stop - t)
            error = attempt(a, room, method, h, since) / tolerance
            if not error < 1e12:
                error = 1e12
            best = 0.9 * power(error + 1e-12, -1.0 / method.order)
            if error > 1.0 and h > a.least_step:
                room.refused += 1
                h = max(h * max(0.1, best), a.least_step)
                refused = True
                continue
            over = crossing(a, room, h, since)
            if over < 1.0 and h > a.least_step:
                room.refused += 1
                h = max(over * h, a.least_step)
                refused = True
                continue
            if error > 1.0:
                room.forced += 1
            break
        for i in range(a.nodes):
            room.held[i] = room.stage_held[i]
        for i in range(a.nodes):
            room.pressure[i] = room.stage[i]
        for j in range(method.stages):
            other = j * a.both + a.nodes
            for o in range(a.outside):
                room.gone[o] += method.m[j] * room.k[other + o]
        room.taken += 1
        room.t = stop if t + h * 1.0000000001 >= stop else t + h
        room.step = max(a.least_step, h * min(1.0 if refused else 4.0, max(0.2, best)))
    return DONE


def conclude(a: Arrays, room: Room) -> None:
    """Writes down how a stretch of time ends."""
    since = room.t - room.since
    outside_pressures(a, room, room.pressure, since)
    flows(a, room, room.pressure, False)
    slopes(a, room)
    write_down(a, room, room.t)


def integrate(a: Arrays, room: Room, method: Tableau, tolerance: float) -> int:
    """Runs to the end of the script, or until the record is full. Returns DONE, FULL, STUCK or CHATTER."""
    while room.segment < a.segments:
        until = a.sg_time[room.segment + 1]
        if room.entered == 0:
            carry_on(a, room)
            enter(a, room, room.segment)
            refresh(a, room, until)
            room.step = a.first_step
            room.entered = 1
        status = advance(a, room, method, until, tolerance)
        if status != DONE:
            return status
        conclude(a, room)
        if room.t < until:
            refresh(a, room, until)
            room.step = a.first_step
        else:
            room.segment += 1
            room.entered = 0
    return DONE


def frame(a: Arrays, room: Room, method: Tableau, until: float, tolerance: float) -> int:
    """Goes on to a time with the inputs as hands have put them. Returns DONE, FULL, STUCK or CHATTER.

    The size of the next step is kept from frame to frame: what the frame's end cuts off is no reason for small steps."""
    while room.t < until:
        step = room.step
        refused = room.refused
        happened = room.happened
        status = advance(a, room, method, until, tolerance)
        if room.refused == refused and room.happened == happened:
            room.step = max(room.step, step)
        if status != DONE:
            return status
        conclude(a, room)
        if room.t < until:
            refresh(a, room, until)
            room.step = a.first_step
    return DONE


FUNCTIONS = (push_of_latch, flip_latches, write_down, enter, carry_on, reached, crossing, waiting,
             advance, conclude, integrate, frame)
"""What is compiled of this file."""
