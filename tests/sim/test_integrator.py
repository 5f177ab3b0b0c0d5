"""The integrator against equations that are not its own, against itself compiled, and its pieces."""

from dataclasses import replace
from random import Random

import numpy as np
import pytest

from circuit.model.trace import between
from circuit.sim import Options, Script, elements, elimination, engines, equations, press, release
from circuit.sim.arrays import RODAS3, RODAS4
from circuit.sim.run import job_of, prepare, run
from circuit.sim.stepping import factor, solve
from tests.sim import reference
from tests.sim.designs import example, gauge

APPLY = Script((press("foot", 1.0, 0.0), release("foot", 2.0)), pressures={"reservoirs": gauge(100)})
PLAIN = Options(engine="plain")


def problem(name, options, until=4.0, script=APPLY):
    return prepare(example(name), script, until, options=options)


@pytest.mark.parametrize("tableau, order", [(RODAS3, 3), (RODAS4, 4)])
def test_order_of_the_method(tableau, order):
    """y' = -2 y + sin t, one unknown, written with the tableau by hand: halving the step divides the error by
    2^order."""
    from math import cos, exp, sin

    def ends(steps):
        h, y, t, jacobian = 1.0 / steps, 1.0, 0.0, -2.0
        for _ in range(steps):
            k = []
            for i in range(tableau.stages):
                row = i * (i - 1) // 2
                here = y + sum(tableau.a[row + j] * k[j] for j in range(i))
                slope = -2 * here + sin(t + tableau.alpha[i] * h)
                right = slope + sum(tableau.c[row + j] / h * k[j] for j in range(i)) + tableau.gammas[i] * h * cos(t)
                k.append(right / (1 / (h * tableau.gamma) - jacobian))
            y += sum(m * value for m, value in zip(tableau.m, k))
            t += h
        return y

    exact = 1.2 * exp(-2.0) + 0.4 * sin(1.0) - 0.2 * cos(1.0)
    rate = np.log2(abs(ends(20) - exact) / abs(ends(40) - exact))
    assert rate == pytest.approx(order, abs=0.35)


def _room(wanted, pressures):
    job = job_of(wanted, engines.Plain())
    room = engines.room_of(job._replace(pressures=pressures))
    equations.refresh(job.arrays, room, 1.0)
    equations.outside_pressures(job.arrays, room, room.pressure, 0.0)
    return job.arrays, room


@pytest.mark.parametrize("name", ["truck-6x4", "semitrailer-europe", "truck-europe"])
def test_derivatives_by_differences(name):
    """The derivatives in the matrix are those of the flows, pressure by pressure, at pressures far from rest."""
    wanted = prepare(example(name), Script(), 1.0, options=PLAIN)
    random = Random(7)
    pressures = [random.uniform(1.2e5, 8e5) for _ in wanted.pressures]
    a, room = _room(wanted, pressures)
    nodes = a.nodes
    elements.pushes(a, room, room.pressure, 0.0)
    elements.lean(a, room)
    elements.flows(a, room, room.pressure, True)
    exact = list(room.jacobian)
    moves = {slot: pair for pair, slot in _slots(wanted).items()}
    full = np.zeros((nodes, nodes))
    for slot, value in enumerate(exact[: a.inner]):
        full[moves[slot]] += value
    for column in range(nodes):
        d = 0.5
        sides = []
        for sign in (1, -1):
            room.pressure[column] = pressures[column] + sign * d
            elements.pushes(a, room, room.pressure, 0.0)
            elements.flows(a, room, room.pressure, False)
            sides.append(np.array(room.flow[:nodes]))
        room.pressure[column] = pressures[column]
        assert (sides[0] - sides[1]) / (2 * d) == pytest.approx(full[:, column], rel=2e-3, abs=1e-11)
    assert np.abs(full).max() > 1e-8


def _slots(wanted):
    from circuit.sim.assemble import _owners, _pattern

    network = wanted.network
    nodes, outside = wanted.arrays.nodes, wanted.arrays.outside
    place = {-1: nodes, -2: nodes + 1, **{-2 - k: nodes + 1 + k for k in range(1, outside)}}
    ends = [(place.get(e.start, e.start), place.get(e.end, e.end)) for e in network.elements]
    return _pattern(network, nodes, outside, ends, _owners(network))[0].slots


@pytest.mark.parametrize("name", ["truck-6x4", "semitrailer-europe"])
def test_equations_written_twice_agree(name):
    wanted = prepare(example(name), Script(), 4.0, options=PLAIN)
    random = Random(3)
    other = reference.Equations(wanted)
    other.enter(0)
    for _ in range(5):
        pressures = [random.uniform(1.0e5, 9e5) for _ in wanted.pressures]
        a, room = _room(wanted, pressures)
        other.values = np.array(wanted.start)
        other.rates[:] = 0.0
        elements.pushes(a, room, room.pressure, 0.0)
        elements.flows(a, room, room.pressure, False)
        ours = room.flow[: a.nodes]
        theirs = other.flows(0.0, np.array(pressures))[: a.nodes]
        assert ours == pytest.approx(list(theirs), rel=1e-9, abs=1e-14)


@pytest.mark.parametrize("seed", range(5))
def test_elimination_solves_sparse_equations(seed):
    random = Random(seed)
    size = 25
    entries = {(random.randrange(size), random.randrange(size)) for _ in range(40)}
    entries |= {(j, i) for i, j in entries if random.random() < 0.6}
    moves = elimination.plan(size, entries)
    full = np.zeros((size, size))
    for i, j in entries:
        full[i, j] = random.uniform(-1, 1)
    full += np.diag([random.uniform(8, 12) for _ in range(size)])
    from tests.sim.linear import system

    arrays, room = system(moves, full)
    right = np.array([random.uniform(-1, 1) for _ in range(size)])
    room.x[:] = list(right)
    factor(arrays, room, 0.0)
    solve(arrays, room)
    assert room.x == pytest.approx(
        list(np.linalg.solve(full, right)), rel=1e-9, abs=1e-12
    )


def test_between_steps_nothing_overshoots():
    random = Random(1)
    for _ in range(300):
        one, other = random.uniform(0, 10), random.uniform(0, 10)
        value = between(random.random(), 1.0, one, other, random.uniform(-99, 99), random.uniform(-99, 99))
        assert min(one, other) - 1e-9 <= value <= max(one, other) + 1e-9


def test_a_run_that_cannot_be_finished_says_so():
    trace = run(problem("teaching-board", replace(PLAIN, most_steps=20)))
    assert not trace.complete and trace.end < 4.0 and any("was not reached" in note for note in trace.notes)


def test_steps_with_too_great_an_error_are_owned_up_to():
    trace = run(problem("teaching-board", replace(PLAIN, tolerance=1e-3, least_step=5e-3), 0.5))
    assert not trace.complete and any("greater error" in note for note in trace.notes)
