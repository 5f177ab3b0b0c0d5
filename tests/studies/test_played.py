"""Trials in which something fails, is mended or turned: a session plays them, and refuses what cannot be done."""

import pytest

from circuit.pipeline import load_source
from circuit.sim import Engine, Options, Script, Session, Variant, press, simulate, simulate_many, uncouple
from circuit.sim.script import couple, set_engine
from circuit.source import Source
from circuit.studies.trials import run_trial
from tests.designs import EXAMPLES, example_text
from tests.sim.designs import example, gauge

BOARD = example_text("teaching-board")


def tried(*rows):
    text = BOARD + "\ntrial own {\n" + "\n".join(f"    {row}" for row in rows) + "\n}\n"
    circuit = load_source(Source(str(EXAMPLES / "teaching-board" / "design.air"), text))
    return circuit, run_trial(circuit, circuit.trials[-1])


def test_a_failure_in_a_trial_is_that_of_a_variant():
    circuit, run = tried("fail dry: how burst, size 50 %, at 0 s", "expect dry: pressure at most 9 bar, until 2 s")
    variant, = simulate_many(circuit, Script(), [Variant("", (("dry", "burst"),), sizes={("dry", "burst"): 0.5})], 2.0,
                             options=Options(exponent=1.2))
    assert run.trace is not None and run.trace.pressure("dry", 2.0) == pytest.approx(variant.pressure("dry", 2.0), abs=60.0)


def test_what_is_mended_keeps_its_air_and_a_line_is_named_by_its_ends():
    _, run = tried("fail dry -> foot.1: how burst, at 0.5 s", "mend dry -> foot.1: how burst, at 1 s",
                   "expect dry: pressure at least 0.5 bar, until 3 s")
    assert run.is_met and run.trace.pressure("dry", 3.0) > run.trace.pressure("dry", 1.0) - 1e3
    assert run.trace.pressure("dry", 0.5) > run.trace.pressure("dry", 1.0) + 1e4


def test_a_screw_is_turned_and_the_engine_runs_at_a_share():
    _, run = tried("start reservoirs: pressure 8 bar", "set engine: state 50 %, at 0 s",
                   "turn gov: setting cut-out, to 7.9 bar, at 1 s", "expect gov: state unloading, until 2 s")
    assert run.trace.state("gov", "unloading", 0.5) == 0.0 and run.trace.state("gov", "unloading", 2.0) == 1.0
    scripts = [Script((set_engine(share, 0.0),), pressures={"reservoirs": gauge(60)}) for share in (0.5, 1.0)]
    half, full = (simulate(example("teaching-board"), script, 20.0) for script in scripts)
    gained = [trace.last("wet") - trace.pressure("wet", 0.0) for trace in (half, full)]
    assert gained[1] == pytest.approx(2 * gained[0], rel=0.1) and gained[0] > 1e4


@pytest.mark.parametrize("row, says", [
    ("fail dry: how melts, at 1 s", "cannot fail by `melts`"),
    ("fail dry: how burst, size 3 bar, at 1 s", "takes its size as a share"),
    ("turn gov: setting cut-out, to 50 %, at 1 s", "needs a pressure"),
    ("turn gov: setting colour, to 8 bar, at 1 s", "has no `colour` that can be changed"),
    ("start heat: state warm", "`passes`"),
])
def test_what_cannot_be_done_is_said(row, says):
    _, run = tried(row, "press foot: to 100 %, at 2 s")
    assert run.trace is None and says in run.why


def test_heat_that_passes_makes_another_run():
    rows = ("press foot: to 100 %, at 0 s", "expect dry: pressure at least 1 bar, until 1 s")
    found = [tried(f"start heat: state {word}", *rows)[1] for word in ("passes", "kept")]
    assert abs(found[0].trace.last("dry") - found[1].trace.last("dry")) > 100.0


def test_what_was_uncoupled_can_be_coupled_again():
    """The supply line of the trailer fills again through the heads."""
    circuit = example("combination-semi")
    head = circuit.couplings[0].ends[0]
    board = Session(circuit)
    board.do(uncouple(head, 0.0))
    low = board.run(3.0).last(circuit.couplings[0].ends[1])
    board.do(couple(head, 0.0))
    assert low < gauge(5) < gauge(40) < board.run(6.0).last(circuit.couplings[0].ends[1])


def test_an_engine_that_is_off_makes_nothing():
    trace = simulate(example("teaching-board"), Script((press("foot", 0.0, 0.0),)), 1.0, engine=Engine(False))
    assert trace.balance.made == 0.0
