"""Questions answered by runs of their own: each with a design that keeps it and one that is changed so that it does
not."""

import pytest

from circuit.clauses import clause
from circuit.judging.rule import Result
from circuit.questions import find
from circuit.questions.braking_by_degrees_with_a_leak import GROWS, Course
from circuit.studies.effort import effort
from circuit.units import ATMOSPHERE
from tests.designs import example_text, loaded, patched
from tests.studies.examples import PSI, example

BLOCKED = ["- hose spring-release.2 -> d1-left.spring", "+ check-valve trap",
           "+ hose spring-release.2 -> trap.1: bore 3/8 in, length 1 m, ends moving", "+ fit trap.2 -> d1-left.spring"]
"""A check valve that lets air to a spring, and none back."""


def told(circuit, key):
    """What the question of a clause that a simulation answers says of a circuit."""
    one = clause(key)
    (question,) = [found for name in one.questions if (found := find(name))]
    return list(question.answer(circuit, one))


def changed(name, *patch):
    text = example_text(name)
    return loaded(patched(text[: text.find("\ntrial ")] + "\n" if "\ntrial " in text else text, list(patch)))


CASES = [
    ("us-federal/S5.3.5", "converter-dolly", [
        "- tube control-tee -> control-cock.1", "+ relay-valve repeat: opens-at 0.4 bar",
        "+ tube tank -> repeat.1: size 1/2 in, length 1 m", "+ tube control-tee -> repeat.4: size 3/8 in, length 0.5 m",
        "+ tube repeat.2 -> control-cock.1: size 1/2 in, length 1.5 m"]),
    ("us-federal/S5.6.3.3", "truck-6x4", BLOCKED),
    ("us-federal/S5.6.5", "truck-6x4", BLOCKED),
    ("us-federal/S5.6.6", "truck-6x4", BLOCKED),
    ("us-federal/5.3-spring-brakes", "truck-6x4", [
        "- park-valve park", "+ park-valve park: pops-out-at 4 bar"]),
    ("us-federal/393.43(d)", "semitrailer-tandem", [
        "- hose spring-block -> front-left.spring", "+ check-valve trap",
        "+ hose spring-block -> trap.1: bore 3/8 in, length 1 m, ends moving", "+ fit trap.2 -> front-left.spring"]),
    ("un-r13/5.2.2.12 (supply line)", "semitrailer-europe", [
        "- trailer-emergency-relay-valve emergency",
        "+ trailer-emergency-relay-valve emergency: applies-below 1.9 bar, deliveries 2"]),
    ("un-r13/Annex 8 2.8", "semitrailer-europe", [
        "- hose spring-release.2 -> third-left.spring", "+ check-valve trap",
        "+ hose spring-release.2 -> trap.1: bore 11 mm, length 1.8 m, ends moving",
        "+ fit trap.2 -> third-left.spring"]),
]


@pytest.mark.parametrize("key, name, patch", CASES, ids=[case[0] for case in CASES])
def test_met_as_drawn_and_not_met_when_spoilt(key, name, patch):
    (kept,) = told(example(name), key)
    (missed,) = told(changed(name, *patch), key)
    assert kept.result is Result.MET and missed.result is Result.NOT_MET
    for each in (kept, missed):
        if each.figure is not None:
            assert (each.figure.margin >= 0) is (each.result is Result.MET)


def test_a_trailer_parks_again_from_a_line_just_above_seventy():
    for key in ("us-federal/S5.6.5", "us-federal/S5.6.6"):
        assert [each.result for each in told(example("semitrailer-tandem"), key)] == [Result.MET]


def test_two_circuits_brake_by_degrees_with_a_leak_and_one_does_not():
    (truck,) = told(example("truck-6x4"), "us-federal/S5.7.2")
    assert truck.result is Result.MET and truck.figure.limit == GROWS and truck.figure.margin > 0
    (board,) = told(example("teaching-board"), "us-federal/S5.7.2")
    assert board.result is Result.NOT_MET and "dry" in board.says and board.says.endswith("nothing brakes at the end")
    assert "at least 1.1 times the push" in truck.says and "our choice" in truck.says and "each held 2 s" in truck.says


def test_where_only_our_choice_would_decide_nothing_is_decided():
    (europe,) = told(example("truck-europe"), "us-federal/S5.7.2")
    assert europe.result is Result.UNDECIDED and europe.figure is None
    assert "held to at least 1.1 times the push from step to step" in europe.says and "our choice" in europe.says
    (semi,) = told(example("combination-semi"), "us-federal/S5.7.2")
    assert semi.result is Result.NOT_MET and semi.says.endswith("let go they push as much as in the first step")


@pytest.mark.parametrize("pushes, peaks, result", [
    ((0.2, 0.4, 0.6, 0.0), (0.2, 0.4, 0.6), Result.MET),
    ((0.2, 0.4, 0.43, 0.0), (0.2, 0.4, 0.43), Result.UNDECIDED),  # a little more: 1.075 times
    ((0.2, 0.4, 0.39, 0.0), (0.2, 0.4, 0.45), Result.UNDECIDED),  # more at first, then it leaks away
    ((0.2, 0.4, 0.39, 0.0), (0.2, 0.4, 0.40), Result.NOT_MET),
    ((0.04, 0.1, 0.19, 0.0), (0.04, 0.1, 0.19), Result.UNDECIDED),  # less than a fifth of the push
    ((0.2, 0.1, 0.0, 0.0), (0.3, 0.25, 0.2), Result.NOT_MET),
    ((0.2, 0.4, 0.6, 0.19), (0.2, 0.4, 0.6), Result.UNDECIDED),
    ((0.2, 0.4, 0.6, 0.2), (0.2, 0.4, 0.6), Result.NOT_MET),
    ((0.0, 0.4, 0.6, 0.0), (0.0, 0.4, 0.6), Result.UNDECIDED),  # nothing at 30 psi, which is our choice
])
def test_a_course_is_judged_by_our_choice_only_where_it_is_clearly_met(pushes, peaks, result):
    assert Course(None, pushes, peaks).result is result


def test_springs_wait_for_the_service_circuits_where_those_are_filled_first():
    text = example_text("truck-europe")
    row = next(row for row in text.split("\n") if row.startswith("four-circuit-protection-valve protection"))
    bare = row.replace(", order service-first", "").replace(", order together", "")
    results = []
    for order in ("together", "service-first"):
        circuit = loaded(text.replace(row, f"{bare}, order {order}"))
        results += [each.result for each in told(circuit, "un-r13/Annex 8 2.3.3")]
    assert results == [Result.NOT_MET, Result.MET]


def test_nothing_is_said_where_there_is_nothing_to_say_it_of():
    assert not told(example("teaching-board"), "us-federal/S5.6.5")
    assert not told(example("semitrailer-tandem"), "us-federal/S5.3.5")


def test_the_whole_push_is_pressure_times_area_less_the_clearance():
    from circuit.sim import simulate
    from circuit.studies.hands import apply, standing

    circuit = example("teaching-board")
    trace = simulate(circuit, standing(circuit, ATMOSPHERE + 100 * PSI, *apply(circuit, 0.0)), 4.0)
    pressures = {d.name: trace.last(circuit.service_space(d)) - ATMOSPHERE for d in circuit.devices
                 if "area" in d.settings}
    expected = sum((p - 0.7e5) * circuit.by_name[name].settings["area"] for name, p in pressures.items())
    assert effort(circuit, trace, trace.end) == pytest.approx(expected) and effort(circuit, trace, 0.0) == 0.0
