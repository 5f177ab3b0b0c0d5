"""Times that a clause rounds before it holds them to its limit: (EU) 2015/68 Annex III 1.3, to 0.1 s, five hundredths upwards."""

import pytest

from circuit.clauses import clause
from circuit.judging.rule import Result
from circuit.studies.pathway import Pathway
from circuit.studies.respond import Timed, respond
from circuit.studies.spread import spread
from circuit.studies.timing import _told
from tests.studies.examples import example

KEY = "un-r13/Annex 6 2.4"


def timed(seconds: float, step: float, slow: float | None = None) -> Timed:
    runs = [seconds, seconds, seconds if slow is None else slow]
    return Timed("rear-left.can", spread(runs, seconds, (), [()] * 3), 8e5, 0.6, clause(KEY), Pathway((), 0.0), step)


@pytest.mark.parametrize("seconds, counts, met", [
    (0.55, 0.6, True), (0.6, 0.6, True), (0.649, 0.6, True), (0.65, 0.7, False), (0.700001, 0.7, False), (0.549, 0.5, True)])
def test_five_hundredths_are_rounded_upwards(seconds: float, counts: float, met: bool):
    one = timed(seconds, 0.1)
    assert one.counted(seconds) == counts and one.is_met is met
    assert one.margin == pytest.approx(0.65 - seconds) and (one.margin > 1e-12) is met


def test_what_is_not_rounded_is_held_to_as_it_is():
    assert timed(0.649, 0.0).is_met is False and timed(0.6, 0.0).is_met is True
    assert timed(0.649, 0.0).margin == pytest.approx(-0.049)


def test_a_range_hangs_where_the_rounded_time_turns():
    assert timed(0.62, 0.1, slow=0.64).hangs is False and timed(0.62, 0.1, slow=0.66).hangs is True


def test_a_verdict_tells_the_time_and_what_it_counts_as():
    kept, missed = (_told(clause(KEY), timed(seconds, 0.1), 0.6, "comes on", ()) for seconds in (0.63, 0.67))
    assert (kept.result, missed.result) == (Result.MET, Result.NOT_MET)
    assert kept.says == "rear-left.can comes on: 0.63 s, which counts as 0.6 s"
    assert missed.says == "rear-left.can comes on too late: 0.67 s, which counts as 0.7 s"
    for each in (kept, missed):
        assert each.figure is not None and (each.figure.margin >= 0) is (each.result is Result.MET)


def test_respond_says_that_times_are_rounded():
    notes = respond(example("truck-europe")).notes
    assert any("rounds times to 0.1 s" in note for note in notes)
    assert not any("rounds" in note for note in respond(example("truck-6x4")).notes)
