"""Faults played again by scipy: the equations of `tests.sim.reference`, their latches followed by its event search.

Shares the circuit's numbers with the engine, and no line of its integrator, its flows or its way of turning latches.
"""

from itertools import count
from typing import NamedTuple

import numpy as np
from scipy.integrate import solve_ivp

from circuit.model.circuit import Circuit
from circuit.sim import Engine, Options, Script, Variant
from circuit.sim.arrays import NOTHING
from circuit.sim.run import Problem, prepare
from circuit.sim.variants import add, by_owner, change_of, changed, extras_of
from tests.sim.reference import Equations

MOST_TURNS = 500
"""Turns of latches in a segment after which a run is given up."""


class Run(NamedTuple):
    """times: s asked for. pressures: absolute Pa, a row each time, a column each node. node: space to column."""

    times: tuple[float, ...]
    pressures: np.ndarray
    node: dict[int, int]

    def pressure(self, space: int, time: float) -> float:
        return float(self.pressures[self.times.index(time), self.node[space]])


def problem_of(circuit: Circuit, script: Script, variant: Variant, until: float, running: bool = False) -> Problem:
    """The numbers of one variant, as the engine gets them."""
    extras = dict(zip(dict.fromkeys(extras_of(circuit, variant)), count()))
    base = prepare(circuit, script, until, engine=Engine(running), options=Options(), more=lambda n: add(n, extras))
    return changed(base, change_of(base, variant, by_owner(base.network)), extras)


def resimulate(problem: Problem, times: tuple[float, ...], method: str = "Radau", rtol: float = 1e-6, atol: float = 5.0) -> Run:
    """The run with pressures at some times. rtol, atol: of scipy, Pa."""
    equations, a = Equations(problem), problem.arrays
    p, rows = np.array(problem.pressures, dtype=float), {}
    for segment in range(a.segments):
        equations.enter(segment)
        equations.throw(p)
        start, end = a.sg_time[segment], a.sg_time[segment + 1]
        for _ in range(MOST_TURNS):
            pushes = [_push(equations, number) for number in range(a.latches) if _code(equations, number) != NOTHING
                      and a.la_live[number]]
            wanted = [time for time in times if start <= time <= end]
            found = solve_ivp(equations, (start, end), p, method=method, rtol=rtol, atol=atol, events=pushes,
                              t_eval=sorted({*wanted, start, end}))
            if not found.success and found.status != 1:
                raise ArithmeticError(found.message)
            rows.update({time: found.y[:, place] for place, time in enumerate(found.t) if time in wanted})
            if found.status == 0:
                p = found.y[:, -1]
                break
            start = max(moments[-1] for moments in found.t_events if len(moments))
            p = next(states[-1] for moments, states in zip(found.t_events, found.y_events)
                     if len(moments) and moments[-1] == start)
            equations.throw_at(p, start)
        else:
            raise ArithmeticError("its latches turn without end")
    return Run(times, np.array([rows[time] for time in times]), dict(problem.network.nodes))


def _code(equations: Equations, number: int) -> int:
    a = equations.a
    on = equations.values[a.la_slot[number]] >= 0.5
    return (a.la_reset if on else a.la_set)[number]


def _push(equations: Equations, number: int):
    """What turns a latch from where it stands, Pa: scipy stops where it becomes positive."""
    code = _code(equations, number)

    def push(t, p):
        return equations._tree(code, equations._sums(np.append(p, equations._outside(t)), t)) - 1e-3

    push.terminal, push.direction = True, 1.0
    return push
