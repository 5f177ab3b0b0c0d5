"""Many alike runs at once without a compiler: numpy on a column for each run.

The same equations, method and order of elimination as the kernel. The runs go through the same motions together, but
each has its own clock and its own step; those that are done are taken out.
"""

from typing import Any

import numpy as np

from circuit.sim.arrays import CHATTER, DONE, NOTHING, STUCK, Arrays, Tableau
from circuit.sim.columns import Columns

MOST_EVENTS = 4000


class Lockstep(Columns):
    """runs, starts, pressures, held: as of `Columns`. tolerance: Pa, as of `Options`."""

    def __init__(self, runs: list[Arrays], tableau: Tableau, starts: list[list[float]], pressures: Any, held: Any,
                 tolerance: float):
        super().__init__(runs, starts, pressures, held)
        self.tableau, self.tolerance = tableau, tolerance

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
        flow, p = self.first, self.p.copy()
        x: Any = None
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
