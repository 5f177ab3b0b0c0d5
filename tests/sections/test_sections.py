"""Section pictures: every passage has a seat, what is drawn open is open, and every letter can be read."""

import itertools
import re
from collections.abc import Iterator
from math import dist
from random import Random
from xml.etree import ElementTree

import pytest

from circuit import kinds, sections
from circuit.declaring.section import Pose, Seat, Section
from circuit.declaring.traits import Role
from circuit.draw.cutaway import SHUT, Drawing, amounts, drawn, placed, section_svg
from circuit.report.inside.openings import Inside, share, shares
from circuit.report.inside.picture import shown
from circuit.report.inside.posed import posed
from circuit.report.inside.sentence import sentence

NAMES = sections.names()
POSES = [(name, pose) for name in NAMES for pose in sections.find(kinds.find(name)).poses]
IDS = [f"{name}: {pose.title}" for name, pose in POSES]
LEAST_GAP = 0.39
"""U between two faces of an open seat: 4 px, a tenth of a px less for rounding."""
IN_LINE = 1.5
"""U up to which a slide's groove or hole meets its port."""


def section_of(name: str) -> Section:
    found = sections.find(kinds.find(name))
    assert found is not None
    return found


def gap(section: Section, seat: Seat, inside: Inside) -> float:
    """U between the two faces of a seat as it is drawn."""
    moved = amounts(section, shown(inside, section, "", told=False))
    return dist(*(placed(spot, section.moves, moved) for spot in (seat.at, seat.face)))


def states(name: str, number: int = 60) -> Iterator[Inside]:
    """States of a kind alone: its poses, and random ones, in which pressures are often level and states often 0 or 1."""
    kind, section = kinds.find(name), section_of(name)
    luck = Random(name)
    yield from (posed(kind, section, pose) for pose in section.poses)
    for _ in range(number):
        levels = [luck.choice((0.0, luck.uniform(0, 10), luck.uniform(4, 9))) for _ in range(3)]
        pressures = {port.number: max(0.0, luck.choice(levels) + luck.choice((0.0, 0.0, luck.gauss(0, 0.3))))
                     for port in kind.ports_as(*(role for role in Role if role is not Role.EXHAUST))}
        state = {variable: float(luck.choice((0, 1, luck.random()))) for variable in kind.rest}
        state = {variable: round(value) if any(latch.variable == variable for latch in kind.latches) else value
                 for variable, value in state.items()}
        yield posed(kind, section, Pose("random", pressures, state))


def test_there_are_sections():
    assert len(NAMES) >= 41 and len(POSES) >= 3 * 40


@pytest.mark.parametrize("name", NAMES)
def test_it_fits_its_kind(name: str):
    kind = kinds.find(name)
    assert kind is not None and sections.broken(section_of(name), kind) == []


def test_a_passage_without_a_seat_is_refused():
    kind, section = kinds.find("relay-valve"), section_of("relay-valve")
    assert sections.broken(section._replace(seats=section.seats[:1]), kind) == ["the passage 2>3 has no seat"]
    assert "no hole for port 4" in sections.broken(section._replace(holes=section.holes[1:]), kind)
    assert sections.broken(section._replace(poses=(Pose("odd", {"7": 1.0}),)), kind) == [
        "pose odd has 7, which is no port or state"]
    assert sections.broken(section._replace(moves={**section.moves, "valve": section.moves["valve"]._replace(by={"9>1": 1.0})}),
                           kind) == ["the move valve goes by 9>1, which is no value of the kind"]


@pytest.mark.parametrize("name", NAMES)
def test_a_seat_is_drawn_open_when_its_passage_is(name: str):
    """Shut faces touch, open ones stand 4 px apart; a slide is in line with its port when open and off it when shut."""
    section = section_of(name)
    seen = set()
    for inside in states(name):
        opened = shares(inside)
        for seat in section.seats:
            wide = gap(section, seat, inside)
            is_open = any(opened[way] > SHUT for way in seat.ways)
            seen.add((seat.word, is_open))
            if seat.word and seat.slides:
                assert (wide < IN_LINE) == is_open, (seat.word, inside.pressures, inside.state, opened, wide)
            elif seat.word:
                assert wide > LEAST_GAP if is_open else wide < 0.01, (seat.word, inside.pressures, inside.state, opened, wide)
    assert {word for word, is_open in seen if is_open} == {seat.word for seat in section.seats}, "each was open once"
    assert {word for word, is_open in seen if not is_open} >= {seat.word for seat in section.seats if seat.word}, "and shut"


@pytest.mark.parametrize("name, pose", POSES, ids=IDS)
def test_letters_stand_apart_and_can_be_read(name: str, pose: Pose):
    section = section_of(name)
    state = shown(posed(kinds.find(name), section, pose), section, pose.title)
    labels, _ = Drawing(section, state, "s-").words()
    for one, other in itertools.combinations(labels, 2):
        a, b = one.box, other.box
        assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3], (one.words, other.words)
    picture = section_svg(section, state)
    root = ElementTree.fromstring(picture)
    left, top, wide, high = map(float, root.get("viewBox", "").split())
    assert wide <= 620, "a page lets it scroll where its letters would be under 9 px"
    for label in labels:
        assert left <= label.box[0] and label.box[2] <= left + wide and top <= label.box[1] and label.box[3] <= top + high
    assert min(float(size) for size in re.findall(r'font-size="([\d.]+)"', picture)) >= 10


@pytest.mark.parametrize("name, pose", POSES, ids=IDS)
def test_what_it_says_is_a_sentence_with_the_pressures(name: str, pose: Pose):
    inside = posed(kinds.find(name), section_of(name), pose)
    for unit in ("bar", "psi"):
        said = sentence(inside, unit)
        assert said and "  " not in said and "None" not in said and not said.startswith("not "), said


def test_the_relay_says_why():
    kind, section = kinds.find("relay-valve"), section_of("relay-valve")
    said = {pose.title: sentence(posed(kind, section, pose)) for pose in section.poses}
    assert said["feeding"] == "4 is 1.8 bar ahead of 2, so 1 feeds 2"
    assert said["releasing"] == "2 is 2.5 bar ahead of 4, so 2 vents to 3"
    assert "2 is held at 4.8 bar" in said["held"] and "of the 0.25 bar that open it" in said["held"]
    assert said["at rest"] == "2 stands open to 3 and is empty"


def test_the_governor_says_how_long_it_stays_over():
    kind, section = kinds.find("governor"), section_of("governor")
    said = {pose.title: sentence(posed(kind, section, pose)) for pose in section.poses}
    assert said["at cut-out"] == "1 has 8.6 bar and has not fallen to 7.2 bar, so 1 feeds 2"
    assert said["at cut-in"] == "1 has 7.20 bar and has not risen to 8.60 bar, so 2 vents to 3" or "8.6" in said["at cut-in"]


def test_the_share_is_that_of_the_engine():
    assert [round(share(push), 4) for push in (-5e3, 0.0, 3e3, 12e3, 2e5)] == [0.0, 0.0, 0.104, 0.896, 1.0]
    assert drawn(SHUT) == 0.0 and drawn(0.03) > 0.3
    inside = posed(kinds.find("relay-valve"), section_of("relay-valve"), section_of("relay-valve").poses[0])
    assert shares(inside) == {"1>2": 1.0, "2>3": 0.0}
