"""A line a millimetre longer is never quicker, and nothing jumps with its length, wherever it is cut into pieces."""

from itertools import pairwise

import pytest

from circuit.sim import Options, Script, press, release, simulate
from tests.sim.designs import built, gauge

LENGTHS = (0.5, 1.3, 2.2, 2.999, 3.0, 3.001, 3.002, 3.2, 4.0, 4.499, 4.5, 6.0, 7.7, 8.999, 9.0, 9.001, 9.4, 11.2, 11.25,
           13.0, 14.999, 15.0)
"""m; around each length at which a further piece begins or has grown as long as the others."""
LEAVES = 3.0
"""s at which the pedal is let go."""
TO_A_CHAMBER = (
    "reservoir dry: volume 46 L, rated 10.3 bar, role service\n"
    "foot-valve foot\n"
    "tube dry -> foot.1: size 1/2 in, length 1 m\n"
    "tube foot.2 -> front: size {size}, length {length} m\n"
    "chamber front: type 20, stroke 2 in, axle front, side left\n"
)
TO_A_RELAY = (
    "reservoir dry: volume 46 L, rated 10.3 bar, role service\n"
    "foot-valve foot\n"
    "tube dry -> foot.1: size 1/2 in, length 1 m\n"
    "relay-valve relay\n"
    "tube dry -> relay.1: size 1/2 in, length 1 m\n"
    "tube foot.2 -> relay.4: size {size}, length {length} m\n"
    "tube relay.2 -> front: size 1/2 in, length 1 m\n"
    "chamber front: type 20, stroke 2 in, axle front, side left\n"
)


def times(design, size, length):
    """s to 60 psi, and back to 5 psi from when the pedal is let go."""
    circuit = built(design.format(size=size, length=length))
    script = Script((press("foot", 1.0, 0.0), release("foot", LEAVES)), pressures={"reservoirs": gauge(100)})
    trace = simulate(circuit, script, 7.0, options=Options(exponent=1.2))
    chamber = circuit.service_space(circuit.by_name["front"])
    applied, released = trace.first_time(chamber, gauge(60)), trace.first_time(chamber, gauge(5), False, LEAVES)
    assert applied is not None and released is not None
    return applied, released - LEAVES


@pytest.mark.parametrize("design", [TO_A_CHAMBER, TO_A_RELAY], ids=["to a chamber", "to a relay"])
@pytest.mark.parametrize("size", ["3/8 in", "1/4 in"])
def test_a_longer_line_is_never_quicker_and_never_at_once_slower(design, size):
    found = [(length, times(design, size, length)) for length in LENGTHS]
    last = found[-1][1]
    for (short, before), (long, after) in pairwise(found):
        for one, other, slowest in zip(before, after, last):
            assert other > one, f"{long} m is quicker than {short} m"
            assert other - one < 0.002 * slowest + 0.15 * slowest * (long - short)


@pytest.mark.parametrize("length", [3.4, 8.0, 9.7])
def test_a_line_written_from_its_other_end_gives_the_same(length):
    turned = TO_A_CHAMBER.replace("tube foot.2 -> front:", "tube front -> foot.2:")
    assert turned != TO_A_CHAMBER
    assert times(turned, "3/8 in", length) == pytest.approx(times(TO_A_CHAMBER, "3/8 in", length), abs=1e-6)
