"""Figures over the range of what is not known: how vehicles are drawn, what they come to, what decides it."""

from dataclasses import replace

import pytest

from circuit.model.draws import Draws
from circuit.sim import Options, Variant, simulate_many
from circuit.sim.drawn import simulate_drawn
from circuit.studies import application
from circuit.studies.respond import respond
from circuit.studies.spread import causes_of, in_words, plan, sampling_error, spread
from tests.studies.examples import example, loaded

QUICK = Options(exponent=1.2)
TO, UNTIL = 101325 + 60 * 6894.757, 1.5
DESIGN = """
vehicle bench: class truck
rules us-federal
axle front: position 1
reservoir tank: volume 40 L, rated 10 bar, role service
governor gov: cut-in 100 psi, cut-out 120 psi
foot-valve foot: SUPPLY
tube tank -> foot.1: size 1/2 in, length 2 m
tube foot.2 -> can: size 3/8 in, length 4 m
chamber can: type 20, stroke 2.25 in, axle front, side left STROKE
circuit service: reservoirs tank, axles front
"""


def bench(conductance: str = "", stroke: str = ""):
    text = DESIGN.replace("SUPPLY", f"deliveries 1{conductance}").replace(" STROKE", stroke)
    return replace(loaded(text), draws=Draws(runs=200))


@pytest.fixture(scope="module")
def board():
    return bench()


def played(circuit, causes, shares):
    """Seconds to 60 psi in the chamber, for each row of shares."""
    how = application.procedure_of(circuit, {"start_psi": 100, "to_psi": 60})
    script = application._script(circuit, how, (), None)
    return script, [run.first_time("can", TO) for run in
                    simulate_drawn(circuit, script, causes, shares, UNTIL, options=QUICK, watch=["can"])]


def _anew(circuit, script, variant):
    return simulate_many(circuit, script, [variant], UNTIL, options=QUICK)[0].first_time("can", TO)


def test_each_value_is_taken_evenly_along_its_range_and_the_same_again():
    rows = plan(Draws(50, 3), 70)
    for column in zip(*rows):
        assert sorted(int(share * 50) for share in column) == list(range(50))
    assert rows == plan(Draws(50, 3), 70) and rows != plan(Draws(50, 4), 70)
    assert [row[:5] for row in rows] == plan(Draws(50, 3), 5)
    assert plan(Draws(1), 3) == [[0.5, 0.5, 0.5]]


def test_in_the_middle_of_every_range_it_is_the_run_as_assumed(board):
    causes = causes_of(board, QUICK)
    script, (middle,) = played(board, causes, [[0.5] * len(causes)])
    assert middle == pytest.approx(_anew(board, script, Variant()), rel=1e-4)


@pytest.mark.parametrize("share", [0.01, 0.2, 0.9])
def test_a_value_put_into_the_rows_is_that_value_read_anew(board, share):
    causes = [cause for cause in causes_of(board, QUICK) if cause.parts]
    assert {setting for cause in causes for _, setting in cause.parts} >= {"conductance", "working-stroke", "lap"}
    for cause in causes:
        script, (found,) = played(board, [cause], [[share]])
        anew = Variant(settings=dict.fromkeys(cause.parts, cause.range.at(share)))
        assert found == pytest.approx(_anew(board, script, anew), rel=5e-3)


def test_what_is_said_to_decide_is_what_moves_it_alone(board):
    causes = causes_of(board, QUICK)
    found = respond(board).applied[0].time
    assert found.causes[0].what == "working-stroke of can" and sum(each.share for each in found.causes) <= 1.0
    for weight in found.causes:
        number = next(number for number, cause in enumerate(causes) if in_words(cause) == weight.what)
        ends = [[0.5] * len(causes) for _ in range(2)]
        ends[0][number], ends[1][number] = 0.05, 0.95
        low, high = played(board, causes, ends)[1]
        assert weight.swing == pytest.approx(high - low, rel=0.1, abs=2e-3), weight


def test_other_vehicles_of_the_same_ranges_lie_between_the_ends(board):
    found = respond(board).applied[0].time
    others = respond(replace(board, draws=Draws(400, 7))).applied[0].time.samples
    inside = sum(found.quick <= each <= found.slow for each in others) / len(others)
    assert 0.87 <= inside <= 0.93


def test_a_figure_or_a_narrower_range_in_the_design_scatters_less(board):
    wide = respond(board).applied[0].time
    narrow = respond(bench(stroke=", working-stroke 1.4 to 1.6 in")).applied[0].time
    exact = respond(bench(stroke=", working-stroke 1.5 in")).applied[0].time
    assert wide.slow - wide.quick > 1.3 * (narrow.slow - narrow.quick)
    assert not any("stroke" in cause.what for cause in exact.causes)
    assert narrow.value == pytest.approx(exact.value, rel=0.02)


def test_the_share_is_that_of_the_runs():
    found = spread([0.4, 0.5, None, 0.45, 0.3], 0.42, (), [()] * 5)
    assert found.within(0.45) == 0.6 and found.value == 0.45 and found.typical == 0.42 and found.runs == 5
    assert spread([None, None, 0.1], 0.1, (), [()] * 3).value is None
    assert sampling_error(0.5, 100) == pytest.approx(0.05, rel=0.02)


def test_an_option_that_says_a_condition_leaves_it_out(board):
    named = {cause.what for cause in causes_of(board, Options(exponent=1.0, temperature=253.15))}
    assert {"exponent", "temperature"}.isdisjoint(named) and "lines" in named


def test_both_brakes_of_an_axle_are_off_alike():
    found = {timed.name: timed.time.samples for timed in respond(example("truck-6x4")).applied}
    assert found["front-left"] == found["front-right"]
