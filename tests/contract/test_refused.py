"""A kind that breaks a promise is refused when it is loaded, by a message that names what is missing."""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from circuit import kinds
from circuit.declaring.contract import broken
from circuit.declaring.kind import Failure, Kind, Latch, Passage, Store
from circuit.declaring.traits import PROMISES, Role, Trait
from circuit.pipeline import judged, load_source
from circuit.source import Source
from circuit.studies.charge import charge
from tests.contract.stand import TRUCK, stood
from tests.contract.test_every_reader import BARE, asked_everything


def without(kind: Kind, promise: str) -> Kind:
    """A kind with one promised thing taken away."""
    what, _, name = promise.partition(":")
    if what == "port":
        return kind._replace(ports=tuple(p for p in kind.ports if p is not kind.port(name)))
    return kind._replace(settings=tuple(s for s in kind.settings if s.name != name), rest={},
                         derives=tuple(n for n in kind.derives if n != name))


PROMISED = [(trait, promise) for trait, promises in PROMISES.items() for promise in promises]


@pytest.mark.parametrize(("trait", "promise"), PROMISED, ids=[f"{trait.name}-{promise}" for trait, promise in PROMISED])
def test_every_promise_is_missed_when_it_is_broken(trait: Trait, promise: str):
    lacks = list(broken(without(BARE[trait], promise)))
    assert f"bare-{trait.name.lower().replace('_', '-')} has the trait {trait.name}, which promises {promise}, and does not " \
        "declare it" in lacks


def real(name: str) -> Kind:
    kind = kinds.find(name)
    assert kind is not None and list(broken(kind)) == []
    return kind


SLIPS: list[tuple[str, Callable[[Kind], Kind], str]] = [
    ("relay-valve", lambda k: k._replace(passages=(*k.passages, Passage("1", "5", "x"))),
     "relay-valve has a passage from 1 to 5, and no port 5"),
    ("relay-valve", lambda k: k._replace(passages=(Passage("1", "2", "x", conductance="width"),)),
     "relay-valve has a passage from 1 to 2 that takes width, which is neither a setting nor derived"),
    ("relay-valve", lambda k: k._replace(passages=(Passage("1", "2", "x", keeps="shuts-at"),)),
     "relay-valve has a passage from 1 to 2 that takes shuts-at, which is neither a setting nor derived"),
    ("relay-valve", lambda k: k._replace(settings=tuple(s for s in k.settings if s.name != "deliveries")),
     "relay-valve.2 takes its holes from the setting deliveries, which is not there"),
    ("relay-valve", lambda k: k._replace(stores=(Store("9", lambda s, p: 1e-3),)),
     "relay-valve stores air at port 9, which is not there"),
    ("relay-valve", lambda k: k._replace(latches=(Latch("stuck", None, None),)),
     "relay-valve has a latch of stuck, and `rest` does not say how it stands"),
    ("tube", lambda k: k._replace(settings=tuple(s for s in k.settings if s.dimension != "size")),
     "tube is a line, and its bore is neither a setting nor derived"),
    ("hose", lambda k: k._replace(settings=tuple(s for s in k.settings if s.name != "length")),
     "hose is a line, and its length is neither a setting nor derived"),
    ("fit", lambda k: k._replace(failures=(Failure("leaks", "it leaks"),)),
     "fit is DIRECT, so its two ports are one space: it keeps no air, lets none pass and does not fail"),
]


@pytest.mark.parametrize(("name", "spoil", "says"), SLIPS, ids=[says for _, _, says in SLIPS])
def test_every_slip_of_a_declaration_is_named(name: str, spoil: Callable[[Kind], Kind], says: str):
    assert says in list(broken(spoil(real(name))))


HEAD = '''
from circuit.declaring.common import LEAKS_AT_THREAD, ON, cavity, conductance
from circuit.declaring.kind import Failure, Kind, Latch, Passage, Port, Pump, Setting, Store, Typical
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="NAME", title="Trial", group=Group.GUARD, purpose="A trial.", behaviour="A trial.",
'''
CONTACT = HEAD.replace("NAME", "pressure-contact") + '''
    ports=(Port("4", Role.SPACE, ("sense",)),), settings=(ON, Setting("closes-at", "pressure", "x", Typical("6 bar", "x"))),
    latches=(Latch("closed", lambda p, s: p["4"] - s["closes-at"], lambda p, s: s["closes-at"] - 1e5 - p["4"]),),
    stores=(Store("4", cavity(0.002)),), failures=(LEAKS_AT_THREAD,), rest={"closed": 0.0},
)
'''
ELECTRIC = HEAD.replace("NAME", "electric-pump") + '''
    ports=(Port("0", Role.SPACE, ("inlet",), required=False), Port("2", Role.DELIVERY)),
    settings=(
        Setting("displacement", "flow", "x", Typical("12 cfm", "x")), Setting("speed", "speed", "x", Typical("900 rpm", "x")),
        Setting("efficiency", "fraction", "x", Typical("80 %", "x")), Setting("clearance", "fraction", "x", Typical("5 %", "x")),
    ),
    stores=(Store("2", cavity(0.1)),), failures=(Failure("dead", "it stands still", stops=("2",)),),
    traits=frozenset({Trait.COMPRESSES}), feeds=lambda settings, situation: ("2",),
    source=Pump("2", "0", "displacement", "speed", "efficiency", "clearance", rests=lambda p, s, x: -1e5, held="stopped"),
)
'''
HALF = HEAD.replace("NAME", "half-a-head") + '''
    ports=(Port("1", Role.SPACE),), settings=(Setting("line", "word", "x", choices=("supply", "control"), required=True),),
    failures=(Failure("off", "it is off"),), traits=frozenset({Trait.COUPLES_VEHICLES}),
)
'''


@pytest.fixture
def new_kind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str, str], None]]:
    """Puts a file beside the kinds, as whoever adds a kind does; it is gone after the test."""
    def added(name: str, text: str) -> None:
        (tmp_path / f"{name}.py").write_text(text, encoding="utf-8")

    monkeypatch.setattr(kinds, "__path__", [*kinds.__path__, str(tmp_path)])
    monkeypatch.setattr(kinds, "_FOLDER", tmp_path)
    known = dict(kinds._known)
    monkeypatch.setattr(kinds, "_complete", False)
    yield added
    kinds._known.clear()
    kinds._known.update(known)
    for path in tmp_path.glob("*.py"):
        sys.modules.pop(f"circuit.kinds.{path.stem}", None)


def test_a_switch_that_only_latches_is_read_by_everybody(new_kind):
    new_kind("pressure_contact", CONTACT)
    kind = kinds.find("pressure-contact")
    assert kind is not None and not kind.passages and kind.latches
    asked_everything(kind, TRUCK)


def test_a_compressor_without_an_unloader_is_read_by_everybody(new_kind):
    new_kind("electric_pump", ELECTRIC)
    kind = kinds.find("electric-pump")
    assert kind is not None and not kind.ports_as(Role.CONTROL)
    asked_everything(kind, TRUCK)
    alone = stood(kind).replace("compressor pump: displacement 12 cfm\n", "electric-pump pump\n")
    circuit = load_source(Source("stand.air", alone.replace("tube gov.2 -> pump.4", "tube gov.2 -> air")))
    said = [j.answer.says for j in judged(circuit).judgements if j.rule.name == "governor-misplaced"]
    assert "pump has no unloader for gov to work" in said
    charge(circuit)


def test_a_head_that_keeps_half_its_promises_is_refused_by_name(new_kind):
    new_kind("half_a_head", HALF)
    with pytest.raises(ValueError) as refused:
        kinds.find("half-a-head")
    for missing in ("setting:end", "setting:seals", "value:joined", "value:loose", "value:capped"):
        assert f"half-a-head has the trait COUPLES_VEHICLES, which promises {missing}, and does not declare it" in str(
            refused.value)
    assert str(refused.value).startswith("circuit/kinds/half_a_head.py: ")
    assert kinds.find("coupling-head") is not None
