"""The board that plays by itself: a hand on the page does what the same hand does in Python."""

import numpy as np
import pytest

from circuit import pipeline
from circuit.sim import Session, press
from tests.designs import EXAMPLES
from tests.page.browser import opened


KPA = 0.1
"""What the page may differ from Python."""


@pytest.fixture
def live(running, files):
    found, trouble = opened(running, files / "truck-6x4.html", viewport={"width": 1440, "height": 900})
    found.wait_for_function("() => document.getElementById('schematic').dataset.showing === 'live'")
    yield found
    assert trouble == [] and found.evaluate("board.trouble") == ""
    found.close()


def session(name="truck-6x4"):
    return Session(pipeline.load(str(EXAMPLES / name / "design.air")))


def shown(found):
    """Gauge kPa of every space that the page shows, in the order of the circuit's nodes."""
    return np.array(found.evaluate("Array.from(board.row.slice(2, 2 + board.given.nodes), (p) => p / 1e3)"))


def steps(found, number, seconds):
    for _ in range(number):
        found.evaluate("(seconds) => goOn(seconds)", seconds)


def test_a_pedal_pressed_by_key_does_what_python_does(live):
    """Down to 60 % by the keys, in frames of a sixtieth second; compared at every 0.1 s."""
    pedal = live.locator("#hands .pedal input")
    pedal.focus()
    for _ in range(6):
        live.keyboard.press("PageUp")
    live.wait_for_function("() => inputNow('foot pedal') !== null && wished.size === 0 && !sending")
    share = live.evaluate("Number(document.querySelector('#hands .pedal input').value) / 100")
    assert share > 0.3
    board = session()
    board.do(press("foot", share, 0.0))
    for _ in range(12):
        steps(live, 6, 1 / 60)
        board.run(0.1)
        ours = np.array(board._running.row("pressure", len(shown(live)))) / 1e3
        assert np.abs(shown(live) - ours).max() < KPA
    assert live.evaluate("board.part('foot').states.pedal") == pytest.approx(share)
    assert live.evaluate("board.part('front-left').pressures['1']") > 200
    assert max(live.evaluate("board.part('foot').openings")) <= 1


def test_one_goes_back_and_on_from_there(live):
    """Back to the moment of the pedal, then on: the same pressures as the first time."""
    live.evaluate("putTo(board.given.hands[0], 1)")
    live.wait_for_function("() => board.deeds.length === 1")
    steps(live, 40, 0.02)
    first = shown(live)
    live.evaluate("show(5)")
    assert np.abs(shown(live) - first).max() > 50
    steps(live, 35, 0.02)
    assert live.evaluate("past.length") == 41
    assert np.abs(shown(live) - first).max() < KPA
