"""A line with momentum, friction and heat in one dimension, beside the program's lumped one at one temperature.

What is left out costs an application some tenth: the program is slow, on the safe side, and more so the longer the line.
The aim is 3 % (with inertia and heat in the engine); these rows hold it to what it is. A release comes out some 20 to 24 %
quicker than along such a line, on the UNSAFE side, most of it below 10 psi; the reference's own release is not checked against
anything yet, so `tests/benchmarks/spread.py` prints that figure and no row of it stands here.
"""

import numpy as np
import pytest

from circuit.gas.chamber import volume
from circuit.sim import Options, Script, press, simulate
from tests.designs import loaded
from tests.outside import along

PSI = 6894.757
FULL, LEVEL = along.AIR + 100 * PSI, along.AIR + 60 * PSI
DESIGN = """
vehicle bench: class truck
axle front: position 1
reservoir tank: volume 40 L, rated 10 bar, role service
foot-valve foot: conductance 8 L/(s.bar)
hose tank -> foot.1: bore 25 mm, length 0.05 m
tube foot.2 -> can: size 3/8 in, length {length} m
chamber can: type 20, stroke 2.25 in, axle front, side left
"""


def bench(circuit, length):
    can, foot = circuit.by_name["can"], circuit.by_name["foot"]
    line = next(device for device in circuit.devices if device.kind.name == "tube")
    pressures = (along.AIR - 2e4, *np.linspace(along.AIR, along.AIR + 8e5, 801))
    return along.Bench(0.040, FULL, 8e-8, 0.3, 15e3, float(foot.settings["lap"]), 0.05e-3, length, line.settings["bore"],
                       pressures, tuple(volume(can.settings, pressure) for pressure in pressures))


def pedal(time):
    return along.AIR + 1e6 * min(1.0, time / 0.1)


def both(length, cell=along.CELL):
    """s to 60 psi in the chamber: of the reference, and of the program."""
    circuit = loaded(DESIGN.format(length=length))
    trace = simulate(circuit, Script((press("foot", 1.0, 0.0),), pressures={"tank": FULL}), 2.0, options=Options(exponent=1.2))
    return along.times(bench(circuit, length), pedal, 2.0, LEVEL, True, cell=cell), trace.first_time("can", LEVEL)


@pytest.mark.slow
def test_an_application_along_a_line(table):
    against = table.against("theory", f"one dimension: momentum, friction, heat; {along.WALLS:g} W/(m2 K) at walls, from memory")
    for length in (0.5, 3.0, 10.0):
        outside, ours = both(length)
        against(f"foot valve, {length:g} m of 3/8 in, type 20, to 60 psi, exponent 1.2", outside=1e3 * outside, ours=1e3 * ours,
                unit="ms", percent=20.0)


def test_cells_of_half_the_length_say_the_same():
    coarse, fine = (along.times(bench(loaded(DESIGN.format(length=1.5)), 1.5), pedal, 1.0, LEVEL, True, cell=cell)
                    for cell in (0.25, 0.125))
    assert coarse == pytest.approx(fine, rel=0.02)
