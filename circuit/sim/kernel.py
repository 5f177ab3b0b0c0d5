"""The integrator: one step after another until the script's last segment is done.

Written in the part of Python that a compiler for numbers takes: loops over flat arrays, no objects made. The same text
also runs uncompiled on plain lists. The unknowns are the masses of air in the spaces, so that what a step takes from one
space it gives to the next to the last digit; pressures follow from them, and steps are judged by error in Pa.
"""

from math import sqrt

from circuit.sim.arrays import CHATTER, DONE, FULL, HELD_OPEN, HELD_SHUT, NOTHING, ONE_WAY, PUMP, STUCK


def refresh(net, work, until):
    """Weighted sums' constants at the time of the inputs' values, and their rise a second. until: s, the segment's end."""
    middle = 0.5 * (until - work.state[2])
    for k in range(net.sizes[3]):
        work.constant[k] = net.af_constant[k]
        work.drift[k] = 0.0
    for j in range(len(net.it_sum)):
        k = net.it_sum[j]
        slot = net.it_slot[j]
        if net.af_middle[k] == 1:
            work.constant[k] += net.it_weight[j] * (work.inputs[slot] + middle * work.rates[slot])
        else:
            work.constant[k] += net.it_weight[j] * work.inputs[slot]
            work.drift[k] += net.it_weight[j] * work.rates[slot]


def freeze(net, work, since):
    """Works out the frozen factors at this moment and scales what they stand before."""
    for j in range(net.sizes[4]):
        work.latch[net.sizes[5] + j] = sum_of(net, work, net.fz_sum[j], work.pressure, since)
    for j in range(len(net.ft_sum)):
        if net.ft_term[j] >= 0:
            work.weight[net.ft_term[j]] = net.at_weight[net.ft_term[j]]
    for j in range(len(net.ft_sum)):
        if net.ft_term[j] >= 0:
            work.weight[net.ft_term[j]] += net.ft_weight[j] * work.latch[net.sizes[5] + net.ft_factor[j]]


def sum_of(net, work, k, pressure, since):
    """A weighted sum. since: s after the time of the inputs' values."""
    total = work.constant[k] + work.drift[k] * since
    for j in range(net.af_start[k], net.af_start[k + 1]):
        total += work.weight[j] * pressure[net.at_node[j]]
    return total


def answer(net, work, code, pressure, since):
    """Which weighted sum a tree leads to."""
    while code >= 0:
        if sum_of(net, work, net.tr_sum[code], pressure, since) > 0.0:
            code = net.tr_yes[code]
        else:
            code = net.tr_no[code]
    return -1 - code


def outside_pressures(net, work, pressure, since):
    """The pressures of the atmosphere, intakes and feeds."""
    for j in range(net.sizes[1]):
        slot = net.os_slot[j]
        pressure[net.sizes[0] + j] = work.inputs[slot] + work.rates[slot] * since


def flows(net, work, pressure, since, derive):
    """Mass flow into every node, kg/s, outside nodes included; with `derive` also its derivatives.

    ISO 6358 with a smooth zone near no flow, times the opening's smooth step; `circuit.gas.flow` has the formulas.
    """
    nodes = net.sizes[0]
    both = nodes + net.sizes[1]
    wide = net.constants[0]
    laminar = net.constants[1]
    for i in range(both):
        work.flow[i] = 0.0
    if derive:
        for j in range(net.sizes[7]):
            work.jacobian[j] = 0.0
        for i in range(both):
            work.in_time[i] = 0.0
    for e in range(net.sizes[2]):
        scale = net.el_flow[e] * work.inputs[net.el_gate[e]]
        mode = net.el_mode[e]
        if scale == 0.0 or mode == HELD_SHUT:
            continue
        way = net.el_way[e]
        a = net.el_a[e]
        b = net.el_b[e]
        opened = 1.0
        steep = 0.0
        k = -1
        root = net.el_root[e]
        if root != NOTHING and mode != HELD_OPEN:
            k = -1 - root if root < 0 else answer(net, work, root, pressure, since)
            share = sum_of(net, work, k, pressure, since) / wide
            if way == PUMP:
                share = 1.0 - share
            if share <= 0.0:
                continue
            if share < 1.0:
                opened = share * share * (3.0 - 2.0 * share)
                steep = 6.0 * share * (1.0 - share) / wide
                if way == PUMP:
                    steep = -steep
        if way == PUMP:
            ratio = pressure[b] * net.constants[3]
            power = ratio ** net.constants[2]
            taken = 1.0 + net.el_ratio[e] - net.el_ratio[e] * power
            if taken <= 0.0:
                continue
            full = scale * taken
            by_a = 0.0
            by_b = -scale * opened * net.el_ratio[e] * power * net.constants[2] / pressure[b]
        else:
            pa = pressure[a]
            pb = pressure[b]
            if pa >= pb:
                up = pa
                down = pb
            elif way == ONE_WAY:
                continue
            else:
                up = pb
                down = pa
            ratio = down / up
            critical = net.el_ratio[e]
            curve = 1.0
            bend = 0.0
            if ratio > critical:
                z = (ratio - critical) / (1.0 - critical)
                y = 1.0 - z * z
                if net.el_sub[e] == 0.5:
                    root_of = sqrt((1.0 + laminar) / (y + laminar))
                    curve = y * root_of
                    bend = root_of * (1.0 - 0.5 * y / (y + laminar)) * (-2.0 * z / (1.0 - critical))
                else:
                    less = 1.0 - net.el_sub[e]
                    root_of = ((1.0 + laminar) / (y + laminar)) ** less
                    curve = y * root_of
                    bend = root_of * (1.0 - less * y / (y + laminar)) * (-2.0 * z / (1.0 - critical))
            full = scale * up * curve
            by_up = scale * opened * (curve - ratio * bend)
            by_down = scale * opened * bend
            if pa >= pb:
                by_a = by_up
                by_b = by_down
            else:
                full = -full
                by_a = -by_down
                by_b = -by_up
        amount = full * opened
        work.flow[a] -= amount
        work.flow[b] += amount
        if derive:
            work.jacobian[net.el_aa[e]] -= by_a
            work.jacobian[net.el_ab[e]] -= by_b
            work.jacobian[net.el_ba[e]] += by_a
            work.jacobian[net.el_bb[e]] += by_b
            change = 0.0
            if a >= nodes:
                change += by_a * work.rates[net.os_slot[a - nodes]]
            if b >= nodes:
                change += by_b * work.rates[net.os_slot[b - nodes]]
            if steep != 0.0:
                push = full * steep
                for j in range(net.af_start[k], net.af_start[k + 1]):
                    work.jacobian[net.at_a[j]] -= push * work.weight[j]
                    work.jacobian[net.at_b[j]] += push * work.weight[j]
                change += push * work.drift[k]
            work.in_time[a] -= change
            work.in_time[b] += change


def slopes(net, work):
    """How much more air each space holds for each Pa, kg/Pa."""
    for i in range(net.sizes[0]):
        j = net.nd_piece[i]
        last = net.nd_piece[i + 1] - 1
        if j == last:
            work.slope[i] = net.pc_1[j]
            continue
        p = work.pressure[i]
        while j < last and net.pc_pressure[j + 1] <= p:
            j += 1
        q = p - net.pc_pressure[j]
        work.slope[i] = net.pc_1[j] + q * (2.0 * net.pc_2[j] + q * (3.0 * net.pc_3[j] + q * 4.0 * net.pc_4[j]))


def pressures(net, held, guess, found):
    """The pressures at which spaces hold so much air. guess: where to look first."""
    for i in range(net.sizes[0]):
        j = net.nd_piece[i]
        last = net.nd_piece[i + 1] - 1
        if j == last:
            found[i] = held[i] / net.pc_1[j]
            continue
        while j < last and net.pc_held[j + 1] <= held[i]:
            j += 1
        wanted = held[i] - net.pc_held[j]
        q = guess[i] - net.pc_pressure[j]
        if q < 0.0:
            q = 0.0
        elif j < last and q > net.pc_pressure[j + 1] - net.pc_pressure[j]:
            q = net.pc_pressure[j + 1] - net.pc_pressure[j]
        for _ in range(30):
            value = q * (net.pc_1[j] + q * (net.pc_2[j] + q * (net.pc_3[j] + q * net.pc_4[j])))
            steep = net.pc_1[j] + q * (2.0 * net.pc_2[j] + q * (3.0 * net.pc_3[j] + q * 4.0 * net.pc_4[j]))
            change = (wanted - value) / steep
            q += change
            if change < 1e-6 and change > -1e-6:
                break
        found[i] = net.pc_pressure[j] + q


def factor(net, work, scale):
    """The matrix of a step, slope times `scale` less the derivatives, ready to solve with."""
    matrix = work.matrix
    for j in range(net.sizes[8]):
        matrix[j] = -work.jacobian[j]
    for i in range(net.sizes[0]):
        matrix[net.lu_diagonal[i]] += work.slope[i] * scale
    for s in range(len(net.lu_row)):
        low = matrix[net.lu_low[s]] / matrix[net.lu_diagonal[net.lu_pivot[s]]]
        matrix[net.lu_low[s]] = low
        for u in range(net.lu_begin[s], net.lu_begin[s + 1]):
            matrix[net.lu_target[u]] -= low * matrix[net.lu_source[u]]


def solve(net, work):
    """Overwrites work.x, the right side, with the solution."""
    matrix = work.matrix
    x = work.x
    for s in range(len(net.lu_row)):
        x[net.lu_row[s]] -= matrix[net.lu_low[s]] * x[net.lu_pivot[s]]
    for place in range(net.sizes[0]):
        i = net.lu_order[place]
        total = x[i]
        for u in range(net.lu_back[place], net.lu_back[place + 1]):
            total -= matrix[net.lu_upper[u]] * x[net.lu_column[u]]
        x[i] = total / matrix[net.lu_diagonal[i]]


def attempt(net, tableau, work, h, since):
    """One step of size h: the new masses in stage_held and outside, pressures in stage_pressure; returns the error
    before it is divided by the tolerance, the root of the mean square in Pa."""
    stages, gamma, _, ta, tc, alpha, gammas, tm, fresh = tableau
    nodes = net.sizes[0]
    both = nodes + net.sizes[1]
    factor(net, work, 1.0 / (h * gamma))
    for i in range(stages):
        row = i * (i - 1) // 2
        if i > 0 and fresh[i] == 1:
            for n in range(nodes):
                total = work.held[n]
                for j in range(i):
                    total += ta[row + j] * work.k[j * both + n]
                work.stage_held[n] = total
            pressures(net, work.stage_held, work.stage_pressure, work.stage_pressure)
            for n in range(nodes):
                if not work.stage_pressure[n] > net.constants[9]:
                    work.stage_pressure[n] = net.constants[9]
            outside_pressures(net, work, work.stage_pressure, since + alpha[i] * h)
            flows(net, work, work.stage_pressure, since + alpha[i] * h, False)
        for n in range(nodes):
            total = work.flow[n] + gammas[i] * h * work.in_time[n]
            for j in range(i):
                total += tc[row + j] / h * work.k[j * both + n]
            work.x[n] = total
        solve(net, work)
        for n in range(nodes):
            work.k[i * both + n] = work.slope[n] * work.x[n]
        for o in range(net.sizes[1]):
            n = nodes + o
            total = work.flow[n] + gammas[i] * h * work.in_time[n]
            for j in range(i):
                total += tc[row + j] / h * work.k[j * both + n]
            for u in range(net.bd_start[o], net.bd_start[o + 1]):
                total += work.jacobian[net.bd_slot[u]] * work.x[net.bd_node[u]]
            work.k[i * both + n] = h * gamma * total
    error = 0.0
    for n in range(nodes):
        total = work.held[n]
        for j in range(stages):
            total += tm[j] * work.k[j * both + n]
        work.stage_held[n] = total
        error += work.x[n] * work.x[n]
    pressures(net, work.stage_held, work.stage_pressure, work.stage_pressure)
    for n in range(nodes):
        if not work.stage_pressure[n] > net.constants[9]:
            return 1e30
    return sqrt(error / nodes)


def push_of_latch(net, work, number, pressure, since):
    """Pa by which a latch is pushed to its other side; negative is not."""
    if net.la_live[number] == 0:
        return -1.0
    code = net.la_set[number] if work.inputs[net.la_slot[number]] < 0.5 else net.la_reset[number]
    if code == NOTHING:
        return -1.0
    return sum_of(net, work, answer(net, work, code, pressure, since), pressure, since)


def flip_latches(net, work, until):
    """Turns every latch that is pushed over and may move; returns how many."""
    t = work.state[0]
    flips = 0
    for number in range(net.sizes[5]):
        push = push_of_latch(net, work, number, work.pressure, t - work.state[2])
        if push > 0.0 and t - work.state[3 + number] >= net.constants[4]:
            slot = net.la_slot[number]
            work.inputs[slot] = 0.0 if work.inputs[slot] >= 0.5 else 1.0
            work.state[3 + number] = t
            flips += 1
            place = work.counts[5]
            if place < len(work.event_time):
                work.event_time[place] = t
                work.event_latch[place] = number
                work.event_value[place] = work.inputs[slot]
            work.counts[5] = place + 1
            refresh(net, work, until)
    return flips


def write_down(net, work, t):
    """Records the pressures, what changes them and what came from outside."""
    nodes = net.sizes[0]
    place = work.counts[4]
    work.record_time[place] = t
    for i in range(nodes):
        work.record_pressure[place * nodes + i] = work.pressure[i]
        work.record_rate[place * nodes + i] = work.flow[i] / work.slope[i]
    for o in range(net.sizes[1]):
        work.record_outside[place * net.sizes[1] + o] = work.outside[o]
    work.counts[4] = place + 1


def enter(net, work, segment):
    """Sets the inputs as the script says for the start of a segment."""
    t = work.state[0]
    since = t - work.state[2]
    for slot in range(len(work.inputs)):
        work.inputs[slot] += work.rates[slot] * since
    for j in range(net.sg_start[segment], net.sg_start[segment + 1]):
        slot = net.ch_slot[j]
        work.inputs[slot] = net.ch_value[j]
        work.rates[slot] = net.ch_rate[j]
    work.state[2] = t
    refresh(net, work, net.sg_time[segment + 1])
    work.state[1] = net.constants[6]


def integrate(net, tableau, work, tolerance, room):
    """Runs to the end of the script, or until the room for records is used up. Returns DONE, FULL, STUCK or CHATTER."""
    nodes = net.sizes[0]
    both = nodes + net.sizes[1]
    least = net.constants[7]
    while work.counts[0] < net.sizes[6]:
        segment = work.counts[0]
        until = net.sg_time[segment + 1]
        if work.counts[1] == 1:
            enter(net, work, segment)
            work.counts[1] = 0
        while work.state[0] < until:
            if work.counts[4] + 2 >= room:
                return FULL
            if work.counts[2] > net.constants[8]:
                return STUCK
            for _ in range(20):
                if flip_latches(net, work, until) == 0:
                    break
                work.state[1] = net.constants[6]
            if work.counts[5] >= len(work.event_time):
                return CHATTER
            t = work.state[0]
            since = t - work.state[2]
            outside_pressures(net, work, work.pressure, since)
            if net.sizes[4] > 0:
                freeze(net, work, since)
            for number in range(net.sizes[5]):
                work.latch[number] = push_of_latch(net, work, number, work.pressure, since)
            flows(net, work, work.pressure, since, True)
            slopes(net, work)
            write_down(net, work, t)
            for i in range(both):
                work.first[i] = work.flow[i]
            h = work.state[1]
            refused = False
            while True:
                if t + h * 1.000001 >= until:
                    h = until - t
                elif t + 2.0 * h > until:
                    h = 0.5 * (until - t)
                for i in range(nodes):
                    work.stage_pressure[i] = work.pressure[i]
                for i in range(both):
                    work.flow[i] = work.first[i]
                error = attempt(net, tableau, work, h, since) / tolerance
                if not error < 1e12:
                    error = 1e12
                best = 0.9 * (error + 1e-12) ** (-1.0 / tableau[2])
                if error > 1.0 and h > least:
                    work.counts[3] += 1
                    h = max(h * max(0.1, best), least)
                    refused = True
                    continue
                if error > 1.0:
                    work.counts[6] += 1
                over = crossing(net, work, h, since)
                if over < 1.0 and h > least:
                    work.counts[3] += 1
                    h = max(over * h, least)
                    refused = True
                    continue
                break
            for i in range(nodes):
                work.held[i] = work.stage_held[i]
                work.pressure[i] = work.stage_pressure[i]
            for o in range(net.sizes[1]):
                total = work.outside[o]
                for j in range(tableau[0]):
                    total += tableau[7][j] * work.k[j * both + nodes + o]
                work.outside[o] = total
            work.counts[2] += 1
            work.state[0] = until if t + h * 1.0000000001 >= until else t + h
            work.state[1] = h * min(1.0 if refused else 6.0, max(0.2, best))
        outside_pressures(net, work, work.pressure, until - work.state[2])
        flows(net, work, work.pressure, until - work.state[2], False)
        slopes(net, work)
        write_down(net, work, until)
        work.counts[0] = segment + 1
        work.counts[1] = 1
    return DONE


def crossing(net, work, h, since):
    """1 when no latch is passed too far by the step, else the share of the step at which the first is reached."""
    tolerance = net.constants[5]
    share = 1.0
    t = work.state[0]
    for number in range(net.sizes[5]):
        before = work.latch[number]
        if before > 0.0 or t + h - work.state[3 + number] < net.constants[4]:
            continue
        after = push_of_latch(net, work, number, work.stage_pressure, since + h)
        if after > tolerance:
            place = (0.5 * tolerance - before) / (after - before)
            share = min(share, max(0.02, min(0.98, place)))
    return share


FUNCTIONS = (refresh, sum_of, freeze, answer, outside_pressures, flows, slopes, pressures, factor, solve, attempt,
             push_of_latch, flip_latches, write_down, enter, crossing, integrate)
"""In the order in which they must be compiled."""
