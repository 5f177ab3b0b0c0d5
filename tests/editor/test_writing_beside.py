"""What an editor is told and offered: places, problems, completion, hover, mends, the shape of the text."""

from pathlib import Path

import pytest

from circuit.editor import completing, hovering, outlining, problems, remedies
from circuit.editor.desk import Desk
from circuit.editor.naming import applied
from circuit.editor.spots import Range, column_of, range_of, units
from circuit.source import Source, Span
from tests.designs import EXAMPLES, example_text
from tests.editor.desks import TRUCK, at_cursor, desk_with

BACKWARDS = example_text("truck-6x4").replace("pri-check.1:", "pri-check.X:").replace("pri-check.2", "pri-check.1").replace(
    "pri-check.X:", "pri-check.2:")


def test_columns_are_counted_as_editors_do():
    row = "tube \U0001F69A -> b"
    assert column_of(row, 8) == 8 and units(row) == len(row) + 1
    assert range_of(Span(Source("a", row), 1, 8, 2)) == Range((0, 8), (0, 10))
    assert range_of(Span(Source("a", ""), 1, 1)) == Range((0, 0), (0, 0))


def test_problems_have_code_place_remedy_and_related_rows():
    desk = desk_with(TRUCK, BACKWARDS)
    (one,) = [each for each in problems.problems(desk, TRUCK) if each.code == "part-backwards"]
    assert one.severity == "error" and "mend: exchange the lines" in one.says and "so: " in one.says
    assert BACKWARDS.split("\n")[one.at.start[0]].startswith("tube") and one.path == TRUCK
    desk.put(TRUCK, BACKWARDS.replace("relay-valve rear-relay", "rely-valve rear-relay"))
    (mistake,) = problems.of_text(desk, TRUCK)
    assert mistake.code == problems.MISTAKE and "did you mean relay-valve?" in mistake.says


def test_a_verdict_is_kept_while_the_circuit_is_the_same():
    desk = desk_with(TRUCK, example_text("truck-6x4"))
    first = desk.verdict(TRUCK)
    desk.put(TRUCK, example_text("truck-6x4").replace("# ", "#  ", 1))
    assert desk.verdict(TRUCK) is first
    desk.put(TRUCK, "\n" + example_text("truck-6x4"))
    assert desk.verdict(TRUCK) is not first, "its places are others"
    desk.put(TRUCK, example_text("truck-6x4").replace("volume 50 L", "volume 51 L", 1))
    assert desk.verdict(TRUCK) is not first


def test_a_warm_desk_says_what_a_cold_check_says():
    from circuit import pipeline

    for name in ("teaching-board", "semitrailer-single"):
        path = str(EXAMPLES / name / "design.air")
        warm = Desk(gated=False)
        warm.put(path, example_text(name).replace("rules ", "rule "))
        warm.verdict(path)
        warm.put(path, example_text(name))
        whole = pipeline.check(path)
        assert [(j.rule.name, j.answer.says) for j in warm.verdict(path).judgements] == [
            (j.rule.name, j.answer.says) for j in whole.judgements]
        assert len(warm.verdict(path).vehicles) == len(whole.vehicles)


def test_a_rig_sees_the_open_text_of_its_vehicle():
    rig, tractor = (str(EXAMPLES / name / "design.air") for name in ("combination-semi", "tractor-6x4"))
    desk = desk_with(tractor, example_text("tractor-6x4").replace("coupling-head supply-head", "coupling-head other-head"))
    assert any("supply-head" in each.says for each in desk.known(rig).mistakes)
    desk.take(tractor)
    assert desk.known(rig).mistakes == ()


OFFERED = [
    ("relay-valve rear-relay: opens-at 0.2 bar", "re|", {"relay-valve", "reservoir"}),
    ("relay-valve rear-relay: opens-at 0.2 bar", "relay-valve rear-relay: |", {"opens-at", "deliveries", "conductance"}),
    ("relay-valve rear-relay: opens-at 0.2 bar", "relay-valve rear-relay: opens-at 0.2 |", {"bar", "psi"}),
    ("reservoir pri: volume 50 L, rated 10.3 bar, role service", "reservoir pri: volume 50 L, role |", {"service", "supply"}),
    ("tube pri -> rear-relay.1", "tube pri -> |", {"rear-relay.1"}),
    ("rules us-federal", "rules |", {"us-federal", "un-r13"}),
]


@pytest.mark.parametrize("old,new,wanted", OFFERED, ids=[new for _, new, _ in OFFERED])
def test_what_is_offered(old: str, new: str, wanted: set[str]):
    found = [each.text for each in completing.offers(*at_cursor("truck-6x4", old, new))]
    assert wanted <= set(found[:6]), found[:8]


def test_nothing_is_offered_in_remarks_and_texts():
    assert completing.offers(*at_cursor("truck-6x4", "rules us-federal", "# rules |")) == []
    assert completing.offers(*at_cursor("truck-6x4", "rules us-federal", 'vehicle x: title "ru|')) == []


def test_hover_tells_kind_port_value_source_and_pressure():
    desk, path, line, column = at_cursor("truck-6x4", "relay-valve rear-relay", "relay-valve rear-|relay")
    told = hovering.hover(desk, path, line - 1, column - 1)
    assert "Relay valve" in told and "predicted at rest" in told and "(assumed: " in told and "opens-at 0.2 bar" in told
    desk, path, line, column = at_cursor("truck-6x4", "relay-valve rear-relay", "rel|ay-valve rear-relay")
    assert "airwright explain relay-valve" in hovering.hover(desk, path, line - 1, column - 1)
    desk, path, line, column = at_cursor("truck-6x4", "reservoir pri: volume 50", "reservoir pri: vol|ume 50")
    assert "**volume** of reservoir" in hovering.hover(desk, path, line - 1, column - 1)
    assert hovering.hover(desk, path, 9, 0) == hovering.hover(desk, path, 9999, 3) == ""


def test_a_slip_is_written_right_and_a_mend_is_carried_out():
    desk = desk_with(TRUCK, BACKWARDS.replace("relay-valve rear-relay", "rely-valve rear-relay"))
    row = next(n for n, text in enumerate(desk.source(TRUCK).rows) if text.startswith("rely-valve"))
    (one,) = [each for each in remedies.actions(desk, TRUCK, row, row) if each.sure]
    assert one.title == "write relay-valve" and applied(desk.source(TRUCK), list(one.edits)) == BACKWARDS
    desk.put(TRUCK, BACKWARDS)
    at = next(each.at.start[0] for each in problems.problems(desk, TRUCK) if each.code == "part-backwards")
    mend, waive = remedies.actions(desk, TRUCK, at, at)
    assert mend.sure and "exchange" in mend.title and waive.title.startswith("accept part-backwards at pri-check")
    (edit,) = mend.edits
    rows = BACKWARDS.split("\n")
    first, last = edit.at.start[0], edit.at.end[0]
    desk.put(TRUCK, "\n".join((*rows[:first], *edit.new.split("\n"), *rows[last + 1:])))
    assert not [each for each in problems.problems(desk, TRUCK) if each.code == "part-backwards"]


def test_a_waiver_without_a_reason_is_refused_until_there_is_one():
    desk = desk_with(TRUCK, BACKWARDS)
    at = next(each.at.start[0] for each in problems.problems(desk, TRUCK) if each.code == "part-backwards")
    (edit,) = remedies.actions(desk, TRUCK, at, at)[-1].edits
    desk.put(TRUCK, BACKWARDS.rstrip() + edit.new + "\n")
    assert any("`because` says nothing" in each.says for each in problems.of_text(desk, TRUCK))
    desk.put(TRUCK, BACKWARDS.rstrip() + edit.new.replace('""', '"a test"') + "\n")
    assert not [each for each in problems.problems(desk, TRUCK) if each.code == "part-backwards"]


def test_the_shape_of_a_design():
    desk = desk_with(TRUCK, example_text("truck-6x4"))
    entries = outlining.outline(desk, TRUCK)
    assert {"pri", "rear-relay", "full-application"} <= {each.name for each in entries}
    trial = next(each for each in entries if each.sort == "trial")
    assert trial.inside and desk.source(TRUCK).row(trial.at.end[0] + 1) == "}"
    folds = list(outlining.folds(desk, TRUCK))
    assert (trial.at.start[0], trial.at.end[0]) in folds and all(first < last for first, last in folds)
    hints = list(outlining.hints(desk, TRUCK, 0, 40))
    assert hints and all("assumed: " in each.text for each in hints)


@pytest.mark.parametrize("name", ["truck-6x4", "semitrailer-europe", "tyre-inflation"])
def test_every_word_is_one_token_in_the_order_of_the_text(name: str):
    path = str(EXAMPLES / name / "design.air")
    desk = desk_with(path, example_text(name))
    tokens = outlining.tokens(desk, path)
    places = [(each.line, each.letter) for each in tokens]
    assert places == sorted(set(places))
    by_sort = {sort: {desk.source(path).row(t.line + 1)[t.letter:t.letter + t.length] for t in tokens if t.sort == sort}
               for sort in outlining.TOKENS}
    assert "reservoir" in by_sort["type"] and "vehicle" in by_sort["keyword"] and "volume" in by_sort["property"]
    assert not by_sort["variable"] & {"volume", "reservoir"} and "->" in by_sort["operator"]


def test_an_edit_is_the_least_run_of_rows():
    source = Source("a", "one\ntwo\nthree")
    for text in ("one\nTWO\nthree", "two\nthree", "one\ntwo", "one\ntwo\nmore\nthree", "one\ntwo\nthree\nfour",
                 "zero\none\ntwo\nthree"):
        (edit,) = remedies.changed("a", source, text)
        assert _done(source.text, edit) == text
    assert list(remedies.changed("a", source, source.text)) == []


def _done(text: str, edit) -> str:
    rows = text.split("\n")
    place = [sum(len(row) + 1 for row in rows[:line]) + letter for line, letter in edit.at]
    return text[:place[0]] + edit.new + text[place[1]:]


def test_files_of_the_project_are_found_and_none_outside():
    desk = Desk(gated=False)
    found = desk.beside(TRUCK)
    assert found[0] == TRUCK and str(EXAMPLES / "tractor-6x4" / "design.air") in found
    assert all(Path(each).is_relative_to(EXAMPLES.parent) for each in found)
