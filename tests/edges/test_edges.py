"""Each decidable clause at its edge: the breaking design breaks it, the meeting one meets it, and no sentence says that a figure
is short of itself."""

import pytest

from circuit.clauses import clause
from circuit.judging.rule import Result
from tests.designs import loaded
from tests.edges.outcome import drawn, played
from tests.edges.pairs import Edge, decidable, edges, figures, reasons, written

EVERY = tuple(edges())


def named(edge: Edge) -> str:
    return f"{edge.clause.key}{' ' if edge.by else ''}{edge.by}"


@pytest.mark.parametrize("edge", [pytest.param(each, marks=pytest.mark.slow if each.played else (), id=named(each))
                                  for each in EVERY])
def test_a_clause_turns_between_two_designs(edge: Edge):
    ask = played if edge.played else drawn
    breaking, meeting = loaded(edge.breaks), loaded(edge.meets)
    assert breaking.is_asked(edge.clause) and meeting.is_asked(edge.clause)
    broken, kept = ask(breaking, edge.clause), ask(meeting, edge.clause)
    assert broken.result is Result.NOT_MET, broken
    assert kept.result.is_kept, kept
    if any(broken.figures):
        found, limit, margin = broken.figures
        assert found != limit.removeprefix("at least ").removeprefix("at most ") and set(margin) & set("123456789"), broken
        assert not kept.figures[2].endswith(("short", "too much"))
    assert broken != kept._replace(result=broken.result), "nothing printed tells them apart"


def test_every_decidable_clause_has_a_pair_or_a_reason():
    paired, excused = {row["clause"] for row in written()}, reasons()
    keys = {one.key for one in decidable()}
    assert keys - paired - set(excused) == set(), "neither a pair nor a reason"
    assert (paired | set(excused)) <= keys, "a pair or a reason of no such clause"
    assert not paired & set(excused), "a pair and a reason why there is none"
    assert all(len(why.split()) > 4 for why in excused.values())


def test_a_figure_is_tried_in_two_units():
    for row in written():
        if "row" in row:
            assert len(figures(clause(row["clause"]), row)) == 2, row["clause"]


def test_most_clauses_have_a_pair():
    assert len({row["clause"] for row in written()}) > 4 * len(reasons())
