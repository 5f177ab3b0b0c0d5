"""Order and cut lists: every line end has one fitting, the sums are those of the tube schedule, and the shop's lists are used."""

from pathlib import Path

import pytest

from circuit import cli
from circuit.declaring.traits import Trait
from circuit.pipeline import load
from circuit.report.sheets.lists import tube_schedule
from circuit.studies.ordering import line_mass, order
from tests.examples.held import EXAMPLES, circuit_of

NAMES = ("truck-6x4", "truck-europe", "semitrailer-tandem", "truck-towing", "teaching-board")


@pytest.mark.parametrize("name", NAMES)
def test_every_line_end_has_exactly_one_fitting(name: str):
    circuit = circuit_of(name)
    found = order(circuit)
    lines = [line for line in circuit.devices if line.is_line and not line.has(Trait.DIRECT)]
    ends = sorted((line.title, circuit.port_name(end)) for line in lines for end in line.ends or ())
    assert sorted((each.line, each.at) for each in found.fittings) == ends
    assert all(each.thread and each.size for each in found.fittings)
    pieces = sum(item.quantity for item in found.items if item.item.startswith(("connector", "hose end")))
    assert pieces == len(ends)


@pytest.mark.parametrize("name", NAMES)
def test_the_cuts_without_their_allowance_are_the_tube_schedule(name: str):
    circuit = circuit_of(name)
    found, schedule = order(circuit), tube_schedule(circuit)
    listed = sum(float(cell) for cell in schedule.column("length m") if cell)
    assert sum(cut.laid for cut in found.cuts) == pytest.approx(listed, abs=1e-9)
    assert sum(found.metres.values()) == pytest.approx(listed + sum(cut.allowance for cut in found.cuts))
    tube = sum(item.quantity for item in found.items if item.unit == "m")
    assert tube == pytest.approx(sum(cut.length for cut in found.cuts if cut.clips))


def test_parts_are_grouped_by_what_the_shelf_tells_apart():
    circuit = circuit_of("truck-6x4")
    items = {item.item: item for item in order(circuit).items}
    assert items["chamber, type 20, stroke 2.25 in"].quantity == 2 and items["check-valve, opens-at 0.1 bar"].quantity == 2
    assert items["reservoir, volume 32 L"].mass == pytest.approx(12.8)
    assert sum(item.quantity for item in items.values() if item.unit == "pieces" and not item.item.startswith(
        ("connector", "hose", "clip", "plug"))) == len([device for device in circuit.devices if not device.is_line])
    assert items["hose 3/8 in of 0.9 m"].quantity == 4 and items["hose 3/8 in of 1 m"].quantity == 4


def test_clips_and_allowance_worked_by_hand():
    """8 m of 3/8 in (9.5 mm): every 0.6 m, 13 between two ends that hold themselves; cut 50 mm longer."""
    (cut,) = [cut for cut in order(circuit_of("truck-6x4")).cuts if cut.line == "tube foot.21 -> rear-relay.4"]
    assert (cut.clips, cut.length) == (13, pytest.approx(8.05))


def test_plugs_are_ordered():
    circuit = load(str(EXAMPLES / "tipper" / "tipper.air"))
    assert not circuit.plugged and not [item for item in order(circuit).items if item.item == "plug"]
    plugged = next(name for name in NAMES if circuit_of(name).plugged)
    (plug,) = [item for item in order(circuit_of(plugged)).items if item.item == "plug"]
    assert plug.quantity == len(circuit_of(plugged).plugged)


def test_the_shops_prices_and_threads_are_used():
    circuit = circuit_of("truck-6x4")
    found = order(circuit, {"tube 3/8 in": 2.0}, {"rear-relay.4": "M16x1.5", "1/4 in": "G1/4"})
    items = {item.item: item for item in found.items}
    assert items["tube 3/8 in"].price == pytest.approx(2 * items["tube 3/8 in"].quantity) and found.price is None
    threads = {(each.line, each.at): each.thread for each in found.fittings}
    assert threads["tube foot.21 -> rear-relay.4", "rear-relay.4"] == "M16x1.5"
    assert threads["tube wet -> gov.1", "gov.1"] == "G1/4"
    every = order(circuit, {item.item: 1.0 for item in order(circuit).items})
    assert every.price == pytest.approx(sum(item.quantity for item in every.items))


def test_what_inch_tube_weighs_worked_by_hand():
    """3/8 in is 9.525 mm outside, 0.251 in = 6.375 mm inside: pi / 4 * (9.525^2 - 6.375^2) mm2 * 1030 = 0.0405 kg a metre."""
    assert line_mass("3/8 in", 1.0) == pytest.approx(0.0405, abs=2e-4)


def test_on_a_chassis_only_what_is_added_is_ordered():
    """Five lines of the chassis are cut anew and the compressor is another one; the tanks of the chassis stay."""
    circuit = load(str(EXAMPLES / "tipper" / "tipper.air"))
    found = order(circuit, added=True)
    items = {item.item for item in found.items}
    assert "compressor, displacement 17.5 cfm" in items and "reservoir, volume 30 L" in items
    assert "reservoir, volume 50 L" not in items and "reservoir, volume 32 L" not in items
    cut = {each.line for each in found.cuts}
    assert {"tube pri -> foot.11", "tube foot.21 -> signal-tee", "tube signal-tee -> rear-relay.4"} <= cut
    assert "tube sec -> foot.12" not in cut


def test_the_command_and_a_list_with_a_slip(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    design = str(EXAMPLES / "tipper" / "tipper.air")
    assert cli.main(["order", design, "--format", "csv"]) == 0
    said = capsys.readouterr().out
    assert "order,tube 3/8 in," in said and "fittings,tube foot.21 -> signal-tee,foot.21,connector,1/2 in," in said
    (tmp_path / "t.csv").write_text("at,thread\nrear-relay.4\n", encoding="utf-8")
    assert cli.main(["order", design, "--threads", str(tmp_path / "t.csv")]) == 2
    assert "t.csv:2:1: this row has no thread" in capsys.readouterr().err
