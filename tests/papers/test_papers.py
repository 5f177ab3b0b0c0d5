"""The papers: one source for PDF and CSV, every part and assumption in them, blanks where only a person can write."""

import csv
import io
from functools import cache

import pytest

from circuit.clauses import clause
from circuit.cli import main
from circuit.declaring.traits import Trait
from circuit.judging.rule import Result
from circuit.judging.volumes import counted_volume, counts, shares
from circuit.pipeline import judged, load, load_source
from circuit.report.marked import marks_of
from circuit.report.sheets.cautions import CAUTIONS
from circuit.report.folded import folded
from circuit.report.sheets.clause_sheet import SIMULATED
from circuit.report.sheets.pages import SIZE
from circuit.report.sheets.papers import papers
from circuit.report.plain import as_text
from circuit.report.sheets.records import stroke_record
from circuit.report.sheets.printed import names_in, printed
from circuit.report.table import ASSUMED_FACE, Table, as_csv, said_once
from circuit.report.studies.sizes import both_volumes
from circuit.report.sheets.widths import PAD, cut_to, long, widths
from circuit.source import Source
from tests.designs import EXAMPLES
from tests.outside import library
from tests.papers.made import all_papers, pdf, tables, verdict

pypdf = library("pypdf")


@cache
def pages():
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf())).pages]


def squeezed(words):
    return "".join(words.split())


def test_rows_fit_their_columns_and_keys_differ():
    keys = [table.key for paper in all_papers() for table in paper.tables]
    assert len(keys) == len(set(keys))
    for table in tables().values():
        assert all(len(row) == len(table.columns) for row in table.rows), table.key
        assert len(set(table.columns)) == len(table.columns)
        named = table.blank | table.numbers | table.wide | set(table.bands) | {table.joined} - {""}
        assert named <= set(table.columns), table.key


def test_csv_gives_back_the_rows():
    for table in tables().values():
        head, *rows = csv.reader(io.StringIO(as_csv(table)))
        assert tuple(head) == table.columns
        assert [tuple(cell.removeprefix("'") for cell in row) for row in rows] == [
            tuple(cell.removeprefix("'") for cell in row) for row in table.rows]


def test_a_cell_cannot_be_a_formula():
    table = Table("x", "x", ("a", "b"), (("=1+1", "-2"),), numbers=frozenset({"b"}))
    assert as_csv(table).splitlines()[1] == "'=1+1,-2"


def test_sums_of_the_csv_are_the_volume_sheet():
    found, known = verdict(), tables()
    own = list(csv.DictReader(io.StringIO(as_csv(known["chambers"]))))
    assert sum(float(row["counts in3"]) for row in own) == pytest.approx(
        sum(counted_volume(c) for c in found.evidence.chambers) / 0.0254**3, abs=0.06 * len(own))
    held = [row for row in csv.DictReader(io.StringIO(as_csv(known["reservoirs"]))) if row["counts"] == "yes"]
    whole = next(share for share in shares(found.evidence) if share.rule_total)
    ratio = next(csv.DictReader(io.StringIO(as_csv(known["ratios"]))))
    assert sum(float(row["volume L"]) for row in held) == pytest.approx(float(ratio["reservoirs L"]), abs=0.01 * len(held))
    assert (ratio["reservoirs in3"], ratio["reservoirs L"]) == both_volumes(whole.tank_volume)
    assert float(ratio["ratio"]) == pytest.approx(whole.ratio, abs=0.005)
    assert len(held) == sum(counts(found.evidence, tank)[0] for tank in found.circuit.reservoirs)


def test_a_table_as_text_has_each_head_over_its_figures():
    table = Table("x", "x", ("what", "goes in3", "goes L", "stroke in", "left % after 1", "left % after 5", "measured", "never"),
                  (("a", "5.0", "0.08", "2.50", "93", "70", "", ""),), ("A note.",), frozenset({"measured"}),
                  frozenset({"goes in3", "goes L", "stroke in", "left % after 1", "left % after 5"}))
    assert as_text(table) == [
        "      goes       stroke  left % after",
        "what  in3     L      in   1         5",
        "-" * 37,
        "a     5.0  0.08    2.50  93        70",
        "A note.",
    ]


def test_a_note_of_several_tables_is_said_once():
    first, second = (Table(key, key, ("a",), (), ("both", key)) for key in ("x", "y"))
    assert [table.notes for table in said_once((first, second))] == [("both", "x"), ("y",)]


def test_every_thing_is_in_its_list():
    circuit = verdict().circuit
    known = tables()
    assert known["parts"].column("part") == [d.name for d in circuit.devices if not d.is_line]
    lines = [d for d in circuit.devices if d.is_line]
    assert len(known["tubes"].rows) == len(lines) and all(known["tubes"].column("role"))
    total = sum(float(cell) for cell in known["tubes"].column("length m") if cell)
    assert total == pytest.approx(sum(d.settings["length"] for d in lines if d.settings.get("length")), abs=0.005 * len(lines))
    assert len(known["assumptions"].rows) == len(circuit.assumed)
    cut_out = next(row for row in known["settings"].rows if row[2] == "cut-out")
    assert "declared" in cut_out and "8.60 bar" in cut_out[5]


def test_the_pdf_shows_every_part_line_and_caution():
    words = squeezed("".join(pages()))
    circuit = verdict().circuit
    for device in circuit.devices:
        for name in ([end[0] for end in device.ends] if device.ends else [device.name]):
            assert squeezed(name) in words
    for caution in CAUTIONS:
        assert squeezed(caution) in words


def test_the_pdf_and_the_csv_say_the_same():
    words = squeezed("".join(pages()))
    for key, table in tables().items():
        for row in table.rows:
            for cell in row:
                assert squeezed(cell) in words, (key, cell)


def test_papers_with_assumed_values_say_so_on_their_face():
    for title in ("Settings sheet", "Assumptions", "Fault table", "Response prediction", "Charging and reserve", "Test record"):
        page = next(words for words in pages()[2:] if words.lstrip().startswith(title))
        assert ASSUMED_FACE in page
        assert "not an approval and not a measurement" in page


def test_what_only_a_person_knows_stays_blank():
    for table in tables().values():
        for name in table.blank:
            assert not any(table.column(name)), (table.key, name)
    cover = pages()[0]
    for field in ("builder", "vehicle id (VIN)", "signature", "checked by", "date"):
        assert field in cover


def test_every_assumption_says_who_must_confirm_it():
    rows = csv.DictReader(io.StringIO(as_csv(tables()["assumptions"])))
    known = {(row["part"], row["setting"]): row["who must confirm it"] for row in rows}
    assert len(known) == len(verdict().circuit.assumed)
    assert known["foot", "conductance"] == "the maker of the part, from its data"
    assert known["rear-left", "working-stroke"] == "the fitter, by measuring on the vehicle"
    assert known["front-release", "deliveries"] == "the designer, by choosing"


def test_findings_are_numbered_as_on_the_schematic():
    waived, row, *simulated = tables()["findings"].rows
    assert [each[0] for each in (row, *simulated)] == [mark.label for mark in marks_of(verdict())] and row[1] == "error"
    assert row[5] and row[8].startswith("49 CFR 571.121") and simulated
    assert waived[1] == "accepted" and tables()["findings"].marks[1]
    assert [each[2] for each in simulated] == [f"{p.says}; predicted by simulation" for p in verdict().predicted
                                               if p.result is Result.NOT_MET]


def test_rows_that_share_something_have_it_said_once_above_them():
    table = Table("x", "x", ("step", "place", "value", "measured"),
                  (("on", "a", "1", ""), ("off", "a", "2", ""), ("on", "b", "1", ""), ("on", "c", "3", "")),
                  blank=frozenset({"measured"}), bands=("step",), joined="place")
    shown, groups = folded(table)
    assert shown.columns == ("place", "value", "measured")
    assert groups == ((("on",), (("a, b", "1", ""), ("c", "3", ""))), (("off",), (("a", "2", ""),)))
    assert folded(table._replace(bands=(), joined="")).groups == (((), table.rows),)


def test_contents_name_the_page_on_which_each_paper_begins():
    words = pages()[1]
    for paper in all_papers():
        page = next(number for number, text in enumerate(pages(), 1) if number > 2 and text.lstrip().startswith(paper.title))
        assert squeezed(f"{paper.title}{page}") in squeezed(words)
    for caution in CAUTIONS:
        assert squeezed(caution) in squeezed(words)


def test_the_cover_counts_the_outcomes():
    outcomes = tables()["clauses"].column("outcome")
    for outcome in set(outcomes):
        assert squeezed(f"{outcome}: {outcomes.count(outcome)}") in squeezed(pages()[0])


def test_the_test_record_has_each_step_at_each_place():
    rows = tables()["test-record"].rows
    steps = {row[0] for row in rows}
    assert {"charge", "cut-out", "cut-in", "warning", "drive", "apply", "release", "leak-down"} <= steps
    assert ("park" in steps) == bool(verdict().circuit.having(Trait.PARK_CONTROL))
    gauges = [d.name for d in verdict().circuit.having(Trait.SHOWS_PRESSURE)]
    assert gauges
    for gauge in gauges:
        assert {row[0] for row in rows if row[2] == gauge} >= {"charge", "drive", "apply", "release"}


def test_every_record_says_what_its_work_needs_on_each_sheet():
    records = [table for table in tables().values() if table.key.endswith("record") or table.key == "photographs"]
    assert {table.key for table in records} == {"test-record", "leak-record", "stroke-record", "balance-record", "photographs"}
    for table in records:
        chocked, gauge, clear = (words.lower() for words in table.cautions)
        assert "chocked" in chocked and "drained to nothing" in gauge and "charge" in gauge and "nobody at" in clear
    sheets = [squeezed(text) for text in pages() if text.lstrip().startswith(("Test record", "Leak, stroke and balance"))]
    assert len(sheets) > 2
    for text in sheets[:-1]:
        assert all(squeezed(words) in text for words in tables()["test-record"].cautions)


def test_strokes_are_measured_at_the_pressure_that_the_clause_names():
    asked = clause("us-federal/393.47(e)")
    heading = tables()["stroke-record"].columns[6]
    assert heading == "applied at 80 to 90 psi" and "80 to 90 psi" in asked.asks
    without = judged(load(str(EXAMPLES / "semitrailer-europe" / "design.air")), ("un-r13",))
    assert stroke_record(without).columns[6] == "applied, at which pressure"


def test_a_clause_that_a_simulation_answers_says_so():
    found = tables()
    asked = {cited for key in ("response", "build-up", "reserve-limits") if key in found
             for cited in found[key].column("asked by")} - {""}
    assert asked
    for cited in asked:
        assert any(row[1] == cited and SIMULATED in row[4] for row in found["clauses"].rows), cited


def test_each_study_is_worked_out_once_for_all_papers():
    all_papers()
    asked = [question[0].__name__ for question in verdict().circuit.answers.questions if isinstance(question, tuple)]
    studies = {"respond", "_charge", "_reserve", "leak_down", "run_trials"}
    assert sorted(name for name in asked if name in studies) == sorted(studies)


def test_the_same_bytes_on_every_run():
    assert printed(verdict(), all_papers(), marks_of(verdict())) == pdf()


def test_columns_fit_the_page_and_words_their_columns():
    for table in tables().values():
        shown, groups = folded(table)
        found = widths(shown, 273.0, SIZE)
        assert sum(found) <= 273.0 + 1e-6
        for place, width in enumerate(found):
            for row in (row for _, rows in groups for row in rows):
                for line in cut_to(row[place], width - 2 * PAD, SIZE, "Sheet"):
                    assert long(line, SIZE, "Sheet") <= width - 2 * PAD + 1e-6


def test_a_long_word_is_broken_and_nothing_is_lost():
    lines = cut_to("semi.left-modulator.with-a-very-long-name and more", 18.0, SIZE, "Sheet")
    assert len(lines) > 2 and squeezed("".join(lines)) == "semi.left-modulator.with-a-very-long-nameandmore"


def test_the_command_writes_and_does_not_overwrite(tmp_path, capsys):
    design = str(EXAMPLES / "semitrailer-old" / "design.air")
    folder = tmp_path / "papers"
    assert main(["papers", design, "-o", str(folder)]) == 0
    names = {path.name for path in folder.iterdir()}
    assert "papers.pdf" in names and {"parts.csv", "tubes.csv", "test-record.csv", "assumptions.csv"} <= names
    before = (folder / "papers.pdf").read_bytes()
    (folder / "parts.csv").write_text("mine", encoding="utf-8")
    assert main(["papers", design, "-o", str(folder)]) == 2
    assert "--force" in capsys.readouterr().err and (folder / "parts.csv").read_text(encoding="utf-8") == "mine"
    assert main(["papers", design, "-o", str(folder), "--force"]) == 0
    assert (folder / "papers.pdf").read_bytes() == before and (folder / "parts.csv").read_text(encoding="utf-8") != "mine"
    assert names_in(before) == names - {"papers.pdf"}


def test_a_table_that_the_new_set_lacks_goes_and_what_is_not_of_the_set_stays(tmp_path, capsys):
    """The new design has next to nothing: the table of trials would tell of one that there is no more."""
    folder = tmp_path / "papers"
    folder.mkdir()
    for name, content in {"papers.pdf": pdf(), "measured.csv": b"mine", "photo.png": b"mine"}.items():
        (folder / name).write_bytes(content)
    of_board = {f"{key}.csv" for key in tables()}
    for name in of_board:
        (folder / name).write_bytes(b"old")
    (tmp_path / "a.air").write_text("vehicle x: class truck\n", encoding="utf-8")
    assert main(["papers", str(tmp_path / "a.air"), "-o", str(folder), "--force"]) == 0
    told, left = capsys.readouterr(), {path.name: path.read_bytes() for path in folder.iterdir()}
    gone = of_board - set(left)
    assert "trials.csv" in gone and all(name in told.out for name in gone)
    assert left["measured.csv"] == left["photo.png"] == b"mine" and "measured.csv" in told.err
    assert b"old" not in [content for name, content in left.items() if name in of_board]


def test_a_long_title_fits_and_a_design_of_nothing_has_papers():
    name = "a title that goes on and on " * 6
    found = judged(load_source(Source("x.air", f'vehicle x: class truck, title "{name.strip()}"\n')), simulate=True)
    made = papers(found)
    assert "settings" not in {table.key for paper in made for table in paper.tables}
    pages = pypdf.PdfReader(io.BytesIO(printed(found, made))).pages
    assert squeezed(name) in squeezed(pages[0].extract_text())
    for page in pages:
        wide = float(page.mediabox.width)
        ends = []

        def seen(text, _cm, at, _font, size):
            if text.strip():
                ends.append(at[4] + long(text.strip(), size, "Sheet"))

        page.extract_text(visitor_text=seen)
        assert max(ends) < wide
