"""Whoever reads a kind can: each kind, and a bare one for each trait, in a small circuit that everybody then works on.

A trait's bare kind declares what the trait promises and nothing else. A reader that takes more than was promised fails here
and not at the user's who writes the next kind: add a promise in `declaring/traits`, or ask for less.
"""

from collections.abc import Iterator

import pytest

from circuit import kinds
from circuit.declaring.contract import broken
from circuit.declaring.kind import Kind
from circuit.declaring.traits import Group, Trait
from circuit.faults.single import single
from circuit.faults.study import study
from circuit.faults.telling import tell
from circuit.model.circuit import Circuit
from circuit.pipeline import judged, load_source
from circuit.report.account import FORMATS
from circuit.report.studies.faults import account
from circuit.report.marked import marks_of
from circuit.report.page import page
from circuit.source import Source
from circuit.studies.charge import charge
from circuit.studies.hands import CannotAsk
from circuit.studies.respond import respond
from tests.designs import sampled
from tests.contract.stand import BENCH, TRAILER, TRUCK, bare, stood

EVERY = kinds.every()
BARE = {trait: bare(trait) for trait in Trait}


@pytest.fixture(scope="module", autouse=True)
def bare_kinds_are_known() -> Iterator[None]:
    for kind in BARE.values():
        kinds._known[kind.name] = kind
    yield
    for kind in BARE.values():
        del kinds._known[kind.name]


def circuit_of(kind: Kind, around: str) -> Circuit:
    circuit = load_source(Source("stand.air", stood(kind, around)))
    assert any(device.kind is kind for device in circuit.devices)
    return circuit


def asked_everything(kind: Kind, around: str) -> None:
    """What `check`, `faults` with a story, `charge` and `respond` make of a kind."""
    circuit = circuit_of(kind, around)
    verdict = judged(circuit)
    assert verdict.judgements
    names = {device.name for device in circuit.devices if device.kind is kind}
    own = [fault for fault in single(circuit) if any(part in names for part, _ in fault.parts)]
    assert len(own) >= len(kind.failures)
    found = study(circuit, [*own, next(fault for fault in single(circuit) if fault.name == "pri: burst")])
    assert all(form(account(found.circuit), False) for form in FORMATS.values())
    tell(found, found.effects[0])
    for question in (charge, respond):
        try:
            question(circuit)
        except CannotAsk:
            pass  # said in a sentence, as to a user


@pytest.mark.parametrize("kind", sampled(EVERY, 12, lambda kind: kind.name))
def test_everybody_can_read_a_kind(kind: Kind):
    asked_everything(kind, TRUCK)


@pytest.mark.parametrize("kind", sampled((kind for kind in EVERY if kind.group is Group.TOWING or Trait.REPEATS_CONTROL in
                                          kind.traits), 5, lambda kind: kind.name))
def test_everybody_can_read_what_stands_on_a_trailer(kind: Kind):
    asked_everything(kind, TRAILER)


@pytest.mark.parametrize("kind", sampled(EVERY, 40, lambda kind: kind.name))
def test_a_kind_comes_onto_the_page(kind: Kind):
    circuit = circuit_of(kind, BENCH)
    verdict = judged(circuit)
    assert kind.title.split()[0] in page(verdict, marks_of(verdict), playing=False)


@pytest.mark.parametrize("trait", sampled(Trait, 10, lambda trait: trait.name))
def test_readers_of_a_trait_take_what_it_promises_and_no_more(trait: Trait):
    for around in (TRUCK, TRAILER):
        asked_everything(BARE[trait], around)


@pytest.mark.parametrize("trait", Trait, ids=lambda trait: trait.name)
def test_a_bare_kind_keeps_its_promise(trait: Trait):
    assert list(broken(BARE[trait])) == []
    verdict = judged(circuit_of(BARE[trait], BENCH))
    assert page(verdict, marks_of(verdict), playing=False)
