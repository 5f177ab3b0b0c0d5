"""The equations of many alike runs as numpy rows with a column for each run; see `lockstep`."""

from typing import Any

import numpy as np

from circuit.sim.arrays import HELD_OPEN, HELD_SHUT, NOTHING, ONE_WAY, PUMP, Arrays
from circuit.sim.packing import REAL_FIELDS


class Columns:
    """runs: arrays of the same circuit, different only in numbers. starts: inputs of each. pressures, held: of the
    nodes."""

    t: Any
    since: Any
    until: Any

    def __init__(self, runs: list[Arrays], starts: list[list[float]], pressures: Any, held: Any):
        a = self.a = runs[0]
        self.many = len(runs)
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

    def refresh(self) -> None:
        """What the inputs, as they stand, mean for the weighted sums."""
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


def _leaves(a: Arrays, code: int) -> list[int]:
    if code < 0:
        return [code]
    return [*_leaves(a, a.tr_yes[code]), *_leaves(a, a.tr_no[code])]
