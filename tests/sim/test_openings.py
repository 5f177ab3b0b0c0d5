"""No opening is stepped over: a ramp given whole is the same ramp given in pieces."""

import pytest

from circuit.sim import Script, feed, press, simulate
from circuit.units import ATMOSPHERE
from tests.designs import example_text, loaded, patched
from tests.sim.designs import example, gauge

PIECES = (2, 13, 130)


def in_pieces(action, pieces):
    """The same ramp as so many shorter ones. action: of (to, at, over) with its start, all linear."""
    make, start, to, at, over = action
    return tuple(make(start + (to - start) * (n + 1) / pieces, at + over * n / pieces, over / pieces) for n in range(pieces))


def first_and_end(circuit, actions, until, place, level, **more):
    trace = simulate(circuit, Script(actions, **more), until)
    assert trace.complete
    return trace.first_time(place, level), trace.last(place)


@pytest.mark.parametrize("name, pedal, place", [("teaching-board", "foot", "front-left"), ("truck-6x4", "foot", "front-left"),
                                                ("truck-6x4", "foot", "d1-left.service")])
def test_a_slow_pedal_opens_the_same_in_pieces(name, pedal, place):
    """20 s for the whole travel: first opening within 5 ms, end within 0.5 kPa."""
    action = (lambda to, at, over: press(pedal, to, at, over)), 0.0, 1.0, 1.0, 20.0
    runs = [first_and_end(example(name), in_pieces(action, pieces), 23.0, place, ATMOSPHERE + 2e3,
                          pressures={"reservoirs": gauge(100)}) for pieces in (1, *PIECES)]
    (first, end), *others = runs
    for other, last in others:
        assert other == pytest.approx(first, abs=5e-3) and last == pytest.approx(end, abs=500.0)


@pytest.mark.parametrize("below", ["1.9", "2.1", "2.5", "3.0", "3.5"])
def test_a_falling_supply_line_brakes_at_the_same_pressure_in_pieces(below):
    """A trailer's own braking begins where the supply line has the same pressure, to 0.02 bar, in one ramp and in 130."""
    text = example_text("semitrailer-europe")
    row = next(line for line in text.split("\n") if "applies-below 3.5 bar" in line)
    circuit = loaded(patched(text, [f"- {row.split(':')[0]}", "+ " + row.replace("3.5 bar", f"{below} bar")]))
    head = next(d.name for d in circuit.devices if d.kind.name == "coupling-head" and d.settings["line"] == "supply")
    full = ATMOSPHERE + 6.5e5
    action = (lambda to, at, over: feed(head, to, at, over)), full, ATMOSPHERE, 1.0, 6.5
    found = []
    for pieces in (1, 130):
        chamber = next(d for d in circuit.devices if "chamber" in d.kind.name)
        space = circuit.service_space(chamber)
        trace = simulate(circuit, Script(in_pieces(action, pieces), pressures={head: full, "reservoirs": full}), 9.0)
        time = trace.first_time(space, ATMOSPHERE + 2e4, after=0.5)
        found.append(None if time is None else trace.pressure(head, time))
    one, many = found
    assert one is not None and many is not None and one == pytest.approx(many, abs=2e3)


def test_nothing_falls_below_the_atmosphere():
    """The European truck braked and let go, at the usual tolerance."""
    circuit = example("truck-europe")
    trace = simulate(circuit, Script((press("foot", 1.0, 0.5, 0.1), press("foot", 0.0, 2.0, 0.1)),
                                     pressures={"reservoirs": gauge(120)}), 5.0)
    assert min(min(row) for row in trace.pressures) > ATMOSPHERE - 60.0
