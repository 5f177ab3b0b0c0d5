"""What a kind says of its deliveries when the supply is lost is what happens, of every kind that delivers."""

from collections.abc import Iterator
from itertools import product

import pytest

from circuit import kinds
from circuit.declaring.kind import FALLS, KEEPS, VENTS, Kind, Port
from circuit.declaring.traits import Role
from circuit.model.settings import typical_value
from circuit.model.trace import Trace
from circuit.sim.run import simulate
from circuit.sim.script import Action, Rig, Script, feed, move
from circuit.units import ATMOSPHERE
from tests.contract.stand import written
from tests.designs import completed, loaded

FULL, LESS = 8.5, 7.5
"""bar of the supplies, and what they fall to first."""
CHARGED, LITTLE = 1.0, 0.35
"""bar from which a delivery counts as charged, and to which as empty: the lap of a relay and the seat of a shuttle are left."""
EACH = [(kind, port) for kind in kinds.every() for port in kind.ports
        if port.role is Role.DELIVERY and kind.source is None and kind.ports_as(Role.SUPPLY)]
each = pytest.mark.parametrize(("kind", "port"), EACH, ids=[f"{kind.name}-{port.number}" for kind, port in EACH])


def stands(kind: Kind) -> Iterator[tuple[dict[str, float], float]]:
    """How hands and coils may stand, and bar of the signals: at rest first, then each otherwise."""
    hands = [variable for variable in kind.rest if variable not in {latch.variable for latch in kind.latches if latch.sets}]
    ways = [dict(kind.rest), *({**kind.rest, variable: value} for variable, value in product(hands, (1.0, 0.0, -1.0, 2.0)))]
    for states, signal in product(ways, (0.0, FULL)):
        yield {name: states[name] for name in hands}, signal


def played(kind: Kind, port: Port, states: dict[str, float], signal: float) -> Trace:
    """8 s filling, 8 s with less, 8 s without any supply."""
    needed = ", ".join(written(s, kind) for s in kind.settings if s.required)
    circuit = loaded(completed(f"{kind.name} part{': ' + needed if needed else ''}\n"))
    actions: list[Action] = [move("part", variable, value, at) for variable, value in states.items() for at in (0.0, 2.0)]
    for number, role in ((p.number, p.role) for p in kind.ports):
        if role is Role.CONTROL:
            actions.append(feed(f"part.{number}", ATMOSPHERE + signal * 1e5, 0.0, 0.3, 1e-6))
        elif role is Role.SUPPLY:
            actions += [feed(f"part.{number}", ATMOSPHERE + bar * 1e5, at, 0.5, 1e-6)
                        for at, bar in ((0.0, FULL), (8.0, LESS), (16.0, 0.0))]
    return simulate(circuit, Script(tuple(actions), rigs=(Rig(f"part.{port.number}", 0.3e-3),)), 30.0, start="empty")


@each
def test_a_delivery_does_as_it_is_declared_when_its_supply_is_lost(kind: Kind, port: Port):
    place = f"part.{port.number}"
    for states, signal in stands(kind):
        trace = played(kind, port, states, signal)
        full, less, lost = ((trace.pressure(place, at) - ATMOSPHERE) / 1e5 for at in (7.9, 15.9, 29.9))
        if full < CHARGED:
            continue
        assert trace.complete
        assert (lost > LITTLE) is (port.lost == KEEPS), f"{lost:.2f} bar are left of {full:.2f} with {states}, signal {signal}"
        if port.lost == FALLS:
            assert less < LESS + LITTLE, f"{less:.2f} bar behind a supply of {LESS}"
        return
    raise AssertionError("nothing charges it")


@each
def test_what_shuts_as_its_delivery_rises_is_declared_to_give_by_degrees(kind: Kind, port: Port):
    """Found by how it behaves, with everything full: open while the delivery is low, shut before it has what the supply has."""
    if port.lost == KEEPS:
        return
    needed = {s.name: ATMOSPHERE + 6e5 for s in kind.settings if s.required and s.dimension == "pressure"}
    settings = {s.name: typical_value(s) if s.typical else None for s in kind.settings} | needed
    full = {p.number: ATMOSPHERE + FULL * 1e5 for p in kind.ports if p.role is not Role.EXHAUST}
    for passage, (states, signal) in product(kind.passages, list(stands(kind))):
        if passage.end != port.number or passage.opening is None:
            continue
        rest = {p.number: ATMOSPHERE + signal * 1e5 for p in kind.ports_as(Role.CONTROL)}
        stood = {**kind.rest, **states}
        pushed = [passage.opening({**full, **rest, passage.end: ATMOSPHERE + bar * 1e5}, settings, stood) > 0
                  for bar in (0.0, FULL - 0.5)]
        if pushed == [True, False]:
            assert port.number in {given.delivery for given in kind.graduated}, f"{passage.says}, with {stood}"


def test_every_word_for_a_lost_supply_is_some_kinds():
    assert {port.lost for _, port in EACH} == {FALLS, VENTS, KEEPS}
