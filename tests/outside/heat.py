"""The same circuits with a temperature in every space: energy is balanced, not only mass.

Air that is let out cools what stays behind, air that is let in heats what it presses together; how much of that the
walls undo is `heat`. The program takes one temperature for all air. Flows and openings are those of the equations
written a second time, with the flow at each upstream temperature.
"""

import numpy as np

from circuit.gas.constants import GAS_CONSTANT, KAPPA
from tests.sim.reference import Equations

CP = GAS_CONSTANT * KAPPA / (KAPPA - 1)
CV = CP - GAS_CONSTANT


class Warm:
    """Right side for pressures and masses of every space. heat: W/K that pass between a space's air and its wall for
    each m2 of a cube of its volume."""

    def __init__(self, problem, heat=0.0):
        from scipy.interpolate import CubicHermiteSpline

        self.equations = Equations(problem)
        self.room = problem.options.temperature
        self.fixed = np.array([sum(k[0].volume for k in stores if len(k) == 1) for stores in problem.network.volumes])
        self.growing = [
            (node, knots[0], knots[-1], CubicHermiteSpline(*zip(*knots)))
            for node, stores in enumerate(problem.network.volumes)
            for knots in stores
            if len(knots) > 1
        ]
        self.nodes = len(self.fixed)
        self.conducts = heat * 6 * self.volumes(np.array(problem.pressures))[0] ** (2 / 3)

    def volumes(self, p):
        """m3 and m3/Pa of every space."""
        volume, slope = self.fixed.copy(), np.zeros_like(p)
        for node, first, last, spline in self.growing:
            inside = min(max(p[node], first.pressure), last.pressure)
            volume[node] += spline(inside) + last.slope * max(p[node] - last.pressure, 0.0)
            if p[node] > first.pressure:
                slope[node] += spline(inside, 1)
        return volume, slope

    def start(self, pressures):
        p = np.array(pressures)
        return np.concatenate([p, p * self.volumes(p)[0] / (GAS_CONSTANT * self.room)])

    def temperatures(self, y):
        p, mass = y[: self.nodes], y[self.nodes :]
        return p * self.volumes(p)[0] / (mass * GAS_CONSTANT)

    def __call__(self, t, y):
        e, n = self.equations, self.nodes
        p, mass = y[:n], y[n:]
        volume, slope = self.volumes(p)
        own = p * volume / (mass * GAS_CONSTANT)
        every = np.append(own, np.full(e.both - n, self.room))
        amount = e.amounts(t, p)
        source = np.where(amount >= 0, every[e.el_a], every[e.el_b])
        amount = amount * np.sqrt(self.room / np.maximum(source, 20.0))
        into = np.bincount(e.el_b, amount, e.both)[:n] - np.bincount(e.el_a, amount, e.both)[:n]
        brought = amount * CP * source
        energy = np.bincount(e.el_b, brought, e.both)[:n] - np.bincount(e.el_a, brought, e.both)[:n]
        energy += self.conducts * (self.room - own)
        return np.append(energy / (CV / GAS_CONSTANT * (volume + p * slope) + p * slope), into)


def solve(problem, heat=0.0, rtol=1e-6):
    """Times, pressures and temperatures, a row each time."""
    from scipy.integrate import solve_ivp

    warm = Warm(problem, heat)
    y = warm.start(problem.pressures)
    times, rows = [], []
    for segment in range(problem.arrays.segments):
        warm.equations.enter(segment)
        warm.equations.throw(y[: warm.nodes])
        span = problem.arrays.sg_time[segment : segment + 2]
        found = solve_ivp(warm, span, y, method="Radau", rtol=rtol, atol=np.repeat([1.0, 1e-10], warm.nodes))
        if not found.success:
            raise ArithmeticError(found.message)
        times.append(found.t)
        rows.append(found.y.T)
        y = found.y[:, -1]
    rows = np.concatenate(rows)
    return np.concatenate(times), rows[:, : warm.nodes], np.array([warm.temperatures(row) for row in rows])
