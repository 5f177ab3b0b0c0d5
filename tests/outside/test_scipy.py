"""Whole circuits by scipy's Radau, with the equations written a second time in numpy.

Radau is a fully implicit method with Newton's iteration and an error control of its own; pressures are its unknowns
where ours are masses of air.
"""

from dataclasses import replace

import numpy as np

from circuit.sim.run import run
from tests.outside import library, whole
from tests.sim import reference


def _application(name, table, rtol, atol):
    library("scipy")
    problem, trace = whole.application(name)
    times, rows, at = reference.solve(problem, "Radau", rtol, atol, dense=True)
    against = table.against(
        "solver", f"scipy Radau, rtol {rtol:g}, atol {atol:g} Pa; the equations written a second time"
    )
    whole.hold_application(
        against, name, trace, times, rows[:, whole.working(problem)], milliseconds=1.0, kilopascal=1.0
    )
    return problem, at, against


def test_the_teaching_board_applied_and_released(table):
    """The finer the tolerance asked for, the nearer: at the ends of steps, at reservoirs and chambers and anywhere."""
    problem, at, against = _application("teaching-board", table, 1e-8, 1e-2)
    nodes = whole.working(problem)
    for method, tolerance, tanks, anywhere in (
        ("rodas3", 30.0, 0.2, 3.0),
        ("rodas3", 3.0, 0.03, 0.8),
        ("rodas4", 1.0, 0.005, 0.12),
        ("rodas4", 0.05, 3e-4, 8e-3),
    ):
        trace = run(problem._replace(options=replace(problem.options, method=method, tolerance=tolerance)))
        apart = np.abs([np.array(row) - at(min(t, whole.END)) for t, row in zip(trace.times, trace.pressures)]) / 1e3
        words = f"teaching-board, {method} at {tolerance:g} Pa, greatest distance at ends of steps"
        against(f"{words}: reservoirs and chambers", outside=0.0, ours=apart[:, nodes].max(), unit="kPa", within=tanks)
        against(f"{words}: any space", outside=0.0, ours=apart.max(), unit="kPa", within=anywhere)


def test_the_truck_applied_and_released(table):
    _application("truck-6x4", table, 1e-7, 0.1)
