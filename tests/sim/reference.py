"""The same equations written a second time, with numpy and pressures as unknowns, for solvers from outside.

Takes the arrays that the engine makes from a circuit, but shares no line of its integrators: flows, openings, volumes
and inputs are worked out anew. Latches that turn on the way are not followed: give it runs without events, or none.
"""

import numpy as np

from circuit.sim.arrays import BOTH_WAYS, NOTHING, PUMP


class Equations:
    """Right side for a problem of `circuit.sim.run.prepare`. inputs(t) may be replaced."""

    def __init__(self, problem):
        a = self.a = problem.arrays
        self.nodes, outside = a.nodes, a.outside
        self.both = self.nodes + outside
        self.wide, self.laminar, self.seats = a.opening, a.laminar, a.seats
        self.exponent, self.per_inlet = a.expansion, a.per_inlet
        for name in ("el_a", "el_b", "el_way", "el_gate", "os_slot"):
            setattr(self, name, np.array(getattr(a, name), dtype=int))
        for name in ("el_flow", "el_ratio", "el_sub"):
            setattr(self, name, np.array(getattr(a, name)))
        self.one_way = (self.el_way != BOTH_WAYS) & (self.el_way != PUMP)
        self.pump = np.flatnonzero(self.el_way == PUMP)
        self.matrix = np.zeros((a.sums, self.both))
        for k in range(a.sums):
            for j in range(a.af_start[k], a.af_start[k + 1]):
                self.matrix[k, a.at_node[j]] += a.at_weight[j]
        self.entering = np.zeros((a.sums, len(problem.start)))
        for k, slot, weight in zip(a.it_sum, a.it_slot, a.it_weight):
            self.entering[k, slot] += weight
        self.products = [(factor, k, a.at_node[term], weight)
                         for factor, k, term, weight in zip(a.pr_factor, a.pr_sum, a.pr_term, a.pr_weight)]
        self.middle = np.array(a.af_middle) == 1
        self.constant = np.array(a.af_constant)
        self.roots = [(e, root) for e, root in enumerate(a.el_root) if root != NOTHING]
        self.plain = np.array([e for e, root in self.roots if root < 0], dtype=int)
        self.plain_sum = np.array([-1 - root for _, root in self.roots if root < 0], dtype=int)
        self.trees = [(e, root) for e, root in self.roots if root >= 0]
        self.values = np.array(problem.start)
        self.rates = np.zeros_like(self.values)
        self.since = 0.0
        self.courses = a
        self.segment = -1
        self._pieces()

    def _pieces(self):
        a, n = self.a, self.nodes
        counts = [a.nd_start[i + 1] - a.nd_start[i] for i in range(n)]
        self.most = max(counts)
        self.table = np.zeros((n, self.most, 5))
        self.from_pressure = np.full((n, self.most), np.inf)
        for i in range(n):
            for r in range(counts[i]):
                j = a.nd_start[i] + r
                self.from_pressure[i, r] = a.pc_pressure[j]
                self.table[i, r] = (a.pc_held[j], a.pc_1[j], a.pc_2[j], a.pc_3[j], a.pc_4[j])
        self.row = np.arange(n)

    def enter(self, segment):
        """Set the inputs for a segment of the timetable."""
        a = self.a
        start, end = a.sg_time[segment], a.sg_time[segment + 1]
        self.values = self.values + self.rates * (start - self.since)
        for j in range(a.sg_start[segment], a.sg_start[segment + 1]):
            self.values[a.ch_slot[j]] = a.ch_value[j]
            self.rates[a.ch_slot[j]] = a.ch_rate[j]
        self.since = start
        self.middle_time = 0.5 * (start + end)

    def throw(self, pressures):
        """Turn the latches that are pushed over at these pressures."""
        self.throw_at(pressures, self.since)

    def throw_at(self, pressures, time):
        """The same within a segment."""
        a = self.a
        for number in range(a.latches):
            on = self.values[a.la_slot[number]] >= 0.5
            code = (a.la_reset if on else a.la_set)[number]
            if (
                code != NOTHING
                and a.la_live[number]
                and self._tree(code, self._sums(np.append(pressures, self._outside(time)), time)) > 0
            ):
                self.values[a.la_slot[number]] = 0.0 if on else 1.0

    def _outside(self, t):
        return self.values[self.os_slot] + self.rates[self.os_slot] * (t - self.since)

    def _sums(self, p, t):
        moving = self.values + self.rates * (t - self.since)
        # what asks inputs alone has its answer from just within the segment: at its ends it may be turning
        fixed = self.values + self.rates * (t + 1e-9 * (self.middle_time - t) - self.since)
        found = self.constant + self.matrix @ p + np.where(self.middle, self.entering @ fixed, self.entering @ moving)
        for factor, k, node, weight in self.products:
            found[k] += weight * found[factor] * p[node]
        return found

    def _tree(self, code, sums):
        while code >= 0:
            code = (self.a.tr_yes if sums[self.a.tr_sum[code]] > 0 else self.a.tr_no)[code]
        return sums[-1 - code]

    def slope(self, p):
        """kg/Pa of every node."""
        r = (self.from_pressure <= p[:, None]).sum(axis=1) - 1
        c = self.table[self.row, r]
        q = p - self.from_pressure[self.row, r]
        return c[:, 1] + q * (2 * c[:, 2] + q * (3 * c[:, 3] + q * 4 * c[:, 4]))

    def pushes(self, t, nodes):
        """Pa by which every element is pushed open; much where nothing can shut it."""
        sums = self._sums(np.append(nodes, self._outside(t)), t)
        push = np.full(len(self.el_a), 1e9)
        push[self.plain] = sums[self.plain_sum]
        for e, root in self.trees:
            push[e] = self._tree(root, sums)
        return push

    def amounts(self, t, nodes):
        """kg/s from start to end of every element."""
        p = np.append(nodes, self._outside(t))
        push = self.pushes(t, nodes)
        share = np.clip(push / self.wide, 0.0, 1.0)
        opened = share * share * (3 - 2 * share)
        pa, pb = p[self.el_a], p[self.el_b]
        up, down = np.maximum(pa, pb), np.minimum(pa, pb)
        z = np.clip((down / up - self.el_ratio) / (1 - self.el_ratio), 0.0, None)
        y = 1 - z * z
        amount = self.el_flow * up * y * ((1 + self.laminar) / (y + self.laminar)) ** (1 - self.el_sub)
        ahead = np.clip((pa - pb) / self.seats, 0.0, 1.0)
        one_way = amount * ahead * ahead * (3 - 2 * ahead)
        amount = np.where(self.one_way, one_way, np.where(pa >= pb, amount, -amount)) * opened
        for e in self.pump:
            taken = 1 + self.el_ratio[e] - self.el_ratio[e] * (pb[e] * self.per_inlet) ** self.exponent
            amount[e] = self.el_flow[e] * max(taken, 0.0) * (1 - opened[e])
        return amount * self.values[self.el_gate]

    def flows(self, t, nodes):
        """kg/s into every node, outside ones included."""
        amount = self.amounts(t, nodes)
        return np.bincount(self.el_b, amount, self.both) - np.bincount(self.el_a, amount, self.both)

    def __call__(self, t, p):
        """Pa/s of every node."""
        return self.flows(t, p)[: self.nodes] / self.slope(p)


def solve(problem, method, rtol, atol, dense=False):
    """The run by a scipy solver, restarted at each segment: times, a row of pressures each, and calls of the right
    side."""
    from scipy.integrate import solve_ivp

    equations = Equations(problem)
    p = np.array(problem.pressures)
    times, rows, pieces, calls = [], [], [], 0
    for segment in range(problem.arrays.segments):
        equations.enter(segment)
        equations.throw(p)
        span = problem.arrays.sg_time[segment : segment + 2]
        found = solve_ivp(equations, span, p, method=method, rtol=rtol, atol=atol, dense_output=dense)
        if not found.success:
            raise ArithmeticError(found.message)
        times.append(found.t)
        rows.append(found.y.T)
        calls += found.nfev
        if dense:
            pieces.append((span, found.sol))
        p = found.y[:, -1]
    if not dense:
        return np.concatenate(times), np.concatenate(rows), calls

    def at(t):
        return next(sol for (start, end), sol in pieces if start <= t <= end)(t)

    return np.concatenate(times), np.concatenate(rows), at
