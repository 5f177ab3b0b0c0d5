"""Lines as pieces with a conductance each, by the flow of a continuum with inertia.

A line without a valve is joined at once to 100 psi and fills what is behind it. The program's line has no inertia and
so no front: the first pressure comes a little early, whatever the length, and what follows a little late.
"""

from math import sqrt

import pytest

from circuit.sim import Options, Script, feed, simulate
from circuit.units import ATMOSPHERE
from tests.outside import wave, whole
from tests.sim.designs import built, gauge

LINES = (
    (4.32, 5.0, 0.05, 0.12),
    (6.38, 8.0, 0.05, 0.12),
    (6.38, 8.0, 0.8, 0.4),
    (6.38, 15.0, 0.8, 0.6),
    (9.55, 6.0, 1.5, 0.25),
    (14.4, 12.0, 0.1, 0.1),
)
"""mm, m, L behind it, s to play: signal lines, lines to a chamber and to two, a wide one to a small space."""


@pytest.fixture(scope="module")
def played():
    found = []
    for bore, length, litres, until in LINES:
        circuit = built(
            "reservoir near: volume 0.05 L, rated 10 bar, role service\n"
            f"reservoir far: volume {litres} L, rated 10 bar, role service\n"
            f"hose near -> far: bore {bore} mm, length {length} m, ends moving\n"
        )
        empty = {"near": ATMOSPHERE, "far": ATMOSPHERE}
        script = Script((feed("near", gauge(100), 0.0, conductance=1e-5),), pressures=empty)
        trace = simulate(circuit, script, until, options=Options(engine="plain", smallest=0.0))
        curve = wave.filled(bore * 1e-3, length, litres * 1e-3, gauge(100), ATMOSPHERE, until, cells=60)
        found.append((f"{litres:g} L behind {length:g} m of {bore:g} mm", trace, *curve))
    return found


def test_time_to_60_psi(table, played):
    against = table.against("theory", "one-dimensional flow with inertia and friction, 60 cells, 20 °C throughout")
    for words, trace, times, pressures in played:
        against(f"{words}: to 60 psi", outside=1e3 * whole.crossed(times, pressures, gauge(60), True),
                ours=1e3 * trace.first_time("far", gauge(60)), unit="ms", percent=12.0)


def test_the_first_pressure(table, played):
    against = table.against("theory", "one-dimensional flow with inertia and friction, 60 cells, 20 °C throughout")
    for words, trace, times, pressures in played:
        theirs, ours = whole.crossed(times, pressures, gauge(5), True), trace.first_time("far", gauge(5))
        against(f"{words}: to 5 psi", outside=1e3 * theirs, ours=1e3 * ours, unit="ms", within=12.0)
        assert ours < theirs + 2e-3


def test_the_continuum_itself():
    """In a wide line the front runs at the speed of sound at one temperature times the root of its pressure ratio, and
    is thrown back at the end; a narrow one comes to rest at its source's pressure."""
    times, pressures = wave.filled(0.05, 10.0, 1e-5, 1.1e5, 1.0e5, 0.05, cells=200)
    assert 10.0 / whole.crossed(times, pressures, 1.1e5, True) == pytest.approx(290.1 * sqrt(1.1), rel=0.03)
    assert pressures.max() == pytest.approx(1.2e5, rel=0.03)
    times, pressures = wave.filled(6.38e-3, 2.0, 5e-5, 8e5, 1e5, 0.5, cells=40)
    assert pressures[-1] == pytest.approx(8e5, rel=1e-3)
