"""Whole circuits by an electrical circuit solver, with the equations as behavioural sources.

The netlist is written from the published laws; parameters and topology are the circuit's own. ngspice integrates by
Gear's method with its own step control.
"""

from dataclasses import replace
from math import exp, log

import numpy as np
import pytest

from circuit.sim import Script, feed, open_up
from circuit.sim.run import prepare, run
from circuit.units import ATMOSPHERE
from tests.designs import example_names
from tests.outside import whole
from tests.outside.spice import Netlist, solved
from tests.outside.test_closed_forms import BARE, EXACT, FULL, REFERENCE, TANK, TAU
from tests.sim.designs import built, gauge

SOURCE = "ngspice, reltol 1e-6; the equations written anew as sources"


def test_a_tank_proves_the_set_up(table, tmp_path):
    """Our run, the netlist and the closed form, all three of one another."""
    against = table.against("solver", SOURCE)
    options = replace(EXACT, laminar=0.01)
    fills = (0.4 - ATMOSPHERE / FULL) * 10e-3 / (10e-8 * REFERENCE)
    down = prepare(built(TANK), Script((open_up("tap", 0.0),), pressures={"tank": FULL}), 3.0, options=options)
    times, rows = solved(Netlist(down, 3.0, step=2e-3), [down.network.nodes[0]], tmp_path)
    for time, pressure in zip(times, rows[:, 0]):
        if time < TAU * log(FULL * 0.3 / ATMOSPHERE):
            assert pressure == pytest.approx(FULL * exp(-time / TAU), abs=20.0)
    trace = run(down)
    against(
        "10 L blown down from 8 bar, pressure after 3 s",
        outside=float(np.interp(3.0, times, rows[:, 0])) / 1e3,
        ours=trace.last("tank") / 1e3,
        unit="kPa",
        within=0.02,
    )
    up = prepare(built(BARE), Script((feed("tank", FULL, 0.0),), pressures={"tank": ATMOSPHERE}), 1.5, options=options)
    times, rows = solved(Netlist(up, 1.5, step=2e-3), [up.network.nodes[0]], tmp_path)
    trace = run(up)
    for time, pressure in zip(times, rows[:, 0]):
        if pressure < 0.4 * FULL:
            assert pressure == pytest.approx(ATMOSPHERE + (0.4 * FULL - ATMOSPHERE) * time / fills, abs=20.0)
    against(
        "10 L filled from 8 bar, pressure after 1 s",
        outside=float(np.interp(1.0, times, rows[:, 0])) / 1e3,
        ours=trace.pressure("tank", 1.0) / 1e3,
        unit="kPa",
        within=0.02,
    )


def _application(name, against, folder):
    problem, trace = whole.application(name)
    assert trace.complete
    times, rows = solved(Netlist(problem, whole.END, trace.events, step=0.01), whole.working(problem), folder)
    whole.hold_application(against, name, trace, times, rows, milliseconds=1.0, kilopascal=1.0)


def test_the_teaching_board_applied_and_released(table, tmp_path):
    _application("teaching-board", table.against("solver", SOURCE), tmp_path)


def test_the_truck_applied_and_released(table, tmp_path):
    _application("truck-6x4", table.against("solver", SOURCE), tmp_path)


@pytest.mark.slow
def test_every_example_braked(table, tmp_path):
    """From driving to braking, at every reservoir and chamber and all the time; load-sensing levers, relays of trailers
    and all. What is left is the everyday tolerance: it goes down with it."""
    against = table.against("solver", SOURCE)
    for name in example_names():
        problem, trace = whole.braking(name)
        nodes = whole.working(problem)
        times, rows = solved(Netlist(problem, whole.END, trace.events, step=0.01), nodes, tmp_path)
        against(
            f"{name} from driving to braking: greatest distance at {len(nodes)} reservoirs and chambers",
            outside=0.0,
            ours=whole.apart(trace, times, rows, nodes) / 1e3,
            unit="kPa",
            within=3.0,
        )
        assert trace.complete and max(row.max() - row.min() for row in rows.T) > 1e5  # brakes came on


def test_the_teaching_board_charged_from_empty(table, tmp_path):
    """With the governor's cut-out: from then on the compressor turns without making air."""
    problem, trace = whole.charge("teaching-board", 150.0)
    assert trace.complete and [event.device for event in trace.events] == ["gov"]
    times, rows = solved(Netlist(problem, 150.0, trace.events, step=0.5), whole.working(problem), tmp_path)
    against = table.against("solver", SOURCE)
    nodes = whole.working(problem)
    for place in ("wet", "dry"):
        theirs = rows[:, nodes.index(trace.column(place))]
        against(
            f"teaching-board charged from empty: {place} at 85 psi",
            unit="s",
            within=0.02,
            outside=whole.crossed(times, theirs, gauge(85), True),
            ours=trace.first_time(place, gauge(85)),
        )
    against(
        "teaching-board charged from empty: greatest distance at reservoirs and chambers",
        outside=0.0,
        ours=whole.apart(trace, times, rows, nodes) / 1e3,
        unit="kPa",
        within=0.2,
    )
