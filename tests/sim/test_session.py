"""A run under one's hands: frames of any length, hands and failures between them, compiled and as plain text."""

import numpy as np
import pytest

from circuit.model.places import NoSuchPlace
from circuit.sim import (
    Engine,
    Options,
    Script,
    Session,
    Variant,
    leak,
    open_up,
    press,
    pull,
    push,
    release,
    shut,
    simulate,
    simulate_many,
    start_engine,
)
from tests.sim.designs import example, gauge

FULL = Script(pressures={"reservoirs": gauge(100)})


def pressures(trace, end):
    return np.array(trace.rows([end]))[0]


@pytest.mark.parametrize("frames", [1, 7, 60])
def test_frames_of_any_length_give_what_one_run_gives(frames):
    """A pedal pressed slowly and let go, in one run by script and by hand in frames; within 30 Pa at the end."""
    circuit = example("truck-6x4")
    script = Script((press("foot", 0.8, 0.0, 0.5), release("foot", 1.0)), pressures={"reservoirs": gauge(100)})
    whole = simulate(circuit, script, 2.0)
    board = Session(circuit, FULL)
    board.do(press("foot", 0.8, 0.0, 0.5))
    for _ in range(frames):
        board.run(1.0 / frames)
    board.do(release("foot", 0.0))
    for _ in range(frames):
        trace = board.run(1.0 / frames)
    assert board.now == pytest.approx(2.0, abs=1e-9)
    assert np.abs(pressures(trace, 2.0) - pressures(whole, 2.0)).max() < 60.0


def test_the_step_is_kept_from_frame_to_frame():
    """At rest 200 frames take a step each and not a ladder of small ones."""
    board = Session(example("truck-6x4"), FULL)
    board.run(1.0)
    steps = sum(board.run(1.0 / 60).steps for _ in range(200))
    assert steps <= 210


def test_compiled_and_plain_play_alike():
    def played(name):
        board = Session(example("teaching-board"), FULL, options=Options(engine=name))
        board.do(press("foot", 1.0, 0.0))
        found = [board.run(0.3)]
        board.fail("dry", "burst")
        found.append(board.run(0.3))
        board.mend("dry", "burst")
        found.append(board.run(0.3))
        return found

    for plain, compiled in zip(played("plain"), played("compiled"), strict=True):
        assert list(plain.times) == list(compiled.times)
        assert np.array_equal(np.array(plain.pressures), np.array(compiled.pressures))


def test_water_in_a_reservoir_keeps_its_pressure_when_another_failure_comes():
    """What the water takes is taken once, also when a later failure puts further elements into the circuit."""
    board = Session(example("truck-6x4"), FULL)
    board.fail("pri", "full-of-water")
    full = board.run(0.1).last("pri")
    board.fail("wet", "leaks")
    assert board.run(0.05).last("pri") == pytest.approx(full, abs=2e3)


def test_a_failure_put_in_is_that_of_a_variant_and_can_be_taken_out():
    """A burst reservoir empties as in a run that has it from the start; mended, it keeps what it has and fills again."""
    circuit = example("truck-6x4")
    variant, = simulate_many(circuit, FULL, [Variant("", (("pri", "burst"),))], 0.5)
    board = Session(circuit, FULL)
    board.fail("pri", "burst")
    assert board.run(0.5).last("pri") == pytest.approx(variant.last("pri"), abs=50.0)
    board.run(20.0)
    empty, secondary = board.pressure("pri"), board.pressure("sec")
    assert empty < gauge(5) and secondary > gauge(90)
    board.mend("pri", "burst")
    board.do(start_engine(0.0))
    board.run(120.0)
    assert board.pressure("pri") > gauge(60)
    with pytest.raises(NoSuchPlace, match="no failure"):
        board.mend("pri", "burst")


def test_two_failures_at_once_and_a_hole_by_hand():
    board = Session(example("truck-6x4"), FULL)
    board.run(0.1)
    board.fail("pri", "burst")
    board.do(leak("sec", 0.004, 0.0))
    board.run(30.0)
    assert board.pressure("pri") < gauge(5) and board.pressure("sec") < gauge(30)


def test_knobs_and_cocks_by_hand():
    """The park knob pulled and pushed, a drain opened and shut: what a hand undoes comes back."""
    circuit = example("truck-6x4")
    board = Session(circuit, FULL)
    held = board.pressure("d1-left.spring")
    board.do(pull("park", 0.0))
    board.run(3.0)
    assert held > gauge(60) and board.pressure("d1-left.spring") < gauge(5)
    board.do(push("park", 0.0))
    board.run(4.0)
    assert board.pressure("d1-left.spring") > gauge(60)
    drain = next(d.name for d in circuit.devices if d.kind.name == "drain")
    tank = next(t.name for t in circuit.reservoirs if circuit.store(t) in
                {circuit.space[drain, p.number] for p in circuit.by_name[drain].kind.ports})
    board.do(open_up(drain, 0.0))
    board.run(5.0)
    low = board.pressure(tank)
    board.do(shut(drain, 0.0))
    board.run(5.0)
    assert low < gauge(85) and board.pressure(tank) > 0.8 * low


def test_air_is_accounted_for_in_every_frame():
    board = Session(example("truck-6x4"), FULL, engine=Engine(True))
    board.do(press("foot", 1.0, 0.0), release("foot", 0.4))
    for _ in range(12):
        balance = board.run(0.1).balance
        assert abs(balance.drift) < 1e-12


def test_what_cannot_be_done_is_said():
    board = Session(example("truck-6x4"), FULL)
    with pytest.raises(NoSuchPlace):
        board.do(press("no-such-pedal", 1.0, 0.0))
    with pytest.raises(NoSuchPlace):
        board.fail("pri", "evaporates")
    with pytest.raises(NoSuchPlace):
        board.state("park", "colour")
    with pytest.raises(ValueError, match="cannot run for"):
        board.run(-1.0)
    assert board.run(0.1).complete
