"""The papers as programs that are not ours read them: sizes, words, fonts; and files for programs as csv reads them."""

import csv
import re
import subprocess
from pathlib import Path

import pytest

from circuit.cli import main
from circuit.declaring.traits import Trait
from circuit.draw.sheet import SIZES
from circuit.pipeline import load
from tests.designs import EXAMPLES, example_names
from tests.outside import program
from tests.papers.made import NAME, written

MM = 72 / 25.4
SCHEMATIC = 3
"""The page of the one sheet."""
PLAIN = {"A4": "A4", "A3": "A4", "Letter": "Letter", "Tabloid": "Letter"}
"""The size of the pages beside each size of sheets."""


def said(*words: object) -> str:
    return subprocess.run([*map(str, words)], capture_output=True, text=True, check=True).stdout


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    return written(tmp_path_factory.mktemp("papers"))


def page_sizes(path: Path) -> list[tuple[float, float]]:
    told = said(program("pdfinfo"), "-f", 1, "-l", 999, path)
    return [(float(wide), float(high)) for wide, high in re.findall(r"^Page +\d+ size: +([\d.]+) x ([\d.]+) pts", told, re.M)]


def words_of(path: Path) -> list[str]:
    """The text of each page, words parted by one space."""
    return [" ".join(page.split()) for page in said(program("pdftotext"), "-layout", path, "-").split("\f")[:-1]]


@pytest.mark.parametrize("size", sorted(SIZES))
def test_pages_have_the_size_that_was_asked_for(tmp_path, size):
    found = page_sizes(written(tmp_path, size=size) / "papers.pdf")
    sheet, plain = (tuple(side * MM for side in SIZES[name]) for name in (size, PLAIN[size]))
    assert len(found) > 10
    for number, each in enumerate(found, 1):
        assert each == pytest.approx(sheet if number == SCHEMATIC else plain, abs=0.6), number


def test_no_page_is_without_title_block_and_none_is_blank(folder):
    found = words_of(folder / "papers.pdf")
    fingerprint = re.search(r"design\.air, ([0-9a-f]{16})", found[0])
    assert fingerprint
    for number, page in enumerate(found, 1):
        assert fingerprint[1] in page and "airwright" in page and "not an approval" in page, number
        assert "page" not in page.rsplit("airwright", 1)[-1] or f"page {number} of {len(found)}" in page
        assert len(page) > 350, number


def test_fonts_are_embedded(folder):
    rows = said(program("pdffonts"), folder / "papers.pdf").split("\n")[2:]
    found = [row for row in rows if row.strip()]
    assert found
    for row in found:
        assert row.split()[-5:-2] == ["yes", "yes", "yes"], row  # embedded, a subset, with the way back to letters


def everything(name: str, folder: Path) -> None:
    """Every part, end of a line and figure of the design is in the words of the PDF, and so is every cell of the CSV."""
    pages = "".join("".join(page.split()) for page in said(program("pdftotext"), "-raw", folder / "papers.pdf", "-").split("\f"))
    circuit = load(str(EXAMPLES / name / "design.air"))
    for device in circuit.devices:
        for part in ([end[0] for end in device.ends] if device.ends else [device.name]):
            assert part in pages
    for path in sorted(folder.glob("*.csv")):
        head, *rows = csv.reader(path.open(encoding="utf-8", newline=""))
        assert all(head) and all(len(row) == len(head) for row in rows), path.name
        for row in rows:
            for cell in row:
                assert "".join(cell.removeprefix("'").split()) in pages, (path.name, cell)


def test_the_words_of_the_pdf_are_those_of_the_design_and_the_csv(folder):
    everything(NAME, folder)


@pytest.mark.slow
@pytest.mark.parametrize("name", [name for name in example_names() if name != NAME])
def test_the_papers_of_every_example_hold_everything(tmp_path, name):
    everything(name, written(tmp_path, name))


UNIT = {"in", "in3", "L", "lbf", "kN", "s", "ms", "mm", "m"}


def test_columns_of_figures_name_their_unit_and_hold_numbers(folder):
    """A head that ends in a unit has nothing but numbers below; figures with a unit in the cell have none in the head."""
    held = 0
    for path in sorted(folder.glob("*.csv")):
        for row in csv.DictReader(path.open(encoding="utf-8", newline="")):
            for name, cell in row.items():
                if name.split()[-1] in UNIT and cell:
                    float(cell)
                    held += 1
    assert held > 60


def agree(name: str, folder: Path, told) -> None:
    """Volumes, times, applications, faults and trials: one figure wherever it stands. told: a command's output."""
    def rows(key):
        path = folder / f"{key}.csv"
        return list(csv.DictReader(path.open(encoding="utf-8", newline=""))) if path.exists() else []

    sizes = told("sizes")
    for key in ("chambers", "reservoirs", "ratios", "fills"):
        for row in rows(key):
            assert re.search(r"^" + r" +".join(map(re.escape, filter(None, row.values()))) + "$", sizes, re.M)
    for words, keys in (("respond", ("response",)), ("charge reserve", ("build-up", "limits", "applications")),
                        ("leak-down", ("leaking",))):
        printed = " ".join(told(word) for word in words.split()).lower()
        for row in (row for key in keys for row in rows(key)):
            # a terminal breaks long cells over lines, so that it is their words and figures that are looked for
            missing = [part for cell in row.values() for part in (cell or "").lower().split() if part not in printed]
            assert not missing, (words, row, missing)
    faults = " ".join(told("faults").split())
    for row in rows("faults"):
        cells = [part for name in ("lost", "left", "clauses") for part in row[name].split(" \u00b7 ")]
        cells += [part.partition(": ")[2] for part in row["noticed, now, mended by"].split(" \u00b7 ")]
        assert not [part for part in cells if part not in faults], row
    trials = told("run") if rows("trials") else ""
    for row in rows("trials"):
        assert not [part for cell in row.values() for part in (cell or "").split() if part not in trials], row


def commands(name: str, capsys):
    """What a command prints of an example."""
    def told(word: str) -> str:
        capsys.readouterr()
        assert main([word, str(EXAMPLES / name / "design.air")]) in (0, 1), capsys.readouterr().err
        return capsys.readouterr().out

    return told


def test_what_the_papers_say_is_what_the_commands_print(folder, capsys):
    agree(NAME, folder, commands(NAME, capsys))


@pytest.mark.slow
@pytest.mark.parametrize("name", [name for name in example_names() if name != NAME])
def test_papers_of_every_example_say_what_the_commands_print(tmp_path, name, capsys):
    agree(name, written(tmp_path, name), commands(name, capsys))


def test_every_gauge_and_test_point_has_a_row_at_every_step(folder):
    circuit = load(str(EXAMPLES / NAME / "design.air"))
    points = [d.name for d in circuit.devices if d.has(Trait.SHOWS_PRESSURE) or d.has(Trait.TESTS_PRESSURE)]
    assert points
    rows = list(csv.DictReader((folder / "test-record.csv").open(encoding="utf-8", newline="")))
    for step in ("charge", "drive", "apply", "release"):
        there = {row["place"]: row["expected"] for row in rows if row["step"] == step}
        assert set(points) <= set(there)
        assert all(re.fullmatch(r"[\d.]+ psi \([\d.]+ bar\)", words) for words in there.values())


@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_sheet_alone_has_the_size_that_was_asked_for(tmp_path, size):
    target = tmp_path / "board.pdf"
    assert main(["draw", str(EXAMPLES / "teaching-board" / "design.air"), "--sheet", size, "-o", str(target)]) == 0
    found = page_sizes(target)
    assert found and all(each == pytest.approx(tuple(side * MM for side in SIZES[size]), abs=0.6) for each in found)


def test_every_part_is_on_the_sheets_of_the_truck(tmp_path):
    design, target = str(EXAMPLES / "truck-6x4" / "design.air"), tmp_path / "truck.pdf"
    assert main(["draw", design, "--sheet", "A4", "-o", str(target)]) == 0
    words = set(" ".join(words_of(target)).split())
    names = {device.name for device in load(design).devices if not device.is_line}
    assert len(names) > 30 and names - words == set()
