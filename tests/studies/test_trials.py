"""Trials: what a design expects of itself comes true, and what does not is told."""

import pytest

from circuit.studies.trials import run_trials
from tests.designs import example_names, example_text, loaded, patched
from tests.studies.examples import example

TRIED = [name for name in example_names() if example(name).trials]


@pytest.mark.parametrize("name", TRIED)
def test_every_trial_of_every_example_is_met(name):
    runs = run_trials(example(name))
    assert runs
    for run in runs:
        assert run.trace is not None and run.trace.complete, run.why
        missed = [(o.place, o.kind, o.value, o.time) for o in run.outcomes if o.met is not True]
        assert not missed, f"{run.trial.name}: {missed}"


def tried(name, steps):
    text = example_text(name)
    head = text[: text.index("trial ")]
    return run_trials(loaded(f"{head}\ntrial mine {{\n{steps}\n}}\n"))[0]


def test_an_expectation_that_fails_says_by_how_much():
    run = tried("truck-6x4", "start reservoirs: pressure 100 psi\npress foot: to 100 %, at 0 s\n"
                "expect front-left: pressure at least 60 psi, within 0.2 s")
    outcome = run.outcomes[0]
    assert outcome.met is False and not run.is_met
    assert outcome.time > 0.2 and outcome.margin == pytest.approx(0.2 - outcome.time)


def test_until_holds_all_the_time_and_within_counts_from_the_action():
    run = tried("truck-6x4", "start reservoirs: pressure 100 psi\npress foot: to 50 %, at 3 s\n"
                "expect front-left: pressure at least 40 psi, within 1 s\n"
                "expect front-left: pressure at least 40 psi, until 8 s\n"
                "expect sec: pressure at most 101 psi, until 8 s\n"
                "release foot: at 9 s\nexpect front-left: pressure at least 40 psi, until 10 s")
    assert [outcome.met for outcome in run.outcomes] == [True, True, True, False]


def test_a_pedal_pressed_to_a_pressure_gives_it():
    run = tried("truck-6x4", "start reservoirs: pressure 110 psi\npress foot: to 40 psi, at 0 s\n"
                "expect d1-left.service: pressure at most 42 psi, until 5 s\n"
                "expect d1-left.service: pressure at least 33 psi, within 1 s")
    assert all(outcome.met for outcome in run.outcomes)


@pytest.mark.parametrize("step, expected, met", [
    ("pull park: at 1 s", "expect d1-left.spring: pressure at most 5 psi, within 3 s", True),
    ("burst pri-warning: at 0 s", "expect pri-warning: state on, within 60 s", True),
    ("leak sec: hole 8 mm, at 0 s", "expect sec: pressure at most 60 psi, within 20 s", True),
    ("set park: state pulled, at 1 s", "expect park: state pulled, within 1 s", True),
    ("press foot: to 30 %, at 0 s", "expect lamp: state on, within 0.2 s", True),
    ("release foot: at 0 s", "expect lamp: state on, within 0.2 s", False),
    ("open sec-drain: at 0 s", "expect sec: pressure at least 95 psi", False),
])
def test_every_word_of_a_trial_does_something(step, expected, met):
    run = tried("truck-6x4", f"start engine: state off\nstart reservoirs: pressure 100 psi\n{step}\n{expected}")
    assert run.trace is not None, run.why
    assert run.outcomes[0].met is met


def test_an_engine_that_runs_fills_the_reservoirs():
    run = tried("truck-6x4", "start engine: state running\nstart reservoirs: pressure 90 psi\n"
                "expect sec: pressure at least 100 psi, within 60 s")
    assert run.is_met


@pytest.mark.parametrize("steps, why", [
    ("press foot: to 100 %, at 0 s\nfeed sec: at 0 s", "needs a pressure"),
    ("leak sec: at 0 s", "needs the hole's diameter"),
    ("start park: state sideways", "says nothing of park"),
    ("press pri: to 50 %, at 0 s", "nothing that a hand or a foot moves"),
    ("start reservoirs: state full", "need a pressure"),
    ("start park: state pushed", "nothing is done or expected in it"),
])
def test_what_cannot_be_done_is_told_with_its_place(steps, why):
    run = tried("truck-6x4", steps)
    assert run.trace is None and why in run.why and run.span is not None and not run.is_met


def test_a_torn_line_empties_what_hangs_on_it():
    design = patched(example_text("truck-6x4"), [
        "- tube foot.22 -> front-release.1",
        "+ tube foot.22 -> front-release.1: size 3/8 in, length 3 m, name front-line"])
    text = design[: design.index("trial ")] + (
        "trial torn {\nstart reservoirs: pressure 100 psi\nburst front-line: at 0 s\npress foot: to 100 %, at 1 s\n"
        "expect front-left: pressure at most 20 psi, until 4 s\n"
        "expect d1-left.service: pressure at least 60 psi, within 0.6 s\n}\n")
    assert run_trials(loaded(text))[0].is_met


def hand_set(steps: str):  # type: ignore[no-untyped-def]
    """A trial of the old semi-trailer with a load control valve, set by hand, in its control line."""
    design = patched(example_text("semitrailer-old"), [
        "- tube control-head -> emergency.4",
        "+ load-control-valve load: empty-ratio 0.3, half-ratio 0.6",
        "+ tube control-head -> load.1: size 1/2 in, length 1 m",
        "+ tube load.2 -> emergency.4: size 1/2 in, length 8 m"])
    return run_trials(loaded(f"{design[: design.index('trial ')]}\ntrial mine {{\n{steps}\n}}\n"))[0]


@pytest.mark.parametrize(("position", "share"), [("empty", 0.3), ("half", 0.6), ("full", 1.0)])
def test_a_hand_sets_the_load_control_before_and_while_the_brakes_are_on(position: str, share: float):
    head = "start control-head: pressure 0 psi\n"
    low, high = 80 * share - 2, 80 * share + 3
    due = f"expect emergency.4: pressure at least {low:g} psi\nexpect emergency.4: pressure at most {high:g} psi"
    assert hand_set(f"{head}start load: state {position}\nfeed control-head: to 80 psi, at 0 s\n{due}").is_met
    later = hand_set(f"{head}feed control-head: to 80 psi, at 0 s\nexpect load: state full, within 1 s\n"
                     f"set load: state {position}, at 3 s\nexpect load: state {position}, within 0.1 s\n{due}")
    assert later.is_met, [outcome for outcome in later.outcomes if not outcome.met]


def test_a_position_that_there_is_not_is_told_with_those_that_there_are():
    run = hand_set("start load: state laden")
    assert run.trace is None and run.why == "`laden` says nothing of load: it has empty, half, full"
