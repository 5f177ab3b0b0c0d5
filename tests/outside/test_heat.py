"""One temperature for all air, by an energy balance of every space.

A run takes all air at one temperature, and a quick change in reservoirs and chambers with an exponent between: 1.2 in
the studies of applications. Here every space has a temperature of its own. How much heat its walls pass is from memory,
20 to 60 W/(m2 K); their area is taken as that of a cube. So these rows say what the exponent costs, not what a vehicle
does: brakes come on later than by this balance, which errs on the safe side.
"""

from dataclasses import replace

import numpy as np
import pytest

from circuit.gas.constants import KAPPA
from circuit.sim import Options, Script, open_up, simulate
from circuit.sim.run import prepare
from circuit.studies.band import QUICK
from tests.outside import heat, library, whole
from tests.outside.test_closed_forms import FULL, TANK, TAU
from tests.sim.designs import built, example, gauge

WALLS = 40.0
"""W/(m2 K); the middle of what is remembered for a reservoir in motion."""


def test_the_balance_itself(table):
    """A tank without heat follows its closed form, and walls that pass all heat bring back the one temperature."""
    library("scipy")
    options = Options(engine="plain", smallest=0.0)
    problem = prepare(built(TANK), Script((open_up("tap", 0.0),), pressures={"tank": FULL}), 1.5, options=options)
    times, pressures, temperatures = heat.solve(problem)
    cools = (1 + (KAPPA - 1) * times / (2 * TAU)) ** (-2 * KAPPA / (KAPPA - 1))
    assert pressures[:, 0] == pytest.approx(FULL * cools, abs=20.0)
    assert temperatures[:, 0] == pytest.approx(293.15 * cools ** ((KAPPA - 1) / KAPPA), abs=0.01)
    problem, trace = whole.application("teaching-board")
    times, pressures, temperatures = heat.solve(problem, heat=1e7)
    against = table.against("theory", "energy balance of every space, walls that pass all heat")
    for place in ("front-left", "rear-left"):
        found = whole.crossed(times, pressures[:, trace.column(place)], gauge(60), True)
        against(
            f"teaching-board: {place} to 60 psi, exponent 1",
            outside=1e3 * found,
            ours=1e3 * trace.first_time(place, gauge(60)),
            unit="ms",
            within=1.0,
        )


def _application(name, table):
    library("scipy")
    problem, _ = whole.application(name)
    trace = simulate(example(name), whole.APPLY, whole.END, options=replace(whole.PLAIN, exponent=QUICK))
    times, pressures, _ = heat.solve(problem, WALLS)
    against = table.against("theory", f"energy balance of every space, {WALLS:g} W/(m2 K) at the walls, from memory")
    for words, place in whole.PLACES[name].items():
        theirs = pressures[:, trace.column(place)]
        if words == "reservoir":
            against(
                f"{name}: {words} {place} after 2 s, exponent {QUICK:g}",
                outside=float(np.interp(2.0, times, theirs)) / 1e3,
                ours=trace.pressure(place, 2.0) / 1e3,
                unit="kPa",
                percent=1.0,
            )
            continue
        for level, rising, after, way in ((gauge(60), True, 0.0, "to 60 psi"), (gauge(5), False, 2.0, "back to 5 psi")):
            against(
                f"{name}: {words} {way}, exponent {QUICK:g}",
                outside=1e3 * (whole.crossed(times, theirs, level, rising, after) - after),
                ours=1e3 * (trace.first_time(place, level, rising, after) - after),
                unit="ms",
                percent=20.0,
            )


def test_the_teaching_board(table):
    _application("teaching-board", table)


@pytest.mark.slow
def test_the_truck(table):
    _application("truck-6x4", table)
