"""The DXF, read back and measured by the library that others read it with."""

from pathlib import Path
from typing import Any

import pytest

from circuit.draw import write
from circuit.draw.parts import own_name
from tests.designs import example_text, loaded
from tests.outside import library

ezdxf = library("ezdxf")


@pytest.fixture(scope="module")
def truck(tmp_path_factory: Any) -> Path:
    path: Path = tmp_path_factory.mktemp("dxf") / "truck.dxf"
    write(loaded(example_text("truck-6x4")), path)
    return path


def test_it_is_sound_and_says_everything(truck: Path) -> None:
    document = ezdxf.readfile(truck)
    assert not document.audit().errors
    words = {each.dxf.text for each in document.modelspace().query("TEXT")}
    circuit = loaded(example_text("truck-6x4"))
    names = {own_name(circuit, device.name) for device in circuit.devices if not device.is_line}
    assert len(names) > 30 and names - words == set()


def test_a_layer_for_each_circuit_has_its_lines(truck: Path) -> None:
    document = ezdxf.readfile(truck)
    layers = {layer.dxf.name for layer in document.layers}
    wanted = {"circuit 0 source", "circuit 1 primary (service)", "circuit 2 secondary (service)", "circuit 3 parking"}
    assert wanted <= layers
    for name in sorted(wanted):
        assert len(document.modelspace().query(f'LWPOLYLINE[layer=="{name}"]')) > 3


def test_letters_and_extent_in_mm(truck: Path) -> None:
    from ezdxf import bbox

    document = ezdxf.readfile(truck)
    assert document.units == 4  # mm
    assert min(each.dxf.height for each in document.modelspace().query("TEXT")) >= 1.8
    extent = bbox.extents(document.modelspace().query("LWPOLYLINE"))
    assert 300 < extent.size.x < 600 and extent.size.x / extent.size.y < 1.9


def test_the_same_bytes_on_every_run(truck: Path, tmp_path: Path) -> None:
    write(loaded(example_text("truck-6x4")), tmp_path / "again.dxf")
    one, other = (path.read_text().split("\n") for path in (truck, tmp_path / "again.dxf"))
    assert len(one) == len(other) > 5000
    assert [pair for pair in zip(one, other) if pair[0] != pair[1]] == []
