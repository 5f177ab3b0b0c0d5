"""Faults over time: times in order, against times worked by hand, and the graph's answer held to the simulation's."""

from math import log

import pytest

from circuit.faults.times import Timeline, is_slow, timelines, worth_timing
from circuit.gas.flow import from_area
from circuit.sim import Options
from circuit.sim.script import Variant
from circuit.sim.variants import extras_of
from circuit.units import ATMOSPHERE
from tests.faults.studied import bar, effect_of, study_of

SHORT = Options(most_steps=50_000)
FAULTS = ("pri: burst", "sec: burst", "tube park-shuttle.2 -> park.1: burst", "sec: leaks")


@pytest.fixture(scope="module")
def lines() -> dict[str, Timeline]:
    found = timelines(study_of("truck-6x4"), [effect_of("truck-6x4", name) for name in FAULTS], options=SHORT)
    return {line.name: line for line in found}


def test_graph_and_simulation_agree(lines: dict[str, Timeline]):
    assert [line.name for line in lines.values() if line.disagrees or not line.complete] == []
    assert bar(lines["pri: burst"].last["sec"]) == pytest.approx(8.5, abs=0.05)
    assert bar(lines["pri: burst"].last["pri"]) == pytest.approx(0, abs=0.2)


def test_a_graph_that_keeps_what_is_lost_is_told_of(lines: dict[str, Timeline]):
    wrong = effect_of("truck-6x4", "pri: burst")
    tanks = tuple(tank._replace(driving=tank.full) if tank.name == "pri" else tank for tank in wrong.tanks)
    line, = timelines(study_of("truck-6x4"), [wrong._replace(tanks=tanks)], options=SHORT)
    assert len(line.disagrees) == 1 and "pri falls to" in line.disagrees[0]


def test_the_warning_comes_before_the_loss_when_a_reservoir_goes(lines: dict[str, Timeline]):
    for name in ("pri: burst", "sec: burst", "sec: leaks"):
        assert lines[name].grace is not None and lines[name].grace > 0


def test_the_springs_come_before_the_warning_when_the_park_feed_goes(lines: dict[str, Timeline]):
    line = lines["tube park-shuttle.2 -> park.1: burst"]
    assert line.loss is not None and line.warning is not None and line.loss < line.warning
    assert line.grace is not None and line.grace < 0


def test_a_leak_takes_the_time_of_choked_flow_from_one_volume(lines: dict[str, Timeline]):
    """Sonic flow empties a volume V through C as p = p0 exp(-C T R rho0 t / V): isothermal, rho0 R T is 1 bar.

    The wet and the purge reservoir go along through open checks; the lines, some 3 L, are left out.
    """
    study = study_of("truck-6x4")
    circuit = study.circuit
    leak = next(iter(extras_of(circuit, Variant("", (("sec", "leaks"),)))))
    volumes = sum(circuit.by_name[name].settings["volume"] for name in ("sec", "wet", "purge-tank"))
    from_full, warns = ATMOSPHERE + 8.5e5, circuit.by_name["sec-warning"].settings["on-below"]
    by_hand = volumes / (leak.conductance * 1e5) * log(from_full / warns)
    assert leak.conductance < from_area(1e-6)
    assert lines["sec: leaks"].warning == pytest.approx(by_hand, rel=0.08)


def test_what_is_worth_timing_loses_air():
    study = study_of("truck-6x4")
    chosen = worth_timing(study)
    assert {is_slow(study.circuit, effect) for effect in chosen} == {True, False}
    assert len({effect.fault.name for effect in chosen}) == len(chosen) > 10
