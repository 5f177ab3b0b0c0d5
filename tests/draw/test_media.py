"""Starting designs and a train of three trailers on every medium: letters, aspects, nothing listed, nothing split."""

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from circuit.commands.new import starts
from circuit.draw import measure
from circuit.draw.fold import lay_out_circuit
from circuit.draw.labels import letter
from circuit.draw.layout import Layout
from circuit.draw.medium import LEAST_MM, LEAST_PX, SCREEN_PX, SIZES, paper
from circuit.draw.paint import picture
from circuit.draw.sheet import fold_onto
from circuit.files import folder
from circuit.model.circuit import Circuit
from circuit.pipeline import load
from tests.designs import EXAMPLES, sampled

SVG = "{http://www.w3.org/2000/svg}"
STRIP = 3.0
"""Width to height of a starting design: found, frozen. 1.9 is aimed at; two trailers, in one band, are flatter."""


def check(circuit: Circuit, sheets: list[Layout], wide: float, high: float) -> None:
    """On sheets with so much room, U, letters keep their least height, and everything is drawn once and in place."""
    from circuit.draw.frame import bounds

    assert sheets
    for sheet in sheets:
        lettering = letter(sheet)
        left, top, right, low = bounds(sheet, lettering)
        scale = min(wide / (right - left), high / (low - top))
        assert LEAST_MM * scale >= LEAST_MM - 0.01
        assert lettering.unplaced == [] and measure.touching(sheet.wires) == 0
    names = [body.device.name for sheet in sheets for body in sheet.bodies if body.flag is None]
    assert len(names) == len(set(names))
    assert {run.line.name for sheet in sheets for each in sheet.wires for run in each.wire.runs if run.line} \
        == {device.name for device in circuit.devices if device.is_line}


def legible_on_a_screen(circuit: Circuit, widest: float = 1.9) -> None:
    text = picture(lay_out_circuit(circuit))
    wide, high = map(float, re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', text).groups())  # type: ignore[union-attr]
    sizes = [float(each.get("font-size") or 0) for each in ET.fromstring(text).iter(f"{SVG}text") if each.text]
    assert min(sizes) * SCREEN_PX / wide >= LEAST_PX and wide / high <= widest


@pytest.mark.parametrize("name", sampled(starts(), 2))
def test_starting_designs(name: str) -> None:
    circuit = load(str(folder("shared") / "starts" / f"{name}.air"))
    legible_on_a_screen(circuit, STRIP)
    medium = paper("Letter")
    check(circuit, fold_onto(circuit, "Letter"), medium.wide, medium.high)


def test_there_are_starting_designs() -> None:
    assert len(starts()) >= 6


@pytest.mark.slow
@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_train_of_three_trailers(size: str, tmp_path: Path) -> None:
    """Three dollies in a row and a semi-trailer on the last: the longest chain of vehicles that the examples make."""
    rows = ['combination train: title "Truck and trailers"', "rules us-federal", ""]
    names = ("truck", "one", "two", "three", "semi")
    files = ("truck-towing", "converter-dolly", "converter-dolly", "converter-dolly", "semitrailer-single")
    rows += [f'vehicle {name}: file "{EXAMPLES / file / "design.air"}"' for name, file in zip(names, files)]
    for front, rear in zip(names, names[1:]):
        before = "" if front == "truck" else "rear-"
        rows += [f"couple {front}.{before}{line}-head -> {rear}.{line}-head" for line in ("supply", "control")]
    path = tmp_path / "train.air"
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    circuit = load(str(path))
    if size == "A3":
        legible_on_a_screen(circuit)
    medium = paper(size)
    check(circuit, fold_onto(circuit, size), medium.wide, medium.high)
