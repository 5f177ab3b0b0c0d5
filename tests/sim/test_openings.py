"""No opening is stepped over: a ramp given whole is the same ramp given in pieces."""

import pytest

from circuit.declaring.traits import Trait
from circuit.sim import Script, feed, move, press, simulate
from circuit.studies.hands import fed_heads, pedals
from circuit.units import ATMOSPHERE
from tests.designs import example_text, loaded, patched
from tests.sim.designs import EXAMPLES, example, gauge

PIECES = (2, 13, 130)


def in_pieces(action, pieces):
    """The same ramp as so many shorter ones. action: of (to, at, over) with its start, all linear."""
    make, start, to, at, over = action
    return tuple(make(start + (to - start) * (n + 1) / pieces, at + over * n / pieces, over / pieces) for n in range(pieces))


def ramp_of(circuit):
    """A slow pedal, or the falling supply line of what is towed: what is done, and the pressures at the start."""
    if pedals(circuit):
        device, variable = pedals(circuit)[0]
        return ((lambda to, at, over: move(device.name, variable, to, at, over)), 0.0, 1.0, 1.0, 20.0), {
            "reservoirs": gauge(100)}
    head, full = fed_heads(circuit, "supply")[0].name, ATMOSPHERE + 6.5e5
    return ((lambda to, at, over: feed(head, to, at, over)), full, ATMOSPHERE, 1.0, 6.5), {head: full, "reservoirs": full}


@pytest.mark.parametrize("name", sorted(path.parent.name for path in EXAMPLES.glob("*/design.air")))
def test_every_brake_opens_the_same_in_pieces(name):
    """A slow pedal or a falling supply line whole and in 2, 13 and 130 pieces: first opening within 5 ms, end within
    0.5 kPa, at every chamber."""
    circuit = example(name)
    action, pressures = ramp_of(circuit)
    spaces = [circuit.service_space(chamber) for chamber in circuit.having(Trait.SERVICE_ACTUATOR)]
    spaces += [circuit.spring_space(chamber) for chamber in circuit.having(Trait.SPRING_ACTUATOR)]
    spaces = spaces or [circuit.store(head) for head in circuit.having(Trait.COUPLES_VEHICLES)]
    found = []
    for pieces in (1, *PIECES):
        trace = simulate(circuit, Script(in_pieces(action, pieces), pressures=pressures), sum(action[3:]) + 2.0)
        assert trace.complete
        found.append([(trace.first_time(space, ATMOSPHERE + 2e3, after=1.0), trace.last(space)) for space in spaces])
    for run in found[1:]:
        for (time, end), (first, last) in zip(run, found[0], strict=True):
            assert (time is None) == (first is None) and end == pytest.approx(last, abs=500.0)
            assert time is None or time == pytest.approx(first, abs=5e-3)


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
