"""No opening is stepped over: a ramp gives the same openings and the same end, whole or in pieces."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from circuit.declaring.traits import Trait
from circuit.sim import Options, Script, feed, move, simulate
from circuit.studies.hands import fed_heads, pedals, standing
from circuit.units import ATMOSPHERE
from tests.designs import example_names, example_text, loaded
from tests.sim.designs import BAR, built, example, gauge
from tests.sim.ramps import kinds, play

PIECES = (1, 2, 13, 130)
MOMENT = 5e-3
"""s between which a first opening may lie; any other that a ramp drives, between twice that."""
CREEPS, ANYWHERE = 60.0, 150.0
"""Pa by which a push may differ where it creeps so slowly that the error allowed to a step, 30 Pa, is more than that time:
that of the first opening, and any other: the 30 Pa are a mean over all spaces."""
END = 500.0
"""Pa between which every space's end may lie."""
OVERS = {"leaks": (30.0, 300.0)}
"""s that a ramp takes; of others 0.5, 3 and 20."""


def assert_alike(name, kind, over, share, pieces=PIECES):
    """The same first opening and the same end in so many pieces."""
    runs = [play(example(name), kind, count, over, share) for count in pieces]
    finest = runs[-1]
    for run, count in zip(runs[:-1], pieces):
        what = f"{name}, {kind} {share:.2f} of the way in {over:g} s, {count} pieces: "
        apart = np.abs(np.array(run.trace.pressures[-1]) - np.array(finest.trace.pressures[-1]))
        # what is still on its way when a leak is watched no longer may be that time ahead
        apart -= MOMENT * np.abs(np.array(finest.trace.rates[-1]))
        assert apart.max() < END, what + run.trace.names[int(apart.argmax())]
        assert _apart(run, finest, kind != "leaks") == "", what + _apart(run, finest, kind != "leaks")


def _apart(one, other, driven):
    """In words, where two runs differ in their first opening, or in any when the ramp itself drives them all."""
    for element in sorted({*one.opened, *other.opened}):
        times = [run.opened.get(element, np.inf) for run in (one, other)]
        first = min(times) <= min([*one.opened.values(), *other.opened.values()])
        if not first and not driven or max(times) - min(times) <= (MOMENT if first else 2 * MOMENT):
            continue
        when, pushes = (one if times[0] > times[1] else other).pushes
        short = -float(np.interp(min(times), when, pushes[:, element]))
        if short > (CREEPS if first else ANYWHERE):
            return f"{one.problem.network.elements[element].owner} at {times} s, {short:.0f} Pa short"
    return ""


CASES = [(name, kind) for name in example_names() for kind in kinds(example(name))]
QUICK = [("semitrailer-europe", "supply falls"), ("semitrailer-europe", "release"), ("teaching-board", "apply"),
         ("converter-dolly", "supply rises"), ("truck-europe", "leaks")]


@pytest.mark.parametrize("name, kind", QUICK)
def test_a_ramp_gives_the_same_whole_and_in_pieces(name, kind):
    assert_alike(name, kind, OVERS.get(kind, (0.5, 3.0, 20.0))[1], 1.0)


@settings(max_examples=4, deadline=None, derandomize=True)
@given(some.sampled_from([case for case in CASES if "semitrailer" in case[0]]), some.floats(0.3, 30.0),
       some.floats(0.2, 1.0))
def test_any_ramp_of_a_trailer_gives_the_same_whole_and_in_pieces(case, over, share):
    assert_alike(*case, 10 * over if case[1] == "leaks" else over, share)


@pytest.mark.slow
@pytest.mark.parametrize("name, kind", CASES)
def test_any_ramp_gives_the_same_whole_and_in_pieces(name, kind):
    for over in OVERS.get(kind, (0.5, 3.0, 20.0)):
        assert_alike(name, kind, over, 1.0)

    @settings(max_examples=8, deadline=None, derandomize=True)
    @given(some.floats(0.3, 30.0), some.floats(0.2, 1.0))
    def hold(over, share):
        assert_alike(name, kind, 10 * over if kind == "leaks" else over, share)

    hold()


# --- every brake --------------------------------------------------------------------------------------------------------


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


@pytest.mark.parametrize("name", example_names())
def test_every_brake_opens_the_same_in_pieces(name):
    """A slow pedal or a falling supply line whole and in 2, 13 and 130 pieces: first opening within 5 ms, end within
    0.5 kPa, at every chamber."""
    circuit = example(name)
    action, pressures = ramp_of(circuit)
    spaces = [circuit.service_space(chamber) for chamber in circuit.having(Trait.SERVICE_ACTUATOR)]
    spaces += [circuit.spring_space(chamber) for chamber in circuit.having(Trait.SPRING_ACTUATOR)]
    spaces = spaces or [circuit.store(head) for head in circuit.having(Trait.COUPLES_VEHICLES)]
    found = []
    for pieces in PIECES:
        trace = simulate(circuit, Script(in_pieces(action, pieces), pressures=pressures), sum(action[3:]) + 2.0)
        assert trace.complete
        found.append([(trace.first_time(space, ATMOSPHERE + 2e3, after=1.0), trace.last(space)) for space in spaces])
    for run in found[1:]:
        for (time, end), (first, last) in zip(run, found[0], strict=True):
            assert (time is None) == (first is None) and end == pytest.approx(last, abs=500.0)
            assert time is None or time == pytest.approx(first, abs=5e-3)


# --- a trailer that brakes itself ---------------------------------------------------------------------------------------

FED, FALLS = ATMOSPHERE + 6.5 * BAR, 1.0 * BAR
"""Absolute Pa in the supply line before it falls, and Pa/s: UN R13 5.2.2.12."""
BEGINS = ATMOSPHERE + 0.25 * BAR
"""Absolute Pa in a chamber by which its brake has begun."""


def _line_as_it_brakes(circuit, pieces, options=Options()):
    """Gauge bar in the supply line when the first brake begins while the line falls evenly."""
    (head,) = fed_heads(circuit, "supply")
    over = (FED - ATMOSPHERE) / FALLS / pieces
    falls = [feed(head.name, FED - (FED - ATMOSPHERE) * (piece + 1) / pieces, 1.0 + piece * over, over)
             for piece in range(pieces)]
    trace = simulate(circuit, standing(circuit, FED, *falls), 9.5, options=options)
    time = min(filter(None, (trace.first_time(place, BEGINS, after=1.0) for place in ("first-left", "second-left.can.11",
                                                                                      "third-right.can.11"))))
    return (trace.pressure(head.name, time) - ATMOSPHERE) / BAR


@pytest.mark.parametrize("below", [1.9, 2.0, 2.1, 2.5, 3.0, 3.5])
def test_a_trailer_brakes_itself_at_the_same_pressure_however_the_ramp_is_given(below):
    """Its emergency valve opens while nothing but the supply line moves: steps of more than a second once passed it."""
    text = example_text("semitrailer-europe").replace("applies-below 3.5 bar", f"applies-below {below} bar")
    circuit = loaded(text)
    whole = _line_as_it_brakes(circuit, 1)
    assert whole == pytest.approx(_line_as_it_brakes(circuit, 130), abs=0.02)
    assert whole == pytest.approx(_line_as_it_brakes(circuit, 1, Options(tolerance=0.3)), abs=0.02)
    assert 0.9 * below < whole < below


# --- questions that ask a hand alone -------------------------------------------------------------------------------------


@pytest.mark.parametrize("pieces", PIECES)
def test_what_asks_a_hand_alone_turns_when_the_hand_is_there(pieces):
    """The arm of a levelling valve, moved evenly from the middle up: from the middle of its way it lets air in."""
    circuit = built("reservoir tank: volume 40 L, rated 10 bar, role service\nlevelling-valve level\n"
                    "fit tank -> level.1\nair-spring bag\nfit level.2 -> bag\n")
    ramp = [move("level", "arm", (piece + 1) / pieces, 1.0 + 10.0 * piece / pieces, 10.0 / pieces) for piece in range(pieces)]
    trace = simulate(circuit, Script(tuple(ramp), pressures={"tank": ATMOSPHERE + 8 * BAR}), 12.0)
    assert trace.pressure("bag", 5.99) == pytest.approx(trace.pressure("bag", 1.0), abs=1.0)
    assert trace.first_time("bag", trace.pressure("bag", 1.0) + 100.0) == pytest.approx(6.0, abs=5e-3)
