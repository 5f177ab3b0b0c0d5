"""Every kind's symbol, a kind without one, and circuits made up on the spot."""

import random
import xml.etree.ElementTree as ET

import pytest

from circuit import kinds
from circuit.declaring.kind import Kind
from circuit.declaring.symbol import Ring
from circuit.declaring.traits import Role, Trait
from circuit.draw import measure
from circuit.draw.fold import lay_out_circuit
from circuit.draw.paint import picture
from circuit.model.circuit import Circuit
from tests.designs import completed, loaded

SYMBOLS = [kind for kind in kinds.every() if kind.symbol is not None]


def test_there_are_symbols() -> None:
    assert len(SYMBOLS) > 20


@pytest.mark.parametrize("kind", SYMBOLS, ids=lambda kind: kind.name)
def test_symbol_is_sound(kind: Kind) -> None:
    symbol = kind.symbol
    assert symbol is not None
    numbers = {port.number for port in kind.ports}
    assert set(symbol.ports) <= numbers
    assert not symbol.grows or (symbol.grows in numbers and symbol.grows not in symbol.ports and symbol.height % 2 == 0)
    if symbol.grows:  # lines at its further holes must meet an edge, and between them no mark may reach it
        assert symbol.body != "none"
        assert not [m for m in symbol.marks if not isinstance(m, Ring) and any(x == symbol.width for x, _ in m.points)]
    for number, (x, y) in symbol.ports.items():
        assert x in (0, symbol.width) or y in (0, symbol.height), f"{number} is not on the edge"
        assert (int(x), int(y)) == (x, y)
    sides = [(x, y) for x, y in symbol.ports.values() if x in (0, symbol.width)]
    assert all(a == b or a[0] != b[0] or abs(a[1] - b[1]) >= 2 for a in sides for b in sides), "ports too near"
    for mark in symbol.marks:
        points = [mark.centre] if isinstance(mark, Ring) else mark.points
        assert all(-3 <= x <= symbol.width + 3 and -3 <= y <= symbol.height + 3 for x, y in points)
    unplaced = [p.number for p in kind.ports if p.number not in symbol.ports and p.number != symbol.grows]
    if not kind.small:
        assert all(kind.port(n).role in (Role.EXHAUST,) for n in unplaced), f"{unplaced} have no place"  # type: ignore


def test_lines_have_no_symbol() -> None:
    assert not [kind.name for kind in SYMBOLS if Trait.LINE in kind.traits]


def _without_symbols(circuit: Circuit) -> Circuit:
    from dataclasses import is_dataclass, replace

    def bare(thing, **changes):  # type: ignore[no-untyped-def]
        return replace(thing, **changes) if is_dataclass(thing) else thing._replace(**changes)

    plain = {device.kind.name: bare(device.kind, symbol=None) for device in circuit.devices}
    return replace(circuit, devices=tuple(bare(device, kind=plain[device.kind.name]) for device in circuit.devices))


@pytest.mark.parametrize("name", ["teaching-board", "semitrailer-tandem"])
def test_kinds_without_symbols_are_boxes(name: str) -> None:
    from tests.designs import example_text

    bare = _without_symbols(loaded(example_text(name)))
    sheet = lay_out_circuit(bare)
    assert measure.touching(sheet.wires) == 0
    words = {element.text for element in ET.fromstring(picture(sheet)).iter("{http://www.w3.org/2000/svg}text")}
    assert all(device.name in words for device in bare.devices if not device.is_line)


_PARTS = ("tank", "relay", "release", "shuttle", "check", "tee", "chamber", "spring", "block", "park")


def made_up(seed: int, size: int) -> str:
    """A design with reservoirs, valves, tees and chambers joined by chance; it need not make sense."""
    chance = random.Random(seed)
    rows, outs, ins, axles = [], [], [], max(1, size // 8)
    rows += [f"axle a{i}: position {i + 2}" for i in range(axles)]
    for i in range(size):
        what = chance.choice(_PARTS)
        n = f"{what}-{i}"
        if what == "tank":
            rows += [f"reservoir {n}: volume 20 L, rated 10 bar, role service", f"drain {n}-drain: on {n}",
                     f"gauge {n}-gauge: on {n}"]
            outs += [n] * 3
            ins.append(n)
        elif what == "relay":
            rows.append(f"relay-valve {n}: deliveries 6")
            outs += [f"{n}.2"] * 4
            ins += [f"{n}.1", f"{n}.4"]
        elif what == "release":
            rows.append(f"quick-release-valve {n}: deliveries 3")
            outs += [f"{n}.2"] * 2
            ins.append(f"{n}.1")
        elif what == "shuttle":
            rows += [f"double-check-valve {n}"]
            outs.append(f"{n}.2")
            ins += [f"{n}.11", f"{n}.12"]
        elif what in ("check", "park"):
            rows.append(f"check-valve {n}" if what == "check" else f"park-valve {n}")
            outs.append(f"{n}.2")
            ins.append(f"{n}.1")
        elif what == "tee":
            rows.append(f"tee {n}")
            outs += [n, n]
            ins.append(n)
        elif what == "block":
            rows.append(f"manifold {n}: holes 6")
            outs += [n] * 4
            ins.append(n)
        else:
            axle, side = f"a{chance.randrange(axles)}", chance.choice(("left", "right"))
            kind, type_ = ("chamber", "20") if what == "chamber" else ("spring-chamber", "30/30")
            rows.append(f"{kind} {n}: type {type_}, stroke 2.25 in, axle {axle}, side {side}")
            ins += [n] if what == "chamber" else [f"{n}.11", f"{n}.12"]
    chance.shuffle(outs)
    for end in ins:
        while outs:
            start = outs.pop()
            if start.split(".")[0] != end.split(".")[0]:
                rows.append(f"tube {start} -> {end}: size 3/8 in, length {chance.randrange(1, 9)} m")
                break
    return completed("\n".join(rows))


@pytest.mark.parametrize("seed", range(8))
def test_made_up_circuits_run_clear(seed: int) -> None:
    circuit = loaded(made_up(seed, 14))
    sheet = lay_out_circuit(circuit)
    assert measure.touching(sheet.wires) == 0
    assert measure.through(sheet.wires, [(b.x + .1, b.y + .1, b.x + b.width - .1, b.y + b.height - .1)
                                         for b in sheet.bodies]) == 0
    ET.fromstring(picture(sheet))


@pytest.mark.parametrize("parts", [50, pytest.param(110, marks=pytest.mark.slow)])
def test_a_big_circuit_runs_clear(parts: int) -> None:
    sheet = lay_out_circuit(loaded(made_up(3, parts)))
    ET.fromstring(picture(sheet))
    assert measure.touching(sheet.wires) == 0
