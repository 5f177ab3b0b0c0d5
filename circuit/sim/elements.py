"""What flows through the elements: how far each is open, the law of its flow, and their sum in every space.

In every function: a is the circuit, room the run's own, `pressure` a row of pressures in it, `since` the s after the time
for which the inputs stand. Written in the small part of Python that `translate` knows: loops over rows, no objects made.
The same text also runs uncompiled on plain lists. Loops that give one result for each place are done several at once.
"""

from math import sqrt

from circuit.sim.arrays import HELD_OPEN, HELD_SHUT, NOTHING, ONE_WAY, PUMP, Arrays, Room
from circuit.sim.power import power


def stand(a: Arrays, room: Room) -> None:
    """What each element lets through while the inputs stand, conductance times gate in kg/(s Pa), or kg/s of a pump,
    and by which straight line it opens: with the pressure of its opening, and with that ahead of it."""
    per_wide = 1.0 / a.opening
    usual = sqrt(1.0 + a.laminar)
    for e in range(a.elements):
        let = a.el_flow[e] * room.input[a.el_gate[e]]
        way = a.el_way[e]
        mode = a.el_mode[e]
        if mode == HELD_SHUT:
            let = 0.0
        if way != PUMP:
            if a.el_sub[e] == 0.5:
                let *= usual
            else:
                let *= power(1.0 + a.laminar, 1.0 - a.el_sub[e])
        room.scale[e] = let
        room.opened[e] = 1.0
        room.leaf[e] = a.el_leaf[e]
        if a.el_root[e] == NOTHING or mode == HELD_OPEN:
            room.per_push[e] = 0.0
            room.unpushed[e] = 1.0
        elif way == PUMP:
            room.per_push[e] = -per_wide
            room.unpushed[e] = 1.0
        else:
            room.per_push[e] = per_wide
            room.unpushed[e] = 0.0
        if way == ONE_WAY:
            room.per_ahead[e] = 1.0 / a.seats
            room.level[e] = 0.0
        else:
            room.per_ahead[e] = 0.0
            room.level[e] = 1.0


def law(a: Arrays, room: Room, derive: bool) -> None:
    """The flow of every element as if it were open, kg/s from its start to its end; with `derive` also its derivatives
    by the pressures at both.

    ISO 6358 with a smooth zone near no flow; `circuit.gas.flow` has the formulas. With y times the upper pressure
    squared one division is enough, and `above` is 0 where the flow is choked.
    """
    if derive:
        for e in range(a.elements):
            pa = room.pa[e]
            pb = room.pb[e]
            up = max(pa, pb)
            down = min(pa, pb)
            above = max(down - a.el_ratio[e] * up, 0.0) * a.el_inverse[e]
            y = up * up - above * above
            part = 1.0 / (y + a.laminar * up * up)
            per = room.scale[e] * sqrt(part)
            amount = per * y
            by_down = -per * (2.0 - y * part) * above * a.el_inverse[e]
            # twice the pressures pass twice the air, so that one derivative follows from the other
            by_up = (amount - down * by_down) / up
            room.full[e] = amount if pa >= pb else -amount
            room.by_a[e] = by_up if pa >= pb else -by_down
            room.by_b[e] = by_down if pa >= pb else -by_up
    else:
        for e in range(a.elements):
            pa = room.pa[e]
            pb = room.pb[e]
            up = max(pa, pb)
            above = max(min(pa, pb) - a.el_ratio[e] * up, 0.0) * a.el_inverse[e]
            y = up * up - above * above
            amount = room.scale[e] * sqrt(1.0 / (y + a.laminar * up * up)) * y
            room.full[e] = amount if pa >= pb else -amount


def weigh(a: Arrays, room: Room, pressure: list[float], since: float) -> None:
    """All weighted sums, products of a sum with a pressure among them."""
    for k in range(a.sums):
        room.value[k] = room.constant[k] + room.drift[k] * since
    for j in range(a.terms):
        room.value[a.at_sum[j]] += a.at_weight[j] * pressure[a.at_node[j]]
    for j in range(a.products):
        factor = a.pr_weight[j] * room.value[a.pr_factor[j]]
        room.value[a.pr_sum[j]] += factor * pressure[a.at_node[a.pr_term[j]]]


def lean(a: Arrays, room: Room) -> None:
    """How sums with products rise with the pressures and with time, at the begin of a step; `weigh` comes first."""
    for j in range(a.products):
        k = a.pr_sum[j]
        room.haste[k] = room.drift[k]
    for j in range(a.products):
        k = a.pr_sum[j]
        factor = a.pr_factor[j]
        term = a.pr_term[j]
        first = a.af_start[factor]
        weighed = a.pr_weight[j] * room.pressure[a.at_node[term]]
        room.rise[term] = a.pr_weight[j] * room.value[factor]
        room.haste[k] += weighed * room.drift[factor]
        for i in range(first, a.af_start[factor + 1]):
            room.rise[term + 1 + i - first] = weighed * a.at_weight[i]


def pushes(a: Arrays, room: Room, pressure: list[float], since: float) -> None:
    """All weighted sums, and the Pa by which each element with an opening is pushed open."""
    weigh(a, room, pressure, since)
    for e in range(a.simple, a.elements):
        room.push[e] = room.value[a.el_leaf[e]]
    for n in range(a.trees):
        e = a.el_tree[n]
        code = a.el_root[e]
        while code >= 0:
            code = a.tr_yes[code] if room.value[a.tr_sum[code]] > 0.0 else a.tr_no[code]
        room.leaf[e] = -1 - code
        room.push[e] = room.value[-1 - code]


def openings(a: Arrays, room: Room, derive: bool) -> None:
    """How far each element with an opening or a direction is open, from 0 to 1, as it is pushed; with `derive` also how
    that rises with its opening's pressure and with that ahead of it, 1/Pa."""
    if derive:
        for e in range(a.simple, a.elements):
            share = min(max(room.push[e] * room.per_push[e] + room.unpushed[e], 0.0), 1.0)
            opened = share * share * (3.0 - 2.0 * share)
            off = min(max((room.pa[e] - room.pb[e]) * room.per_ahead[e] + room.level[e], 0.0), 1.0)
            lift = off * off * (3.0 - 2.0 * off)
            room.steep[e] = 6.0 * share * (1.0 - share) * room.per_push[e] * lift
            room.tilt[e] = 6.0 * off * (1.0 - off) * room.per_ahead[e] * opened
            room.opened[e] = opened * lift
    else:
        for e in range(a.simple, a.elements):
            share = min(max(room.push[e] * room.per_push[e] + room.unpushed[e], 0.0), 1.0)
            off = min(max((room.pa[e] - room.pb[e]) * room.per_ahead[e] + room.level[e], 0.0), 1.0)
            room.opened[e] = share * share * (3.0 - 2.0 * share) * (off * off * (3.0 - 2.0 * off))


def unlike(a: Arrays, room: Room) -> None:
    """Pumps and elements with another exponent than 0.5, which the law has treated as if they were not."""
    for n in range(a.odds):
        e = a.el_odd[n]
        let = room.scale[e]
        if let == 0.0 or room.opened[e] == 0.0:
            continue
        critical = a.el_ratio[e]
        pa = room.pa[e]
        pb = room.pb[e]
        if a.el_way[e] == PUMP:
            grown = power(pb * a.per_inlet, a.expansion)
            taken = 1.0 + critical - critical * grown
            room.full[e] = let * max(taken, 0.0)
            room.by_a[e] = 0.0
            room.by_b[e] = -let * critical * grown * a.expansion / pb if taken > 0.0 else 0.0
        else:
            less = 1.0 - a.el_sub[e]
            up = max(pa, pb)
            inverse = a.el_inverse[e]
            above = max(min(pa, pb) - critical * up, 0.0) * inverse
            y = up * up - above * above
            part = 1.0 / (y + a.laminar * up * up)
            rise = let * power(up * up * part, less) / up
            by_down = -2.0 * rise * (1.0 - less * y * part) * above * inverse
            by_up = (y * rise - min(pa, pb) * by_down) / up
            room.full[e] = y * rise if pa >= pb else -y * rise
            room.by_a[e] = by_up if pa >= pb else -by_down
            room.by_b[e] = by_down if pa >= pb else -by_up


def flows(a: Arrays, room: Room, pressure: list[float], derive: bool) -> None:
    """Mass flow into every node, kg/s, outside nodes included, `pushes` being those at these pressures; with `derive`
    also its derivatives."""
    for e in range(a.elements):
        room.pa[e] = pressure[a.el_a[e]]
        room.pb[e] = pressure[a.el_b[e]]
    law(a, room, derive)
    openings(a, room, derive)
    unlike(a, room)
    for i in range(a.both):
        room.flow[i] = 0.0
    if derive:
        derivatives(a, room)
    for e in range(a.elements):
        amount = room.full[e] * room.opened[e]
        room.flow[a.el_a[e]] -= amount
        room.flow[a.el_b[e]] += amount


def derivatives(a: Arrays, room: Room) -> None:
    """How the flows change with every pressure and with time."""
    for i in range(a.slots):
        room.jacobian[i] = 0.0
    for i in range(a.both):
        room.in_time[i] = 0.0
    for e in range(a.simple, a.elements):
        opened = room.opened[e]
        by_a = room.by_a[e] * opened
        by_b = room.by_b[e] * opened
        if opened != 0.0:
            one = a.el_a[e]
            other = a.el_b[e]
            tilt = room.full[e] * room.tilt[e]
            push = room.full[e] * room.steep[e]
            by_a += tilt
            by_b -= tilt
            change = 0.0
            if one >= a.nodes:
                change += by_a * room.rate[a.os_slot[one - a.nodes]]
            if other >= a.nodes:
                change += by_b * room.rate[a.os_slot[other - a.nodes]]
            if push != 0.0:
                k = room.leaf[e]
                for j in range(a.af_start[k], a.af_start[k + 1]):
                    weighed = push * room.rise[j]
                    room.jacobian[a.at_a[j]] -= weighed
                    room.jacobian[a.at_b[j]] += weighed
                change += push * room.haste[k]
            room.in_time[one] -= change
            room.in_time[other] += change
        room.by_a[e] = by_a
        room.by_b[e] = by_b
    for e in range(a.elements):
        by_a = room.by_a[e]
        by_b = room.by_b[e]
        room.jacobian[a.el_aa[e]] -= by_a
        room.jacobian[a.el_ab[e]] -= by_b
        room.jacobian[a.el_ba[e]] += by_a
        room.jacobian[a.el_bb[e]] += by_b


FUNCTIONS = (stand, law, weigh, lean, pushes, openings, unlike, derivatives, flows)
"""What is compiled of this file."""
