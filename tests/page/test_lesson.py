"""The lesson of the teaching board, played on its page: what the text says is what is seen."""

import re

import pytest

from tests.designs import EXAMPLES
from tests.page.browser import play

LESSON = (EXAMPLES / "teaching-board" / "LESSON.md").read_text(encoding="utf-8")


def said(pattern):
    """The figures of the lesson where it says something."""
    found = re.search(pattern, re.sub(r"\s+", " ", LESSON))
    assert found, pattern
    return [float(each) for each in found.groups()]


def when(board, words):
    return board.evaluate("(words) => board.deeds.find((deed) => deed.says === words)?.at ?? null", words)


def inside(board):
    return board.text_content("#section")


def bar(board, part):
    return board.evaluate("(part) => liveAt(data.spaces[data.parts[part].ports[0][2]][0]) / 100", part)


def test_charging_goes_on_to_cut_out_and_to_cut_in(board):
    board.evaluate("""async () => { await playScene(board.given.prepared.find((each) => each.key === 'charge')); halt();
      while (script && board.row[0] < 900) await goOn(untilDue(0.5)); }""")
    after, = said(r"After about (\d+) s the sensed air")
    assert when(board, "gov cuts out") == pytest.approx(after, abs=1.0)
    pedals = board.evaluate("board.deeds.filter((deed) => deed.says === 'pedal down').length")
    assert "at the third" in LESSON and pedals == 3 and when(board, "gov cuts in") is not None


def test_an_application_inside_the_relay_valve(board):
    board.evaluate("choosePart('relay')")
    board.evaluate("putTo(board.given.hands[0], 0.5)")
    board.wait_for_function("() => !sending && board.deeds.length === 1")
    play(board, 0.1, 5)
    assert "so 1 feeds 2" in inside(board)
    held, = said(r"a quarter of a second 2 has ([\d.]+) bar")
    play(board, 0.15, 5)
    assert f"all seats are shut, 2 is held at {held} bar" in inside(board)
    board.evaluate("putTo(board.given.hands[0], 0)")
    board.wait_for_function("() => !sending && board.deeds.length === 2")
    play(board, 0.1, 5)
    assert "so 2 vents to 3" in inside(board)
    assert "air is heard at foot, front-release, relay" in board.text_content("#notices")


def test_a_drain_is_opened(board):
    board.evaluate("workPart('dry-drain')")
    board.wait_for_function("() => board.deeds.length === 1")
    full, soon, late = said(r"from ([\d.]+) to ([\d.]+) bar in 5 s and to ([\d.]+) bar in 20 s")
    assert bar(board, "dry") == pytest.approx(full, abs=0.15)
    play(board, 5.0, 5)
    assert bar(board, "dry") == pytest.approx(soon, abs=0.06) and "dry-drain" in board.text_content("#notices")
    play(board, 15.0, 5)
    assert bar(board, "dry") == pytest.approx(late, abs=0.06)
    play(board, 10.0, 5)
    assert "warning WARNS" in board.text_content("#notices")


def test_the_safety_valve_lifts_when_the_governor_is_stuck(board):
    """The engine is on, as the story says, until it lifts; mended, the pump is unloaded."""
    board.evaluate("async () => { await playFailure(failureOf('gov', 'stuck-loaded')); halt(); }")
    assert board.evaluate("board.pace") == 20 and board.evaluate("board.part('pump').states.turns") == 1
    play(board, 25.0, 25)
    assert "relief" not in board.text_content("#notices")
    play(board, 20.0, 20)
    lifts, = said(r"`wet` has ([\d.]+) bar: the safety valve lifts")
    assert bar(board, "wet") == pytest.approx(lifts, abs=0.06) and "air is heard at relief" in board.text_content("#notices")
    board.evaluate("fail(failureOf('gov', 'stuck-loaded'), 0)")
    board.wait_for_function("() => board.condition.failures.length === 0")
    play(board, 0.5, 5)
    assert board.evaluate("board.part('gov').states.unloading") == 1
