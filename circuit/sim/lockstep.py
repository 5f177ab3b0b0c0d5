"""Many alike runs at once without a compiler: numpy on a column for each run.

The same equations, method and order of elimination as the kernel. The runs go through the same motions together, but
each has its own clock and its own step; those that are done are taken out.
"""

from typing import Any

import numpy as np

from circuit.sim.arrays import (
    CHATTER, DONE, HELD_OPEN, HELD_SHUT, NOTHING, ONE_WAY, PUMP, STUCK, Arrays, Tableau,
)
from circuit.sim.packing import REAL_FIELDS

MOST_EVENTS = 4000


class Lockstep:
    """runs: arrays of the same circuit, different only in numbers. starts: inputs of each. pressures, held: of the
    nodes."""

    def __init__(self, runs: list[Arrays], tableau: Tableau, starts: list[list[float]], pressures: Any, held: Any,
                 tolerance: float):
        a = self.a = runs[0]
        self.tableau, self.tolerance, self.many = tableau, tolerance, len(runs)
        self.nodes, outside, self.elements, sums, _, self.latches, *_ = a.sizes
        self.both = self.nodes + outside
        self.wide, self.laminar, self.expansion, self.per_inlet = a.constants[:4]
        whole = {f: np.array(getattr(a, f), dtype=int) for f in Arrays._fields
                 if f[:2] in ("el", "at", "os", "ft", "it") and f not in REAL_FIELDS}
        self.w = whole
        self.ratio, self.less = (np.array(row)[:, None] for row in (a.el_ratio, [1.0 - m for m in a.el_sub]))
        self.flow = np.array([run.el_flow for run in runs]).T
        mode = np.array([run.el_mode for run in runs]).T
        self.flow[mode == HELD_SHUT] = 0.0
        self.held_open = mode == HELD_OPEN
        self.live = np.array([run.la_live for run in runs]).T.reshape(self.latches, -1) > 0
        self.course = np.array([[run.ch_value, run.ch_rate] for run in runs]).transpose(1, 2, 0)
        self.inputs = np.array(starts).T.copy()
        self.rates = np.zeros_like(self.inputs)
        self.p = np.zeros((self.both, self.many))
        self.p[:self.nodes] = np.array(pressures)[:, None]
        self.m = np.repeat(np.array(held)[:, None], self.many, axis=1)
        self.out = np.zeros((outside, self.many))
        self._shape(sums)

    def _shape(self, sums: int) -> None:
        """Index tables that never change."""
        a, w = self.a, self.w
        terms = len(a.at_node)
        self.of_sum = np.repeat(np.arange(sums), np.diff(a.af_start))
        self.weight = np.repeat(np.array(a.at_weight).reshape(terms, 1), self.many, axis=1)
        self.gather = np.zeros((sums, terms))
        self.gather[self.of_sum, np.arange(terms)] = 1.0
        self.middle = np.array(a.af_middle, dtype=bool)[:, None]
        self.entering = np.zeros((sums, len(self.inputs)))
        for k, slot, weight in zip(a.it_sum, a.it_slot, a.it_weight):
            self.entering[k, slot] += weight
        self.incidence = np.zeros((self.both, self.elements))
        self.incidence[w["el_b"], np.arange(self.elements)] += 1.0
        self.incidence[w["el_a"], np.arange(self.elements)] -= 1.0
        self.guarded = np.array([e for e, root in enumerate(a.el_root) if root != NOTHING], dtype=int)
        self.pumps = np.array([e for e, way in enumerate(a.el_way) if way == PUMP], dtype=int)
        self.one_way = (w["el_way"] == ONE_WAY)[:, None]
        owner = {-1 - code: e for e in self.guarded for code in _leaves(a, a.el_root[e])}
        self.owned = np.array([t for t, k in enumerate(self.of_sum) if int(k) in owner], dtype=int)
        self.owner = np.array([owner[int(self.of_sum[t])] for t in self.owned], dtype=int)
        slots = np.concatenate([w["el_aa"], w["el_ab"], w["el_ba"], w["el_bb"], w["at_a"][self.owned],
                                w["at_b"][self.owned]])
        self.order = np.argsort(slots, kind="stable")
        self.slots, self.begins = np.unique(slots[self.order], return_index=True)
        self.diagonal = np.array(a.lu_diagonal)
        self.pivots = []
        for place, k in enumerate(a.lu_order):
            steps = range(a.lu_group[place], a.lu_group[place + 1])
            moves = [u for s in steps for u in range(a.lu_begin[s], a.lu_begin[s + 1])]
            back = range(a.lu_back[place], a.lu_back[place + 1])
            self.pivots.append((
                k, a.lu_diagonal[k], np.array([a.lu_low[s] for s in steps], dtype=int),
                np.array([a.lu_row[s] for s in steps], dtype=int), np.array([a.lu_target[u] for u in moves], dtype=int),
                np.array([a.lu_source[u] for u in moves], dtype=int),
                np.array([a.lu_low[s] for s in steps for _ in range(a.lu_begin[s], a.lu_begin[s + 1])], dtype=int),
                np.array([a.lu_upper[u] for u in back], dtype=int),
                np.array([a.lu_column[u] for u in back], dtype=int)))
        counts = np.diff(a.nd_piece)
        self.table = np.zeros((self.nodes, int(counts.max()), 6))
        self.table[:, :, :2] = 1e12
        for i, count in enumerate(counts):
            rows = slice(a.nd_piece[i], a.nd_piece[i + 1])
            self.table[i, :count] = np.array([a.pc_pressure[rows], a.pc_held[rows], a.pc_1[rows], a.pc_2[rows],
                                              a.pc_3[rows], a.pc_4[rows]]).T
        self.ends = np.append(np.diff(self.table[:, :, 0], axis=1), np.full((self.nodes, 1), 1e9), axis=1)
        self.bending = np.flatnonzero((counts > 1) | (self.table[:, 0, 3] != 0.0))

    # --- equations ---------------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        fixed = self.entering @ (self.inputs + 0.5 * (self.until - self.since) * self.rates)
        entering = np.where(self.middle, fixed, self.entering @ self.inputs)
        self.constant = np.array(self.a.af_constant)[:, None] + entering
        self.drift = np.where(self.middle, 0.0, self.entering @ self.rates)

    def freeze(self, t: Any) -> None:
        a = self.a
        if a.fz_sum:
            factors = self.sums(self.p, t)[a.fz_sum]
            self.weight = np.repeat(np.array(a.at_weight)[:, None], self.many, axis=1)
            for factor, term, weight in zip(a.ft_factor, a.ft_term, a.ft_weight):
                self.weight[term] += weight * factors[factor]

    def sums(self, p: Any, t: Any) -> Any:
        return self.constant + self.drift * (t - self.since) + self.gather @ (self.weight * p[self.w["at_node"]])

    def answers(self, code: int, sums: Any) -> Any:
        """Which sum a tree leads to, for each run."""
        if code < 0:
            return np.full(self.many, -1 - code)
        yes, no = self.answers(self.a.tr_yes[code], sums), self.answers(self.a.tr_no[code], sums)
        return np.where(sums[self.a.tr_sum[code]] > 0.0, yes, no)

    def outside(self, p: Any, t: Any) -> None:
        p[self.nodes:] = (self.inputs + self.rates * (t - self.since))[self.w["os_slot"]]

    def flows(self, p: Any, t: Any, derive: bool = False) -> Any:
        """Mass flow into every node; with `derive` self.jacobian and self.in_time too."""
        w = self.w
        sums = self.sums(p, t)
        leaf = np.full((self.elements, self.many), -1)
        for e in self.guarded:
            leaf[e] = self.answers(self.a.el_root[e], sums)
        push = np.where(leaf >= 0, np.take_along_axis(sums, np.maximum(leaf, 0), axis=0) / self.wide, 1e9)
        push[self.pumps] = 1.0 - np.where(leaf[self.pumps] >= 0, push[self.pumps], 0.0)
        push[self.held_open] = 1e9
        share = np.clip(push, 0.0, 1.0)
        opened = share * share * (3.0 - 2.0 * share)
        pa, pb = p[w["el_a"]], p[w["el_b"]]
        rises = pb > pa
        up, down = np.where(rises, pb, pa), np.where(rises, pa, pb)
        above = np.maximum(down - self.ratio * up, 0.0) / (1.0 - self.ratio)
        y = up * up - above * above
        part = 1.0 / (y + self.laminar * up * up)
        rise = ((1.0 + self.laminar) * up * up * part) ** self.less / up
        choked = above <= 0.0
        scale = self.flow * self.inputs[w["el_gate"]]
        scale = np.where(self.one_way & rises, 0.0, scale)
        full = scale * np.where(choked, up, y * rise)
        signed = np.where(rises, -full, full)
        seats = self.a.constants[10]
        ahead = np.where(self.one_way, np.clip((pa - pb) / seats, 0.0, 1.0), 1.0)
        lifted = ahead * ahead * (3.0 - 2.0 * ahead)
        tilt = signed * opened * 6.0 * ahead * (1.0 - ahead) / seats
        signed = signed * lifted
        for e in self.pumps:
            power = (pb[e] * self.per_inlet) ** self.expansion
            taken = 1.0 + self.ratio[e] - self.ratio[e] * power
            signed[e] = scale[e] * np.maximum(taken, 0.0)
        if derive:
            by_y = scale * opened * rise * (1.0 - self.less * y * part)
            inverse = 1.0 / (1.0 - self.ratio)
            by_down = np.where(choked, 0.0, -2.0 * by_y * above * inverse)
            falls = 2.0 * self.less * self.laminar * up * part - (2.0 * self.less - 1.0) / up
            by_up = 2.0 * by_y * (up + above * self.ratio * inverse) - scale * opened * y * rise * falls
            by_up = np.where(choked, scale * opened, by_up)
            by_a = np.where(rises, -by_down, by_up) * lifted + tilt
            by_b = np.where(rises, -by_up, by_down) * lifted - tilt
            for e in self.pumps:
                power = (pb[e] * self.per_inlet) ** self.expansion
                flowing = 1.0 + self.ratio[e] - self.ratio[e] * power > 0
                by_a[e] = 0.0
                by_b[e] = np.where(flowing, -scale[e] * opened[e] * self.ratio[e] * power * self.expansion / pb[e], 0.0)
            steep = 6.0 * share * (1.0 - share) / self.wide
            steep[self.pumps] *= -1.0
            pushed = signed * steep
            asked = leaf[self.owner] == self.of_sum[self.owned][:, None]
            weighed = np.where(asked, pushed[self.owner] * self.weight[self.owned], 0.0)
            rows = np.concatenate([-by_a, -by_b, by_a, by_b, -weighed, weighed])[self.order]
            self.jacobian = np.zeros((self.a.sizes[7], self.many))
            self.jacobian[self.slots] = np.add.reduceat(rows, self.begins, axis=0)
            moving = np.zeros((self.both, self.many))
            moving[self.nodes:] = self.rates[w["os_slot"]]
            drift = np.take_along_axis(self.drift, np.maximum(leaf, 0), axis=0)
            self.in_time = self.incidence @ (by_a * moving[w["el_a"]] + by_b * moving[w["el_b"]] + pushed * drift)
        return self.incidence @ (signed * opened)

    def _place(self, column: int, values: Any) -> Any:
        """In which piece of its volume each node of each run is."""
        return np.maximum((self.table[:, :, column, None] <= values[:, None, :]).sum(axis=1) - 1, 0)

    def slopes(self) -> Any:
        row = self.table[np.arange(self.nodes)[:, None], self._place(0, self.p[:self.nodes])]
        q = self.p[:self.nodes] - row[..., 0]
        return row[..., 2] + q * (2 * row[..., 3] + q * (3 * row[..., 4] + q * 4 * row[..., 5]))

    def pressures(self, held: Any, guess: Any) -> Any:
        found = np.empty_like(guess)
        found[:self.nodes] = held / self.table[:, 0, 2, None]
        if len(self.bending):
            place = self._place(1, held)[self.bending]
            row, end = (table[self.bending[:, None], place] for table in (self.table, self.ends))
            wanted = held[self.bending] - row[..., 1]
            q = np.clip(guess[self.bending] - row[..., 0], 0.0, end)
            for _ in range(30):
                value = q * (row[..., 2] + q * (row[..., 3] + q * (row[..., 4] + q * row[..., 5])))
                steep = row[..., 2] + q * (2 * row[..., 3] + q * (3 * row[..., 4] + q * 4 * row[..., 5]))
                change = (wanted - value) / steep
                q = np.clip(q + change, 0.0, end)
                if np.abs(change).max() < 1e-6:
                    break
            found[self.bending] = row[..., 0] + q
        return found

    # --- a step ------------------------------------------------------------------------------------------------------

    def factor(self, scale: Any) -> None:
        self.matrix = -self.jacobian[:self.a.sizes[8]]
        self.matrix[self.diagonal] += self.slope * scale
        matrix = self.matrix
        self.inverse = np.empty_like(self.slope)
        for k, diagonal, low, _, target, source, lows, _, _ in self.pivots:
            self.inverse[k] = 1.0 / matrix[diagonal]
            if len(low):
                matrix[low] *= self.inverse[k]
                matrix[target] -= matrix[lows] * matrix[source]

    def solve(self, x: Any) -> Any:
        matrix = self.matrix
        for k, _, low, row, *_ in self.pivots:
            if len(low) == 1:
                x[row[0]] -= matrix[low[0]] * x[k]
            elif len(low):
                x[row] -= matrix[low] * x[k]
        for k, *_, upper, column in reversed(self.pivots):
            if len(upper) == 1:
                x[k] -= matrix[upper[0]] * x[column[0]]
            elif len(upper):
                x[k] -= (matrix[upper] * x[column]).sum(axis=0)
            x[k] *= self.inverse[k]
        return x

    def attempt(self, h: Any, t: Any) -> tuple[Any, Any, Any, Any]:
        """New masses, pressures and what went outside, and the error of each run. h, t: of each run."""
        stages, gamma, _, ta, tc, alpha, gammas, tm, fresh = self.tableau
        n = self.nodes
        self.factor(1.0 / (h * gamma))
        k: list[Any] = []
        flow, p, x = self.first, self.p.copy(), None
        for i in range(stages):
            row = i * (i - 1) // 2
            if i > 0 and fresh[i]:
                held = self.m + sum(ta[row + j] * k[j][:n] for j in range(i) if ta[row + j])
                p = self.pressures(held, p)
                np.maximum(p[:n], self.a.constants[9], out=p[:n])
                self.outside(p, t + alpha[i] * h)
                flow = self.flows(p, t + alpha[i] * h)
            right = flow + gammas[i] * h * self.in_time + sum(tc[row + j] / h * k[j] for j in range(i))
            x = self.solve(right[:n].copy())
            for o in range(self.both - n):
                entries = slice(self.a.bd_start[o], self.a.bd_start[o + 1])
                right[n + o] += (self.jacobian[self.a.bd_slot[entries]] * x[self.a.bd_node[entries]]).sum(axis=0)
            k.append(np.concatenate([self.slope * x, h * gamma * right[n:]]))
        total = sum(tm[j] * k[j] for j in range(stages) if tm[j])
        held = self.m + total[:n]
        p = self.pressures(held, p)
        error = np.sqrt((x * x).mean(axis=0))
        error[~(p[:n] > self.a.constants[9]).all(axis=0)] = 1e30
        return held, p, total[n:], error

    # --- events ------------------------------------------------------------------------------------------------------

    def pushes(self, p: Any, t: Any) -> Any:
        """Pa by which each latch of each run is pushed over."""
        a = self.a
        found = np.full((self.latches, self.many), -1.0)
        sums = self.sums(p, t)
        for number in range(self.latches):
            on = self.inputs[a.la_slot[number]] >= 0.5
            for code, side in ((a.la_set[number], ~on), (a.la_reset[number], on)):
                if code != NOTHING:
                    pushed = np.take_along_axis(sums, self.answers(code, sums)[None], axis=0)[0]
                    found[number] = np.where(side & self.live[number], pushed, found[number])
        return found

    def flip(self) -> Any:
        """Turns what is pushed over; returns which runs had something turn."""
        turned = np.zeros(self.many, dtype=bool)
        for _ in range(20):
            over = (self.pushes(self.p, self.t) > 0.0) & (self.t - self.flipped >= self.a.constants[4])
            if not over.any():
                break
            for number, run in zip(*np.nonzero(over)):
                slot = self.a.la_slot[number]
                self.inputs[slot, run] = 0.0 if self.inputs[slot, run] >= 0.5 else 1.0
                self.flipped[number, run] = self.t[run]
                self.events[self.who[run]].append((float(self.t[run]), int(number), float(self.inputs[slot, run])))
                turned[run] = True
            self.refresh()
        return turned

    # --- a run -------------------------------------------------------------------------------------------------------

    def enter(self, runs: Any) -> None:
        """The script's changes at the start of the segments that some runs have come to."""
        a = self.a
        for run in runs:
            segment = int(self.segment[run])
            self.inputs[:, run] += self.rates[:, run] * (self.t[run] - self.since[run])
            for j in range(a.sg_start[segment], a.sg_start[segment + 1]):
                self.inputs[a.ch_slot[j], run], self.rates[a.ch_slot[j], run] = self.course[:, j, run]
            self.since[run], self.until[run] = self.t[run], a.sg_time[segment + 1]
            self.h[run] = a.constants[6]
        self.refresh()

    def write(self, runs: Any, flow: Any) -> None:
        """Records some runs."""
        rate = flow[:self.nodes, runs] / self.slope[:, runs]
        self.records.append((self.who[runs], self.t[runs].copy(), self.p[:self.nodes, runs].T, rate.T))

    def leave(self, keep: Any) -> None:
        """Takes out the runs that are done."""
        for name in ("flow", "held_open", "live", "inputs", "rates", "p", "m", "out", "weight", "flipped"):
            setattr(self, name, getattr(self, name)[..., keep])
        for name in ("t", "h", "since", "until", "segment", "who", "steps"):
            setattr(self, name, getattr(self, name)[keep])
        self.course = self.course[:, :, keep]
        self.many = int(keep.sum())

    def run(self) -> list[tuple[Any, Any, Any, list[float], list[tuple[float, int, float]], int, int, int, int]]:
        """For each run: times, pressures, rates, what went outside, events, status, steps, refused and forced ones."""
        a, c, n, many = self.a, self.a.constants, self.nodes, self.many
        self.flipped = np.full((self.latches, many), -1e9)
        self.events: list[list[tuple[float, int, float]]] = [[] for _ in range(many)]
        self.records: list[tuple[Any, ...]] = []
        self.who, self.segment, self.steps = np.arange(many), np.zeros(many, dtype=int), np.zeros(many, dtype=int)
        self.t, self.h, self.since, self.until = (np.zeros(many) for _ in range(4))
        status, taken = [DONE] * many, [0] * many
        refused, forced = np.zeros(many, dtype=int), np.zeros(many, dtype=int)
        out = np.zeros((many, self.both - n))
        again = np.zeros(many, dtype=bool)
        self.enter(range(many))
        while self.many:
            turned = self.flip()
            self.h[turned] = c[6]
            again[self.who[turned]] = False
            self.outside(self.p, self.t)
            self.freeze(self.t)
            before = self.pushes(self.p, self.t)
            self.first = self.flows(self.p, self.t, derive=True)
            self.slope = self.slopes()
            h, t, left = self.h, self.t, self.until - self.t
            h = np.where(h * 1.000001 >= left, left, np.where(2.0 * h > left, 0.5 * left, h))
            held, p, gone, error = self.attempt(h, t)
            error = np.where(error < 1e12, error / self.tolerance, 1e12)
            best = 0.9 * (error + 1e-12) ** (-1.0 / self.tableau.order)
            wrong = (error > 1.0) & (h > c[7])
            self.outside(p, t + h)
            after = self.pushes(p, t + h)
            free = (before <= 0.0) & (t + h - self.flipped >= c[4]) & (after > c[5])
            place = (0.5 * c[5] - before) / np.where(free, after - before, 1.0)
            shares = np.where(free, np.clip(place, 0.02, 0.98), 1.0)
            share = shares.min(axis=0, initial=1.0)
            late = ~wrong & (share < 1.0) & (h > c[7])
            good = ~(wrong | late)
            self.write(good, self.first)
            forced[self.who[good & (error > 1.0)]] += 1
            refused[self.who[~good]] += 1
            growth = np.minimum(np.where(again[self.who], 1.0, 4.0), np.maximum(0.2, best))
            again[self.who] = ~good
            self.h = np.maximum(h * np.where(good, growth, np.where(wrong, np.maximum(0.1, best), share)), c[7])
            self.m, self.p = np.where(good, held, self.m), np.where(good, p, self.p)
            self.out = self.out + np.where(good, gone, 0.0)
            self.t = np.where(good, np.where(h >= left * 0.9999999999, self.until, t + h), t)
            self.steps += good
            ended = np.flatnonzero(good & (self.t >= self.until))
            if len(ended):
                flow = self.flows(self.p, self.t)
                self.slope = self.slopes()
                self.write(ended, flow)
                self.segment[ended] += 1
                self.enter([run for run in ended if self.segment[run] < a.sizes[6]])
            stuck = (self.steps > c[8]) | np.array([len(self.events[w]) > MOST_EVENTS for w in self.who])
            over = (self.segment >= a.sizes[6]) | stuck
            for run in np.flatnonzero(over):
                who = self.who[run]
                out[who], taken[who] = self.out[:, run], int(self.steps[run])
                if self.segment[run] < a.sizes[6]:
                    status[who] = STUCK if self.steps[run] > c[8] else CHATTER
            if over.any():
                self.leave(~over)
                self.refresh()
        who, when, p, rates = (np.concatenate(rows) for rows in zip(*self.records))
        return [(when[own], p[own], rates[own], list(map(float, out[s])), self.events[s], status[s], taken[s],
                 int(refused[s]), int(forced[s])) for s in range(many) for own in [np.flatnonzero(who == s)]]


def _leaves(a: Arrays, code: int) -> list[int]:
    if code < 0:
        return [code]
    return [*_leaves(a, a.tr_yes[code]), *_leaves(a, a.tr_no[code])]
