"""PYTHON.md: its examples run, its names are kept, and what it promises of them is so."""

import json
import re
from pathlib import Path

import numpy
import pytest

import circuit
from circuit import notebook
from circuit.model.places import NoSuchPlace
from circuit.notebook.over_time import plotted
from circuit.units import ATMOSPHERE, registry
from tests.notebook import shown

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "PYTHON.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```python\n(.*?)```", PAGE, re.S)
NAMES = ROOT / "tests" / "notebook" / "names.txt"
LINE = "foot.21 -> rear-relay.4"


@pytest.fixture(scope="module")
def page():
    """What the page's examples leave behind, run one after another as a reader would."""
    import os

    there, here = {}, os.getcwd()
    os.chdir(ROOT)
    try:
        for block in BLOCKS:
            exec(compile(block, "PYTHON.md", "exec"), there)
    finally:
        os.chdir(here)
    return there


def test_the_examples_give_what_stands_beside_them(page):
    assert len(BLOCKS) >= 6
    truck = page["truck"]
    assert repr(truck) in PAGE
    assert truck.findings == () and truck.duties[0].kept in ("kept", "broken", "open")
    ratios, plot = page["ratios"], page["plot"]
    assert ratios.title == "Ratios" and all(isinstance(value, float) for value in ratios.to_mapping()["reservoirs L"])
    assert page["respond"] and page["picture"].startswith("<svg") and plot.count("<path") + plot.count("<polyline") >= 4


def test_a_size_that_is_swept_carries_its_bore(page):
    times = page["times"]
    assert None not in times and len(set(times)) == len(times), "five equal times would be a bore that was not derived again"
    assert page["truck"].with_settings({(LINE, "size"): "1/4 in"}).by_name[LINE].settings["bore"] < \
        page["truck"].circuit.by_name[LINE].settings["bore"]


@pytest.mark.parametrize("part,setting,value,says", [
    (LINE, "size", "5 in", "no trade size"), (LINE, "colour", "red", "no setting `colour`"),
    ("nobody", "size", "1/2 in", "there is no"),
    ("gov", "cut-in", "9.5 bar", "cannot be set so"), ("d1-left.can", "type", "30", "how the circuit is joined")])
def test_what_cannot_be_derived_is_refused(page, part: str, setting: str, value: str, says: str):
    with pytest.raises((NoSuchPlace, ValueError), match=says):
        page["truck"].with_settings({(part, setting): value})


def test_values_come_in_as_texts_quantities_and_si():
    eight = registry().Quantity(8.5, "bar")
    assert notebook.si("8.5 bar", "pressure") == pytest.approx(notebook.si(eight, "pressure"))
    assert notebook.si(eight, "pressure") == pytest.approx(8.5e5 + ATMOSPHERE)
    assert notebook.si(8.5e5, "pressure") == 8.5e5, "a bare number is SI, absolute"
    for wrong in ("8.5", "8.5 m", registry().Quantity(1.0, "m")):
        with pytest.raises(ValueError):
            notebook.si(wrong, "pressure")


def test_curves_are_gauge_bar_and_hold_together(page):
    run = page["run"]
    bar = run.pressure_bar("d2-right.service")
    assert isinstance(bar, numpy.ndarray) and len(bar) == len(run.time_s) and run.is_complete
    assert run.end_bar("d2-right.service") == pytest.approx(bar[-1])
    assert float(run.quantity("d2-right.service", run.time_s[-1]).to("bar").magnitude) == pytest.approx(bar[-1])
    columns = run.to_mapping("pri", "d2-right.service")
    assert list(columns) == ["time_s", "pri_bar", "d2-right.service_bar"]
    assert len(run.to_mapping()) == 1 + len(set(run.trace.names))


def test_a_line_is_found_by_its_ends_and_by_its_name(page):
    truck = page["truck"]
    assert truck.part("rear-relay.4 -> foot.21") is truck.part(LINE) is truck.part(f"tube {LINE}")
    text = (ROOT / "examples/truck-6x4/design.air").read_text(encoding="utf-8")
    text = text.replace(f"tube {LINE}: ", f"tube {LINE}: name hint, ")
    named = circuit.Design(str(ROOT / "examples/truck-6x4/design.air"), text)
    assert named.part("hint").name == LINE


def test_what_a_notebook_shows():
    board = circuit.Design(str(ROOT / "examples/teaching-board/design.air"))
    assert [each.rule for each in board.findings.open] == ["circuits-not-separate"] and len(board.findings) == 2
    shown = board._repr_html_()
    assert "circuits-not-separate" in shown and "<svg" in shown and "no approval" in shown
    assert board.drawing()._repr_svg_().startswith(("<?xml", "<svg")) and "<td>" in board.sizes()[0]._repr_html_()
    assert board.findings.to_mapping()["rule"][0] == board.findings[0].rule
    assert len(repr(board.circuit)) < 200, "not its whole text"
    assert "&lt;" in plotted("a < b", "s", "bar", [("one", [0.0, 1.0], [0.0, 1.0])])


def names() -> list[str]:
    """Every name that the page promises, with the fields and methods of its classes."""
    found = [f"circuit.{name}" for name in circuit.__all__]
    for name in notebook.__all__:
        one = getattr(notebook, name)
        found.append(f"circuit.notebook.{name}")
        if isinstance(one, type):
            members = {*getattr(one, "_fields", ()), *getattr(one, "__dataclass_fields__", ()),
                       *(each for each in vars(one) if not each.startswith("_")),
                       *(each for each in vars(one) if each.startswith("_repr_"))}
            found += [f"circuit.notebook.{name}.{member}" for member in members]
    return sorted(found)


def test_names_are_kept():
    """A name that goes is a change for every caller: write what became of it into CHANGELOG.md, then the list anew."""
    known = NAMES.read_text(encoding="utf-8").split()
    changes = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    gone = [name for name in known if name not in names()]
    assert not [name for name in gone if name.rpartition(".")[2] not in changes], "gone without a row in the changelog"
    assert [name for name in names() if name not in known] == [], "new names: add them to tests/notebook/names.txt"
    assert len(known) > 80


def test_every_name_of_the_door_opens():
    for name in circuit.__all__:
        assert getattr(circuit, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        circuit.nothing


def test_the_notebook_beside_the_truck_shows_what_its_cells_give():
    """Written anew by `python -m tests.notebook.shown`. Its plot is held to its four curves, its figures to the last digit."""
    cells = json.loads(shown.NOTEBOOK.read_text(encoding="utf-8"))["cells"]
    code = [cell for cell in cells if cell["cell_type"] == "code"]
    source = ["".join(cell["source"]) for cell in code]
    assert sum(cell.count("\n") + 1 for cell in source) <= 20
    for cell, run in zip(code, shown.made(source)):
        for kept, now in zip(cell["outputs"], run["outputs"], strict=True):
            assert kept.get("text") == now.get("text")
            assert len(kept.get("data", {}).get("image/svg+xml", [])) == len(now.get("data", {}).get("image/svg+xml", []))
    assert "a plot" in str(code[-1]["outputs"])
