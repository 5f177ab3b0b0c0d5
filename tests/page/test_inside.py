"""Section pictures on the page: what they show and say is what Python makes of the same moment."""

import pytest

from circuit import pipeline, sections
from circuit.draw.cutaway import SHUT
from circuit.report.inside.openings import Inside, shares
from circuit.report.inside.sentence import sentence
from tests.designs import EXAMPLES
from tests.page.browser import board_of, play

READ = """(name) => { const now = standing(name); return {
  says: cut.says.textContent, shares: now.shares, pressures: now.pressures, state: now.state,
  seats: cut.seats.filter(({ word }) => word).map(({ mark, ways }) => [ways, mark.textContent, mark.getAttribute('class')]) } }"""


def chosen(found, name):
    found.evaluate(f"choosePart('{name}')")
    found.wait_for_function(f"() => cut.name === '{name}' && cut.svg && !document.getElementById('section').hidden")
    return found.evaluate(READ, name)


def parts(circuit):
    return [device for device in circuit.devices if sections.find(device.kind) is not None]


LINES = """(name) => { drawSeats(); return [...shapes.get(name).querySelectorAll('.inner')]
  .map((way) => [way.dataset.ways.split(' ').map(Number), getComputedStyle(way).visibility === 'visible']) }"""


def lines_of(found, device, inside):
    """Every way drawn through a symbol shows whether it stands open; how many there are."""
    told = found.evaluate(LINES, device.name)
    ours = shares(inside)
    for places, is_open in told:
        ways = [sections.way(device.kind.passages[place]) for place in places]
        if all(abs(ours[way] - SHUT) > 0.005 for way in ways):
            assert is_open == any(ours[way] > SHUT for way in ways), (device.name, ways)
    return len(told)


def compare(found, circuit):
    """How many seats were looked at in every part that has a section."""
    looked = 0
    for device in parts(circuit):
        told = chosen(found, device.name)
        inside = Inside(device.kind, device.settings, told["pressures"], told["state"])
        ours = shares(inside)
        if found.evaluate(f"shapes.has('{device.name}')"):
            lines = lines_of(found, device, inside)
            assert lines or not device.kind.passages, device.name
        for way, share in told["shares"].items():
            if device.kind.passages:
                assert share == pytest.approx(ours[way], abs=0.03), (device.name, way)
        for ways, words, kind in told["seats"]:
            is_open = max(told["shares"][way] for way in ways) > SHUT
            assert (words.endswith("open"), kind) == (is_open, "open" if is_open else "ink"), (device.name, words)
            looked += 1
        if device.kind.passages and all(abs(share - SHUT) > 0.005 for share in told["shares"].values()):
            assert told["says"] == sentence(inside, found.evaluate("unit"), told["shares"]), device.name
    return looked


def test_seats_and_sentences_are_those_of_python_through_an_application(truck):
    circuit = pipeline.load(str(EXAMPLES / "truck-6x4" / "design.air"))
    assert compare(truck, circuit) >= 30
    pedal = truck.locator("#hands .pedal input").first
    pedal.focus()
    for _ in range(5):
        truck.keyboard.press("PageUp")
    truck.wait_for_function("() => board.deeds.length > 0 && wished.size === 0 && !sending")
    for seconds in (0.15, 1.0):
        play(truck, seconds, 4)
        compare(truck, circuit)
    assert chosen(truck, "rear-relay")["says"].startswith("4 is ")


def test_a_seat_that_a_failure_holds_is_drawn_so(board):
    relay = next(device.name for device in parts(pipeline.load(str(EXAMPLES / "teaching-board" / "design.air")))
                 if device.kind.name == "relay-valve")
    before = chosen(board, relay)
    assert ["2>3"] in [ways for ways, words, _ in before["seats"] if words == "exhaust open"]
    board.evaluate(f"fail(failureOf('{relay}', 'does-not-release'), 1)")
    board.wait_for_function("() => board.condition.failures.length === 1")
    play(board, 0.05)
    assert ["2>3"] in [ways for ways, words, _ in chosen(board, relay)["seats"] if words == "exhaust shut"]


@pytest.mark.parametrize("wide", (1440, 390))
def test_its_letters_can_be_read(running, files, wide):
    found, trouble = board_of(running, files / "teaching-board.html", viewport={"width": wide, "height": 900})
    for device in parts(pipeline.load(str(EXAMPLES / "teaching-board" / "design.air"))):
        chosen(found, device.name)
        least = found.evaluate("Math.min(...[...cut.svg.querySelectorAll('text')].map((text) => "
                               "Number(text.getAttribute('font-size')) * text.getScreenCTM().a))")
        assert least >= 9, (device.name, least)
    assert trouble == []
    found.close()
