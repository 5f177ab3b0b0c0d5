"""For every state of every scene of the examples: the seat that is drawn open is the one that the engine has pushed open."""

from math import dist

import pytest

from circuit import pipeline, sections
from circuit.draw.cutaway import SHUT, amounts, placed
from circuit.report.inside.openings import Inside, share
from circuit.report.inside.picture import shown
from circuit.report.page.prepared import Prepared, prepared
from circuit.sim import Session, start_engine
from circuit.sim.script import Script
from circuit.sim.variants import by_owner
from tests.designs import EXAMPLES

NEAR = 0.015
"""Shares this near to the one from which a seat is drawn open are left: the engine's were taken a part of a step before."""
PLAY = 3e-4
"""Share of the looks that may fall into that play; 21 of some 600,000 did."""
QUICK = ("teaching-board",)
NAMES = sorted(path.parent.name for path in EXAMPLES.glob("*/design.air"))


def moments(circuit, scene: Prepared, frames: int):
    """A session at many moments of a scene, its deeds done one after the other."""
    session = Session(circuit, scene.script or Script(situation=scene.situation))
    if scene.engine:
        session.do(start_engine(0.0))
    for deed in (*scene.deeds, None):
        wait = scene.lasts if deed is None else deed.after
        if wait > 0:
            step = min(wait, 20.0) / frames
            for _ in range(frames):
                session.run(step)
                yield session
        if deed is not None and deed.actions:
            session.do(*(action for action in deed.actions if action.what != "burst"))


def seats_of(session, owned):
    """Every seat of every part that has a section: its name, how far the engine has it open, and the gap drawn, from the
    engine's openings as a page does it, and from the functions as a picture by itself."""
    network = session._problem.network
    count = len(network.elements)
    session._running.carry_on()  # inputs that go evenly are brought to this moment
    pushes, opened = session._running.row("push", count), session._running.row("opened", count)
    inputs = session._running.row("input", len(network.sums.inputs))
    levels = session._running.row("pressure", session._arrays.nodes)
    for device in session.circuit.devices:
        section = sections.find(device.kind)
        if section is None or not device.kind.passages:
            continue
        pressures = {port: levels[network.nodes[space]] for port, space in session.circuit.spaces_of[device.name]
                     if space in network.nodes}
        state = {name: inputs[network.sums.inputs[device.name, name]] if (device.name, name) in network.sums.inputs else value
                 for name, value in device.kind.rest.items()}
        inside = Inside(device.kind, device.settings, pressures, state)
        engine: dict[str, float] = {}
        for passage in device.kind.passages:
            for e in owned.get((device.name, passage.start, passage.end), []):
                far = 1.0 if passage.opening is None else max(share(pushes[e]), opened[e])
                engine[sections.way(passage)] = max(engine.get(sections.way(passage), 0.0), far)
        still = shown(inside, section, "", told=False)
        live = still._replace(shares={**still.shares, **engine})
        for seat in (seat for seat in section.seats if seat.word and not seat.slides and set(seat.ways) & set(engine)):
            gaps = [dist(*(placed(spot, section.moves, amounts(section, each)) for spot in (seat.at, seat.face)))
                    for each in (live, still)]
            yield f"{device.name} {seat.word}", max(engine.get(way, 0.0) for way in seat.ways), gaps


def wrong_in(name: str, frames: int) -> tuple[int, list[str], list[str]]:
    """How many seats were looked at, and those drawn otherwise than the engine has them, on a page and by themselves."""
    circuit = pipeline.load(str(EXAMPLES / name / "design.air"))
    looked, wrong = 0, ([], [])
    for scene in prepared(circuit):
        owned = None
        for session in moments(circuit, scene, frames):
            owned = owned or by_owner(session._problem.network)
            for seat, engine, gaps in seats_of(session, owned):
                if abs(engine - SHUT) > NEAR:
                    looked += 1
                    for gap, found in zip(gaps, wrong):
                        if (gap > 0.01) != (engine > SHUT):
                            found.append(f"{scene.title} at {session.now:.3f} s: {seat}, engine {engine:.3f}, gap {gap:.2f}")
    return looked, *wrong


@pytest.mark.parametrize("name", QUICK)
def test_seats_of_the_board_are_those_of_the_engine(name: str):
    looked, live, still = wrong_in(name, 6)
    assert looked > 200 and live == still == []


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_seats_of_every_example_are_those_of_the_engine(name: str):
    """Where an opening jumps the engine has 1 kPa of play, so a function alone may be a moment ahead of it."""
    looked, live, still = wrong_in(name, 20)
    assert live == [] and len(still) <= PLAY * looked, (looked, live, still)
