"""Whole circuits in motion, played once for every solver that judges them."""

from functools import cache

import numpy as np

from circuit.sim import Engine, Options, Script, press, release
from circuit.sim.run import prepare, run
from circuit.units import ATMOSPHERE
from tests.sim.designs import PSI, example, gauge
from tests.sim.test_static_engine import actions_between

PLAIN = Options(engine="plain")
"""As every study runs, but for the engine, which is the same text uncompiled."""
APPLY = Script((press("foot", 1.0, 0.0), release("foot", 2.0)), pressures={"reservoirs": gauge(100)})
END = 3.0
PLACES = {
    "teaching-board": {"front chamber": "front-left", "rear chamber": "rear-left", "reservoir": "dry"},
    "truck-6x4": {"front chamber": "front-left", "rear chamber": "d2-right.service", "reservoir": "pri"},
}


@cache
def application(name):
    """A full application at 100 psi, released after 2 s: the problem and our run of it."""
    problem = prepare(example(name), APPLY, END, options=PLAIN)
    return problem, run(problem)


@cache
def braking(name):
    """From driving to braking, held: the problem and our run of it."""
    circuit = example(name)
    script = Script(actions_between(circuit, "driving", "braking"), pressures={"reservoirs": gauge(100)})
    problem = prepare(circuit, script, END, options=PLAIN)
    return problem, run(problem)


@cache
def charge(name, until):
    """The reservoirs filled from empty, and the problem."""
    problem = prepare(
        example(name), Script(situation="parked"), until, start="empty", engine=Engine(True), options=PLAIN
    )
    return problem, run(problem)


def working(problem):
    """The nodes of reservoirs and chambers."""
    return [node for node, works in enumerate(problem.network.working) if works]


def crossed(times, pressures, level, rising, after=0.0):
    """When a curve of points first passes a level, straight between two points."""
    sign = 1.0 if rising else -1.0
    beyond = np.flatnonzero((times >= after) & (sign * (pressures - level) >= 0))
    place = int(beyond[0])
    t0, t1, p0, p1 = times[place - 1], times[place], pressures[place - 1], pressures[place]
    return float(t0 + (level - p0) / (p1 - p0) * (t1 - t0))


def hold_application(against, name, trace, times, rows, milliseconds, kilopascal):
    """Rows of an application: times to 60 psi and back to 5 psi, the reservoir's fall. rows: their pressures, a column
    each working node."""
    nodes = working(application(name)[0])
    for words, place in PLACES[name].items():
        theirs = rows[:, nodes.index(trace.column(place))]
        if words == "reservoir":
            against(
                f"{name}: {words} {place} after 2 s",
                outside=float(np.interp(2.0, times, theirs)) / 1e3,
                ours=trace.pressure(place, 2.0) / 1e3,
                unit="kPa",
                within=kilopascal,
            )
            continue
        against(
            f"{name}: {words} to 60 psi",
            outside=1e3 * crossed(times, theirs, gauge(60), True),
            unit="ms",
            ours=1e3 * trace.first_time(place, gauge(60)),
            within=milliseconds,
        )
        against(
            f"{name}: {words} back to 5 psi, from the release",
            unit="ms",
            within=milliseconds,
            outside=1e3 * (crossed(times, theirs, ATMOSPHERE + 5 * PSI, False, after=2.0) - 2.0),
            ours=1e3 * (trace.first_time(place, ATMOSPHERE + 5 * PSI, rising=False, after=2.0) - 2.0),
        )
    against(
        f"{name}: greatest distance at {len(nodes)} reservoirs and chambers in {END:g} s",
        outside=0.0,
        ours=apart(trace, times, rows, nodes) / 1e3,
        unit="kPa",
        within=kilopascal,
    )


def apart(trace, times, rows, nodes):
    """The greatest distance of ours from theirs, Pa; rows: a column for each node."""
    space = {node: space for space, node in trace.node.items()}
    ours = np.array([trace.curve(space[node], times) for node in nodes])
    return float(np.abs(ours.T - rows).max())
