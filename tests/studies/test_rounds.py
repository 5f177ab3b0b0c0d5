"""The governor's round against one that is played: a pedal pressed every minute, leaks, twenty minutes on end."""

from math import pi, sqrt

import pytest

from circuit.declaring.traits import Trait
from circuit.gas.constants import GAS_CONSTANT, REFERENCE_DENSITY
from circuit.gas.flow import hole
from circuit.sim import Engine, Options, Script, leak, press, release, simulate
from circuit.studies.rounds import cycle
from tests.sim.designs import PSI, built, example

MINUTES = 20
BOARD = (
    "compressor pump: displacement 12 cfm\n"
    "governor gov: cut-in 100 psi, cut-out 125 psi\n"
    "reservoir dry: volume 40 L, rated 10.3 bar, role service\n"
    "hose pump.2 -> dry: bore 16 mm, length 1 m\n"
    "tube dry -> gov.1: size 1/4 in, length 0.5 m\n"
    "tube gov.2 -> pump.4: size 1/4 in, length 0.5 m\n"
)
BESIDE = "hose dry -> end: bore 25 mm, length 8 m\ntest-point end\n"


def played(circuit, pedal, minutes=MINUTES):
    """Mean s of pumping and of resting over whole rounds after the first start, and the share of time that it pumps."""
    governor = circuit.having(Trait.GOVERNS)[0]
    middle = (governor.settings["cut-in"] + governor.settings["cut-out"]) / 2
    actions = []
    for tank in circuit.reservoirs:
        loses = 2 * PSI / 60 * tank.settings["volume"] / (GAS_CONSTANT * 293.15)
        actions.append(leak(tank.name, sqrt(loses / (REFERENCE_DENSITY * middle) / hole(1.0)), 0.0))
    for number in range(minutes):
        actions += [press(pedal, 1.0, 20.0 + 60 * number), release(pedal, 22.0 + 60 * number)]
    script = Script(tuple(actions), pressures={"reservoirs": governor.settings["cut-out"] - PSI})
    trace = simulate(circuit, script, 60.0 * minutes, engine=Engine(True))
    turns = [(e.time, e.value) for e in trace.events if (e.device, e.variable) == (governor.name, "unloading")]
    starts = [time for time, value in turns if value == 0.0]
    pumping = sum(next(time for time, value in turns if time > start and value > 0) - start for start in starts[:-1])
    rounds, whole = len(starts) - 1, starts[-1] - starts[0]
    assert rounds >= 4
    return pumping / rounds, (whole - pumping) / rounds, pumping / whole


@pytest.mark.parametrize("name, times", [("teaching-board", 0.08), ("truck-6x4", 0.14), ("truck-europe", 0.06)])
def test_a_round_is_as_one_that_is_played(name, times):
    """times: how far pumping and resting may be apart; a pedal's dip starts the compressor a little early."""
    found = cycle(example(name), Options())
    pumping, resting, duty = played(example(name), "foot")
    assert found.pumping == pytest.approx(pumping, rel=times)
    assert found.resting == pytest.approx(resting, rel=times)
    assert found.duty == pytest.approx(duty, abs=0.012)


def test_a_round_counts_the_air_in_lines():
    """Without brakes, leaks and lines fall alike: all times go as the air held, by 8 m of 25 mm beside 40 L and less."""
    own, more = (cycle(built(BOARD + beside), Options()) for beside in ("", BESIDE))
    beside = pi / 4 * 0.025**2 * 8.0
    lines = pi / 4 * (0.016**2 * 1.0 + 2 * 0.00438**2 * 0.5)
    assert own.by_leak == more.by_leak > 0.0 == own.by_braking
    assert more.resting / own.resting == pytest.approx(1 + beside / (0.040 + lines), rel=0.005)
    assert more.pumping / own.pumping == pytest.approx(1 + beside / (0.040 + lines), rel=0.01)
    held = (0.040 + lines) * 25 * PSI / (GAS_CONSTANT * 293.15)
    assert own.resting == pytest.approx(held / own.by_leak, rel=0.02)
