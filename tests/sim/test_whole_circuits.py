"""Whole examples in motion: plausible times, no air made or lost, nothing above its sources."""

from functools import cache
from pathlib import Path

import pytest

from circuit.pipeline import load
from circuit.sim import Script, press, release, simulate
from circuit.units import ATMOSPHERE

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PSI = 6894.757293168
FULL = ATMOSPHERE + 100 * PSI


@cache
def circuit(name):
    return load(str(EXAMPLES / name / "design.air"))


@cache
def application(name):
    script = Script((press("foot", 1.0, 0.0), release("foot", 2.0)), pressures={"reservoirs": FULL})
    return simulate(circuit(name), script, 4.0)


def test_truck_applies_and_releases_in_plausible_times():
    # soft limits from memory: rear by a relay 0.2 to 0.4 s, front 0.25 to 0.5 s, releases 0.3 to 0.6 s
    trace = application("truck-6x4")
    for place, soonest, latest in (("d2-right.service", 0.2, 0.4), ("front-left", 0.25, 0.5)):
        applied = trace.first_time(place, ATMOSPHERE + 60 * PSI)
        released = trace.first_time(place, ATMOSPHERE + 5 * PSI, rising=False, after=2.0)
        assert applied is not None and soonest < applied < latest
        assert released is not None and 0.3 < released - 2.0 < 0.6


def test_no_air_is_made_or_lost():
    balance = application("truck-6x4").balance
    assert abs(balance.drift) < 1e-12
    assert (
        balance.made == 0
        and balance.vented == pytest.approx(balance.first - balance.last, rel=1e-9)
        and balance.vented > 0.02
    )


def test_no_pressure_is_above_its_sources():
    trace = application("truck-6x4")
    assert trace.complete
    assert max(max(row) for row in trace.pressures) < FULL + 50
    assert min(min(row) for row in trace.pressures) > ATMOSPHERE - 50


def test_left_and_right_agree():
    trace = application("truck-6x4")
    for left, right in (("front-left", "front-right"), ("d1-left.service", "d2-right.service")):
        for one, other in zip(trace.curve(left, (0.1, 0.3, 1.0, 2.2)), trace.curve(right, (0.1, 0.3, 1.0, 2.2))):
            assert one == pytest.approx(other, abs=1e-3)
