"""Drawing sheets: sizes, every part on a sheet, references that agree, names large enough, the same bytes."""

import io
import re
import xml.etree.ElementTree as ET
from functools import cache

import pytest

from circuit.cli import main
from circuit.declaring.traits import Trait
from circuit.draw.fixed import body_boxes
from circuit.draw.labels import letter
from circuit.draw.measure import boxes_meet
from circuit.draw.medium import LEAST_MM, SIZES
from circuit.draw.parts import own_name
from circuit.draw.sheet import fold_onto, sheets, sheets_as_svg
from circuit.draw.text import CAPITAL
from circuit.pipeline import judged as judge_circuit
from circuit.pipeline import load
from circuit.report.marked import marks_of
from circuit.report.sheets.origin import block_of
from circuit.report.situations import SITUATIONS, reading
from tests.designs import EXAMPLES, example_names
from tests.outside import library

pypdf = library("pypdf")
MM = 72 / 25.4
SLOW = pytest.mark.slow
EXAMPLE_NAMES = [name for name in example_names() if name not in ("truck-6x4", "teaching-board")]


@cache
def verdict(name):
    return judge_circuit(load(str(EXAMPLES / name / "design.air")))


@cache
def folded(name, size):
    return fold_onto(verdict(name).circuit, size)


@cache
def pages(name, size, state=""):
    found = verdict(name)
    air = reading(found.evidence, state) if state else None
    return sheets(folded(name, size), block_of(found), size, marks_of(found), air)


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
    content = sheets(folded("teaching-board", "A4"), block_of(found, "3 May 2031"), "A4")
    assert "3 May 2031" in words_of(content)


EACH = [("truck-6x4", "A4"), ("truck-6x4", "A3"), ("teaching-board", "Letter"), *(
    pytest.param(name, size, marks=SLOW) for name in EXAMPLE_NAMES for size in ("A3", "Letter"))]


@pytest.mark.parametrize(("name", "size"), EACH)
def test_every_flag_names_the_sheet_and_the_field_of_its_other_part(name, size):
    """Read from the words of the PDF, each at its place."""
    places = {}
    for number, page in enumerate(read(pages(name, size)).pages, 1):
        for words, x, y in placed_words(page):
            found = re.fullmatch(r"(\d+) \S+ (\d+)/([A-K])(\d+)", words)
            if found:
                wide, high = SIZES[size]
                columns, rows = (8, 6) if wide > 350 else (6, 4)
                across, up = (wide - 24) / columns, (high - 24) / rows
                middle = y + LEAST_MM / 2  # of the letters, which is that of the flag; y is their base
                field = "ABCDEFGH"[int((high - 12 - middle) / up)], int((x - 12) / across) + 1
                places.setdefault(int(found[1]), []).append((number, field, (int(found[2]), found[3], int(found[4]))))
    cut = sum(body.flag is not None for sheet in folded(name, size) for body in sheet.bodies)
    assert sum(len(own) for own in places.values()) == cut and all(len(own) == 2 for own in places.values())
    for (sheet, field, there), (other_sheet, other_field, back) in places.values():
        for told, real, at in ((there, other_field, other_sheet), (back, field, sheet)):
            assert told[0] == at and told[1] == real[0]
            assert 0 <= told[2] - real[1] <= 1  # the words begin left of the middle, which the field is of


def placed_words(page):
    """Words with the mm from the lower left corner at which they begin."""
    found = []

    def visit(words, within, matrix, *_):
        if words.strip():
            x, y = matrix[4], matrix[5]
            found.append((words.strip(), (within[0] * x + within[2] * y + within[4]) / MM,
                          (within[1] * x + within[3] * y + within[5]) / MM))

    page.extract_text(visitor_text=visit)
    return found


@pytest.mark.parametrize(("name", "size"), EACH)
def test_no_letter_is_lower_than_the_standards_least(name, size):
    """Capitals of ISO 3098 have 1.8 mm at least; heights as they stand in the PDF, frame and title block included."""
    heights = []

    def visit(words, within, matrix, _font, letters):
        if words.strip():
            scale = ((within[0] ** 2 + within[1] ** 2) * (matrix[2] ** 2 + matrix[3] ** 2)) ** 0.5
            heights.append((letters * scale * CAPITAL / MM, words.strip()))

    for page in read(pages(name, size)).pages:
        page.extract_text(visitor_text=visit)
    assert len(heights) > 60
    assert [pair for pair in heights if pair[0] < LEAST_MM - 0.01] == []


@pytest.mark.parametrize(("name", "size"), EACH)
def test_a_part_is_split_by_nothing_and_every_line_is_drawn(name, size):
    found = folded(name, size)
    names = [body.device.name for sheet in found for body in sheet.bodies if body.flag is None]
    assert len(names) == len(set(names))
    for sheet in found:
        frames = [(f.left, f.top, f.left + f.wide, f.top + f.high) for f in sheet.frames]
        for body in sheet.bodies:
            boxes = list(body_boxes(sheet, body))
            assert all(sum(boxes_meet(box, frame) for frame in frames) == 1 for box in boxes if frames)
        assert letter(sheet).unplaced == []
    circuit = verdict(name).circuit
    drawn = {run.line.name for sheet in found for each in sheet.wires for run in each.wire.runs if run.line}
    assert drawn == {device.name for device in circuit.devices if device.is_line}
    assert any(body.device.has(Trait.COMPRESSES) for body in found[0].bodies) or not circuit.having(Trait.COMPRESSES)


def test_the_same_bytes_on_every_run():
    found = verdict("truck-6x4")
    assert sheets(fold_onto(found.circuit, "A4"), block_of(found), "A4", marks_of(found)) == pages("truck-6x4", "A4")


@pytest.mark.parametrize("state", [situation.key for situation in SITUATIONS])
def test_a_state_is_written_on_the_sheet(state):
    words = words_of(pages("teaching-board", "A3", state))
    assert "predicted" in words and "state shown" in words and "values in bar" in words
    assert len(re.findall(r"^\d\.\d$", words, re.M)) >= 5


SVG = "{http://www.w3.org/2000/svg}"


@cache
def drawn(name, size):
    return sheets_as_svg(folded(name, size), block_of(verdict(name)), size, marks_of(verdict(name)))


def test_sheets_as_svg_say_what_the_pdf_says():
    found = drawn("truck-6x4", "A4")
    paged = read(pages("truck-6x4", "A4")).pages
    assert len(found) == len(paged) > 1
    for text, page in zip(found, paged):
        root = ET.fromstring(text)
        assert (root.get("width"), root.get("height")) == ("297mm", "210mm")
        words = {"".join(each.itertext()) for each in root.iter(f"{SVG}text")}
        assert {"builder", "signature", f"{found.index(text) + 1} of {len(found)}"} <= words
        there = "".join(page.extract_text().split())
        assert all("".join(each.split()) in there for each in words)
        for each in root.iter(f"{SVG}use"):
            link = each.get("{http://www.w3.org/1999/xlink}href") or each.get("href")
            assert root.find(f".//*[@id='{link[1:]}']") is not None


def test_a_mark_and_a_flag_are_on_the_svg_too():
    words = "".join(ET.fromstring(drawn("teaching-board", "A3")[0]).itertext())
    assert "finding: error" in words
    assert re.search(r"\d+ \S+ \d/[A-D]\d", "\n".join(ET.fromstring(drawn("truck-6x4", "A4")[1]).itertext()))


def test_the_command_writes_each_sheet_and_replaces_none(tmp_path, capsys):
    design, target = str(EXAMPLES / "truck-6x4" / "design.air"), tmp_path / "board.png"
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


def test_revisions_are_what_compare_finds(tmp_path, capsys):
    text = (EXAMPLES / "teaching-board" / "design.air").read_text(encoding="utf-8")
    one, two, three = (tmp_path / f"{name}.air" for name in ("one", "two", "three"))
    for path, litres in ((one, "40 L"), (two, "42 L"), (three, "46 L")):
        path.write_text(text.replace("46 L", litres), encoding="utf-8")
    asked = ["draw", str(three), "--sheet", "A3", "-o", str(tmp_path / "a.pdf")]
    assert main([*asked, "--earlier", f"A={one}", "--earlier", f"B={two}"]) == 0
    words = words_of((tmp_path / "a.pdf").read_bytes())
    assert "first version" in words and words.count("1 set") == 2 and "this" in words
    assert main([*asked, "--force", "--earlier", "A"]) == 2 and "--earlier A=design-a.air" in capsys.readouterr().err


def test_fonts_are_embedded():
    for page in read(pages("truck-6x4", "A3")).pages:
        for font in page["/Resources"]["/Font"].values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"].get_object()
