"""A burst auxiliary, with air flowing: its feed stops at the closing pressure of the protection valve before it.

The figures are the closing pressures that the designs set, no result of a run; what a check valve keeps stays where the
example was filled to, the governor's cut-out less the 0.1 bar of its check.
"""

import pytest

from circuit.sim.run import simulate
from circuit.sim.script import Script, leak
from circuit.units import ATMOSPHERE
from tests.examples.held import circuit_of

HOLE = 0.008
"""m, across: as wide as a line torn off."""

CASES = (
    ("city-bus", ("aux",), 200, {"wet": 5.2, "pri": 8.5, "sec": 8.5, "release-tank": 8.5, "aux": 0}),
    ("city-bus", ("bag-left-1",), 300, {"wet": 5.2, "pri": 8.5, "bag-left-2": 0, "bag-right-1": 4.4}),
    ("lift-axle", ("aux",), 200, {"wet": 5.2, "pri": 8.5, "exp": 8.5, "aux": 0}),
    ("air-suspension", ("bag-left",), 300, {"sec": 5.2, "susp": 0, "bag-right": 0}),
    ("tyre-inflation", ("d1-left-wheel.seal.1",), 300, {"wet": 5.6, "pri": 8.5, "sec": 8.5}),
    ("auxiliary-manifold", ("horn", "driver-seat"), 200, {"wet": 5.2, "pri": 8.5, "sec": 8.5, "block": 0}),
)


@pytest.mark.parametrize(("example", "holes", "seconds", "kept"), CASES, ids=lambda value: str(value)[:24])
def test_the_feed_stops_at_the_closing_pressure(
    example: str, holes: tuple[str, ...], seconds: int, kept: dict[str, float]
):
    script = Script(actions=tuple(leak(hole, HOLE, 1.0) for hole in holes), situation="driving")
    trace = simulate(circuit_of(example), script, seconds)
    found = {place: (trace.last(place) - ATMOSPHERE) / 1e5 for place in kept}
    assert found == pytest.approx(kept, abs=0.05)
