"""Stored air counted by volumes: a bound that a run keeps, and where it does not decide, a run at the same store."""

import pytest

from circuit.judging.rule import Result
from circuit.pipeline import judged
from circuit.studies.reserve import reserve
from circuit.units import ATMOSPHERE
from circuit.verdict.judge import Verdict
from tests.designs import example_text, loaded

KEY = "us-federal/393.50(b)"


def verdict(litres: float, simulate: bool = False) -> Verdict:
    """The teaching board with a reservoir of so many litres behind a small one."""
    text = example_text("teaching-board").replace("volume 46 L", f"volume {litres} L").replace("volume 23 L", "volume 2 L")
    assert f"volume {litres} L" in text
    return judged(loaded(text), ("us-federal",), simulate)


def counted(of: Verdict):
    """What the plain check says of one full application."""
    return next(one for judgement in of.judgements for one in judgement.each() if one.clause.key == KEY)


@pytest.mark.parametrize("litres, how", [(46, "at least"), (11.5, "(played)"), (9.5, "(played)"), (4, "(played)")])
def test_a_plain_check_says_what_a_run_says(litres, how):
    plain = counted(verdict(litres))
    (run,) = (one for one in verdict(litres, simulate=True).predicted if one.clause.key == KEY)
    assert plain.result is run.result and how in plain.answer.says
    if how == "(played)":
        assert run.figure is not None and plain.answer.figure.found == pytest.approx(run.figure.found)


def test_both_outcomes_come_of_what_was_played():
    assert [counted(verdict(litres)).result for litres in (11.5, 4)] == [Result.MET, Result.NOT_MET]


@pytest.mark.parametrize("name", ["truck-6x4", "truck-europe", "city-bus", "lift-axle", "semitrailer-single"])
def test_what_is_said_to_be_left_at_least_is_left_in_a_run(name):
    circuit = loaded(example_text(name))
    left = {store.name: store.left for store in reserve(circuit).stores}
    said = [judgement.answer for judgement in judged(circuit).judgements if judgement.rule.name == "reserve-too-small"
            and judgement.answer.figure is not None and judgement.answer.figure.what == "left after one full application"]
    for answer in said:
        assert answer.figure.found - ATMOSPHERE <= left[answer.thing][1] - ATMOSPHERE
    assert said or name in ("truck-europe", "semitrailer-single")
