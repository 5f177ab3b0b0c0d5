"""The board that plays by itself: a hand on the page does what the same hand does in Python."""

import numpy as np
import pytest

from circuit import pipeline
from circuit.sim import Session, open_up, press, start_engine
from tests.designs import EXAMPLES
from tests.page import replay, seats
from tests.page.browser import board_of, hand, pill, play
from tests.page.test_page import text, verdict

KPA = 0.1
"""What the page may differ from Python."""


def session(name="truck-6x4"):
    return Session(pipeline.load(str(EXAMPLES / name / "design.air")))


def shown(found):
    """kPa of every space that the page shows, in the order of the circuit's nodes."""
    return np.array(found.evaluate("Array.from(board.row.slice(2, 2 + board.given.nodes), (p) => p / 1e3)"))


def ours(board, found):
    names = found.evaluate("board.given.nodes")
    return np.array(board._running.row("pressure", names)) / 1e3


def test_a_pedal_pressed_by_key_does_what_python_does(truck):
    """Down by the keys, in frames of a sixtieth second; compared at every 0.1 s."""
    pedal = truck.locator("#hands .pedal input")
    pedal.focus()
    for _ in range(6):
        truck.keyboard.press("PageUp")
    truck.wait_for_function("() => board.deeds.length > 0 && wished.size === 0 && !sending")
    share = truck.evaluate("Number(document.querySelector('#hands .pedal input').value) / 100")
    assert share > 0.3
    board = session()
    board.do(press("foot", share, 0.0))
    for _ in range(12):
        play(truck, 0.1, 6)
        board.run(0.1)
        assert np.abs(shown(truck) - ours(board, truck)).max() < KPA
    told = truck.evaluate("board.part('foot')")
    assert told["states"]["pedal"] == pytest.approx(share) and max(told["openings"]) <= 1
    assert truck.evaluate("board.part('front-left').pressures['1']") > 200
    assert float(pill(truck, "front-left")) > 2 and "lamp lit" in truck.text_content("#notices")


def test_failures_leaks_and_the_engine_do_what_python_does(board):
    """Several at once, half a burst among them, mended and gone on."""
    python = session("teaching-board")
    board.evaluate("(hand) => put(hand, 1)", hand(board, ""))
    python.do(start_engine(0.0))
    drain = hand(board, "wet-drain")
    board.evaluate("(hand) => put(hand, 1)", drain)
    python.do(open_up("wet-drain", 0.0))
    board.evaluate("fail(failureOf('dry', 'burst'), 0.5)")
    python.fail("dry", "burst", 0.5)
    for change in ("0", "fail(failureOf('dry', 'burst'), 0)"):
        board.evaluate(change)
        if change != "0":
            python.mend("dry", "burst")
        for _ in range(5):
            play(board, 0.2, 8)
            python.run(0.2)
            assert np.abs(shown(board) - ours(python, board)).max() < KPA
    assert "air is heard at" in board.text_content("#notices") and "wet-drain" in board.text_content("#notices")
    assert board.evaluate("board.deeds.filter((deed) => deed.own).length") >= 3


@pytest.mark.parametrize("name, seed", [("teaching-board", 5), ("truck-6x4", 4)])
def test_what_was_played_is_played_again_by_python(running, files, name, seed):
    """Hands, failures, holes and screws by chance; the trial that the page writes gives the same pressures."""
    found, trouble = board_of(running, files / f"{name}.html")
    assert replay.apart(found, EXAMPLES / name / "design.air", seed, 4.0) < KPA
    assert trouble == []
    found.close()


def test_a_play_that_differs_is_seen(board, monkeypatch):
    """What compares can fail: the page's trial with another pedal."""
    other = replay.PLAY.replace("trial: asTrial()", "trial: asTrial().replace(/to [0-9]+ %/g, 'to 3 %')")
    monkeypatch.setattr(replay, "PLAY", other)
    assert replay.apart(board, EXAMPLES / "teaching-board" / "design.air", 5, 4.0) > 10 * KPA


@pytest.mark.slow
@pytest.mark.parametrize("name", ["teaching-board", "truck-6x4", "combination-semi", "semitrailer-tandem", "city-bus"])
def test_twenty_plays_are_played_again(running, tmp_path, name):
    (tmp_path / "page.html").write_text(text(name, True), encoding="utf-8")
    found, trouble = board_of(running, tmp_path / "page.html")
    assert max(replay.apart(found, EXAMPLES / name / "design.air", seed, 6.0) for seed in range(1, 21)) < KPA
    assert trouble == [] and found.evaluate("board.trouble") == ""
    found.close()


@pytest.mark.slow
@pytest.mark.parametrize("name", ["teaching-board", "truck-6x4", "combination-semi", "semitrailer-tandem", "city-bus"])
def test_every_passage_is_as_its_kind_declares(running, tmp_path, name):
    (tmp_path / "page.html").write_text(text(name, True), encoding="utf-8")
    found, _ = board_of(running, tmp_path / "page.html")
    assert seats.wrong(found, verdict(name).circuit) == []
    found.close()


def test_one_goes_back_and_on_from_there(truck):
    """Back to the moment of the pedal, then on: the same pressures as the first time."""
    truck.evaluate("putTo(board.given.hands[0], 1)")
    truck.wait_for_function("() => board.deeds.length === 1")
    play(truck, 0.8, 40)
    first = shown(truck)
    truck.evaluate("show(5)")
    assert np.abs(shown(truck) - first).max() > 50
    play(truck, 0.7, 35)
    assert truck.evaluate("past.length") == 41
    assert np.abs(shown(truck) - first).max() < KPA


def test_a_click_works_a_drain_and_a_pull_the_pedal(board):
    board.click('[data-name="dry-drain"] .hit', force=True)
    board.wait_for_function("() => board.part('dry-drain').states.open === 1")
    full = float(pill(board, "dry"))
    play(board, 5.0, 10)
    assert float(pill(board, "dry")) < full - 0.5
    box = board.locator('[data-name="foot"]').bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    board.mouse.move(x, y)
    board.mouse.down()
    board.mouse.move(x, y + 45, steps=4)
    board.wait_for_function("() => !sending && board.deeds.length > 1")
    play(board, 0.5, 10)
    assert board.evaluate("board.part('foot').states.pedal") == pytest.approx(0.5, abs=0.03)
    board.mouse.up()
    board.wait_for_function("() => !sending && standsAt(board.given.hands[0]) === 0")


def test_a_screw_turned_moves_the_governor(board):
    board.evaluate("choosePart('gov')")
    field = board.locator("#worked label", has_text="cut out").locator("input")
    field.fill("7.4")
    field.press("Tab")
    board.wait_for_function("() => board.condition.turned.length === 1")
    play(board, 0.2, 4)
    assert board.evaluate("board.part('gov').states.unloading") == 1
    assert any(each["says"] == "gov cuts out" for each in board.evaluate("board.deeds"))
    board.wait_for_function("() => document.getElementById('happenings').textContent.includes('gov cuts out')", timeout=5000)


def test_scenes_play_at_their_pace_and_end(board):
    board.select_option("#ready", label="One full application")
    board.click("#ready-go")
    board.select_option("#pace", "60")
    board.wait_for_function("() => !board.running && board.row[0] > 8", timeout=8000)
    assert [deed["says"] for deed in board.evaluate("board.deeds.filter((deed) => deed.own)")] == ["pedal down", "pedal up"]
    assert "highest" in board.get_attribute("#plot svg", "aria-label")


def test_keys_play_step_and_stop(board):
    board.focus("#view")
    board.keyboard.press("7")
    board.wait_for_function("() => board.deeds.length === 1")
    board.keyboard.press("Space")
    board.wait_for_function("() => board.row[0] > 0.2")
    assert board.text_content("#play") == "Pause"
    board.keyboard.press("Space")
    stopped = board.evaluate("board.row[0]")
    board.keyboard.press(",")
    assert board.evaluate("board.row[0]") < stopped and board.text_content("#play") == "Play"
    board.wait_for_function("() => document.getElementById('heard').textContent.includes('dry')")


def test_a_trailer_is_fed_and_taken_off(running, tmp_path):
    (tmp_path / "page.html").write_text(text("semitrailer-tandem", True), encoding="utf-8")
    found, trouble = board_of(running, tmp_path / "page.html")
    found.evaluate("feedTo(board.given.hands.find((hand) => hand.label === 'control line'), 500)")
    found.wait_for_function("() => board.deeds.length === 1")
    play(found, 1.0, 20)
    brake = found.evaluate("data.bars[0].name")
    assert found.evaluate("liveAt(data.bars[0].service)") > 300, brake
    assert trouble == []
    found.close()


WORKED = """async () => { const still = [];
  const inputs = () => Array.from(board.row.slice(shelf.input, shelf.input + board.given.inputs.length)).join();
  for (const hand of board.given.hands) {
    await begin(board.given.levels.length - 1, "driving");
    choosePart(hand.part);
    const name = handName(hand);
    const all = [...document.querySelectorAll("#hands .hand, #worked .hand")];
    const box = all.find((each) => each.textContent.startsWith(name));
    if (!box) { still.push([name, "no control"]); continue; }
    const before = inputs();
    const control = box.querySelector("input, select, button");
    if (control.tagName === "BUTTON") control.click();
    else if (control.tagName === "SELECT") {
      control.selectedIndex = (control.selectedIndex + 1) % control.options.length;
      control.dispatchEvent(new Event("change"));
    } else {
      control.value = Number(control.value) > (Number(control.max) + Number(control.min)) / 2 ? control.min : control.max;
      control.dispatchEvent(new Event("input"));
    }
    while (!board.deeds.length || sending) await new Promise((then) => setTimeout(then, 5));
    await goOn(0.3);
    if (inputs() === before) still.push([name, "does nothing"]);
  }
  return [board.given.hands.length, still]; }"""


def every_control_works(running, tmp_path, name):
    (tmp_path / "page.html").write_text(text(name, True), encoding="utf-8")
    found, trouble = board_of(running, tmp_path / "page.html")
    number, still = found.evaluate(WORKED)
    assert number > 2 and still == [] and trouble == []
    found.close()


def test_every_control_moves_something(running, tmp_path):
    every_control_works(running, tmp_path, "semitrailer-tandem")


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(path.parent.name for path in EXAMPLES.glob("*/design.air")))
def test_every_control_of_every_example_moves_something(running, tmp_path, name):
    every_control_works(running, tmp_path, name)


def test_every_kind_of_control_is_worked_by_keys(running, tmp_path):
    """The tandem has knobs, feeds and drains: each is reached by Tab and worked by Space, Enter or the arrows."""
    (tmp_path / "page.html").write_text(text("semitrailer-tandem", True), encoding="utf-8")
    found, _ = board_of(running, tmp_path / "page.html")
    feed = found.locator("#hands .feed input").first
    feed.focus()
    found.keyboard.press("ArrowRight")
    found.wait_for_function("() => board.deeds.length === 1")
    found.focus("#view")
    found.keyboard.press("Enter")
    found.evaluate("step('drain-1')")
    found.keyboard.press("Enter")
    found.keyboard.press("Enter")
    found.wait_for_function("() => board.part('drain-1').states.open === 1")
    found.evaluate("choosePart('relay')")
    found.locator("#worked .knob button").first.focus()
    found.keyboard.press("Space")
    found.wait_for_function("() => board.part('relay').states.hold === 1")
    found.close()
