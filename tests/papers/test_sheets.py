"""Drawing sheets: sizes, every part on a sheet, references that agree, names large enough, the same bytes."""

import io
import re
import xml.etree.ElementTree as ET
from functools import cache

import pytest

from circuit.cli import main
from circuit.draw.export import know_fonts
from circuit.draw.labels import letter
from circuit.draw.layout import lay_out_circuit
from circuit.draw.measure import line_meets
from circuit.draw.parts import own_name
from circuit.draw.sheet import LEAST, LEAST_NAME, SIZES, draw_sheets, sheets, sheets_as_svg
from circuit.draw.text import NAME
from circuit.draw.windows import windows
from circuit.pipeline import judged as judge_circuit
from circuit.pipeline import load
from circuit.report.marks import marks_of
from circuit.report.sheets.origin import block_of
from circuit.report.situations import SITUATIONS, reading
from tests.designs import EXAMPLES
from tests.outside import library

pypdf = library("pypdf")
MM = 72 / 25.4


@cache
def verdict(name):
    return judge_circuit(load(str(EXAMPLES / name / "design.air")))


@cache
def layout(name):
    return lay_out_circuit(verdict(name).circuit)


@cache
def pages(name, size, state=""):
    found = verdict(name)
    air = reading(found.evidence, state) if state else None
    return sheets(layout(name), block_of(found), size, marks_of(found), air)


def read(content):
    return pypdf.PdfReader(io.BytesIO(content))


def words_of(content):
    return "\n".join(page.extract_text() for page in read(content).pages)


@pytest.mark.parametrize("size", sorted(SIZES))
def test_sheets_have_their_size(size):
    for page in read(pages("teaching-board", size)).pages:
        wide, high = SIZES[size]
        assert float(page.mediabox.width) == pytest.approx(wide * MM, abs=0.01)
        assert float(page.mediabox.height) == pytest.approx(high * MM, abs=0.01)


SLOW = pytest.mark.slow


@pytest.mark.parametrize(("name", "size"), [("truck-6x4", "A3"), ("truck-6x4", "A4"),
                                            pytest.param("combination-semi", "A3", marks=SLOW)])
def test_every_part_is_named_on_a_sheet(name, size):
    """In a combination without the vehicle's own name, which stands on its frame."""
    words, circuit = words_of(pages(name, size)), verdict(name).circuit
    called = [own_name(circuit, device.name) for device in circuit.devices if not device.is_line]
    assert called and [each for each in (*called, *circuit.vehicles) if each not in words] == []


@pytest.mark.slow
def test_no_sheet_is_empty():
    """A grid of sheets over a long drawing has places where nothing is."""
    names = [device.name for device in verdict("semitrailer-europe").circuit.devices if not device.is_line]
    found = read(pages("semitrailer-europe", "A3")).pages
    assert len(found) > 1
    for page in found:
        words = page.extract_text().split()
        assert any(name in words for name in names)


def test_the_title_block_says_what_is_known_and_leaves_the_rest_blank():
    words = words_of(pages("truck-6x4", "A3"))
    block = block_of(verdict("truck-6x4"))
    for known in (block.title, block.fingerprint, block.tool, "1 of 1", "not an approval", "571.121"):
        assert known in words
    for blank in ("builder", "signature", "checked by", "licence no.", "modification", "date"):
        assert blank in words
    assert not re.search(r"\b20\d\d-\d\d-\d\d\b", words)


def test_a_date_is_printed_where_one_was_given():
    found = verdict("teaching-board")
    content = sheets(layout("teaching-board"), block_of(found, "3 May 2031"), "A4")
    assert "3 May 2031" in words_of(content)


def test_a_large_circuit_is_cut_into_sheets_whose_references_agree():
    content = pages("truck-6x4", "A4")
    found = [re.findall(r"\b([A-Z]\d+) sheet (\d+)|\b([A-Z]\d+)\s+sheet (\d+)", page.extract_text())
             for page in read(content).pages]
    signs = [{(a or c, int(b or d)) for a, b, c, d in each} for each in found]
    assert len(signs) == 2 and signs[0]
    assert {label for label, _ in signs[0]} == {label for label, _ in signs[1]}
    assert {sheet for _, sheet in signs[0]} == {2} and {sheet for _, sheet in signs[1]} == {1}


@pytest.mark.parametrize("name", ["truck-6x4", *(pytest.param(name, marks=SLOW) for name in (
    "combination-semi", "combination-train", "city-bus", "tyre-inflation", "semitrailer-europe"))])
@pytest.mark.parametrize(("wide", "high"), [(200.0, 110.0), (140.0, 75.0)])
def test_windows_hold_every_body_whole_and_every_cut_line_has_two_signs(name, wide, high):
    own = layout(name)
    found = windows(own, letter(own, ()), wide, high)
    for window in found:
        assert window.width <= wide + 0.01 and window.height <= high + 0.01
        assert any(line_meets(stretch, window.box) for drawn in own.wires for stretch in drawn.stretches)
    for body in own.bodies:
        box = (body.x, body.y, body.x + body.width, body.y + body.height)
        assert any(w.box[0] <= box[0] and w.box[1] <= box[1] and box[2] <= w.box[2] and box[3] <= w.box[3] for w in found), \
            body.device.name
    for drawn in own.wires:
        for stretch in drawn.stretches:
            assert any(line_meets(stretch, w.box) for w in found)
    for number, window in enumerate(found):
        for crossing in window.crossings:
            back = [c for c in found[crossing.sheet].crossings if c.label == crossing.label]
            assert [(c.x, c.y, c.sheet) for c in back] == [(crossing.x, crossing.y, number)]


def test_names_are_large_enough_on_every_sheet():
    sizes = []
    know_fonts()

    class Canvas:
        def __getattr__(self, _name):
            return lambda *args, **more: Canvas()

    import circuit.draw.sheet as module

    before = module._svg_at
    try:
        module._svg_at = lambda canvas, symbols, rows, move, extent, at: sizes.append((bool(symbols), at[2]))
        for size in SIZES:
            draw_sheets(Canvas(), layout("truck-6x4"), block_of(verdict("truck-6x4")), size)
    finally:
        module._svg_at = before
    drawings = [scale for symbols, scale in sizes if symbols]
    assert len(drawings) > len(SIZES)
    assert min(drawings) >= LEAST - 1e-9 and LEAST * NAME / 10 == pytest.approx(LEAST_NAME)


def test_the_same_bytes_on_every_run():
    found = verdict("truck-6x4")
    assert sheets(lay_out_circuit(found.circuit), block_of(found), "A4", marks_of(found)) == pages("truck-6x4", "A4")


@pytest.mark.parametrize("state", [situation.key for situation in SITUATIONS])
def test_a_state_is_written_on_the_sheet(state):
    words = words_of(pages("teaching-board", "A3", state))
    assert "predicted" in words and "state shown" in words and "values in bar" in words
    assert len(re.findall(r"^\d\.\d$", words, re.M)) >= 5


SVG = "{http://www.w3.org/2000/svg}"


@cache
def drawn(name, size):
    return sheets_as_svg(layout(name), block_of(verdict(name)), size, marks_of(verdict(name)))


def test_sheets_as_svg_say_what_the_pdf_says():
    found = drawn("truck-6x4", "A4")
    paged = read(pages("truck-6x4", "A4")).pages
    assert len(found) == len(paged) == 2
    for text, page in zip(found, paged):
        root = ET.fromstring(text)
        assert (root.get("width"), root.get("height")) == ("297mm", "210mm")
        words = {"".join(each.itertext()) for each in root.iter(f"{SVG}text")}
        assert {"revisions", "builder", "signature", f"{found.index(text) + 1} of 2"} <= words
        there = "".join(page.extract_text().split())
        assert all("".join(each.split()) in there for each in words)
        for each in root.iter(f"{SVG}use"):
            link = each.get("{http://www.w3.org/1999/xlink}href") or each.get("href")
            assert root.find(f".//*[@id='{link[1:]}']") is not None


def test_a_mark_and_a_cut_are_on_the_svg_too():
    words = "".join(ET.fromstring(drawn("teaching-board", "A3")[0]).itertext())
    assert "finding: error" in words
    assert "A1" in "".join(ET.fromstring(drawn("truck-6x4", "A4")[0]).itertext())


def test_the_command_writes_each_sheet_and_replaces_none(tmp_path, capsys):
    design, target = str(EXAMPLES / "teaching-board" / "design.air"), tmp_path / "board.png"
    (tmp_path / "board-2.png").write_bytes(b"mine")
    asked = ["draw", design, "--sheet", "A4", "-o", str(target)]
    assert main(asked) == 2 and "board-2.png is there already" in capsys.readouterr().err
    assert not target.exists() and (tmp_path / "board-2.png").read_bytes() == b"mine"
    assert main([*asked, "--force"]) == 0
    assert "board.png, " in capsys.readouterr().out
    for path in (target, tmp_path / "board-2.png"):
        head = path.read_bytes()[:24]
        wide, high = int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")
        assert head[:4] == b"\x89PNG" and wide / high == pytest.approx(297 / 210, abs=0.002)
    assert main(["draw", design, "--sheet", "A4", "-o", str(tmp_path / "x.dot")]) == 2


def test_fonts_are_embedded():
    for page in read(pages("truck-6x4", "A3")).pages:
        for font in page["/Resources"]["/Font"].values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"].get_object()
