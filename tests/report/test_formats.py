"""Every study in every medium: words, JSON that keeps to its schema, CSV; one spelling of the option."""

import csv
import io
import json

import jsonschema
import pytest

from circuit.cli import main
from circuit.report import account
from circuit.report.data import data, of_type, schema
from circuit.report.studies import charge, duties, faults, force, leak_down, reserve, respond, sizes, trials, water
from circuit.source import Source, Span
from tests.designs import EXAMPLES

STUDIES = (charge, duties, faults, force, leak_down, reserve, respond, sizes, trials, water)
SLOW_ONES = ("truck-europe", "combination-semi", "semitrailer-europe")
NAMES = ("teaching-board", "truck-6x4", *(pytest.param(name, marks=pytest.mark.slow) for name in SLOW_ONES))


def design(name):
    return str(EXAMPLES / name / "design.air")


def design_text(name):
    return (EXAMPLES / name / "design.air").read_text(encoding="utf-8")


def run(capsys, *words):
    status = main(list(words))
    return status, *capsys.readouterr()


@pytest.mark.parametrize("study", STUDIES, ids=lambda study: study.KEY)
@pytest.mark.parametrize("name", NAMES)
def test_the_json_of_a_study_keeps_to_its_schema(name, study, capsys):
    status, out, err = run(capsys, study.KEY, design(name), "--format", "json", *(
        ["--balance"] if study not in (duties, faults, force, sizes, water) else []))
    if status == 2:
        assert "there is no compressor here" in err and study is water
        return
    told = json.loads(out)
    jsonschema.Draft202012Validator.check_schema(schema(study.KEY, study.RECORD))
    jsonschema.Draft202012Validator(schema(study.KEY, study.RECORD)).validate(told)
    assert told["study"] == study.KEY and (told["found"] or (study is trials and "trial" not in design_text(name)))


@pytest.mark.parametrize("study", STUDIES, ids=lambda study: study.KEY)
def test_a_schema_is_printed_and_refuses_what_is_not_the_study(study, capsys):
    status, out, _ = run(capsys, study.KEY, "--schema")
    assert status == 0 and json.loads(out) == schema(study.KEY, study.RECORD)
    for wrong in ({}, {"found": 1}, {"tool": "airwright", "study": "another"}):
        assert not jsonschema.Draft202012Validator(json.loads(out)).is_valid(wrong)


def test_a_figure_left_out_of_a_record_would_be_seen(capsys):
    _, out, _ = run(capsys, "force", design("truck-6x4"), "--format", "json")
    told = json.loads(out)
    del told["found"]["chambers"][0]["forces"]
    assert not jsonschema.Draft202012Validator(schema("force", force.RECORD)).is_valid(told)
    told = json.loads(out)
    told["found"]["chambers"][0]["gain"] = "much"
    assert not jsonschema.Draft202012Validator(schema("force", force.RECORD)).is_valid(told)


def test_records_tell_what_is_public_and_no_number_that_json_cannot_hold():
    assert data(float("inf")) is None and data(1 / 3) == 0.3333333
    assert data(Span(Source("x.air", "tee t\n"), 1, 1, 3)).startswith("x.air:1:1")
    assert of_type(tuple[int, str], {})["prefixItems"] == [{"type": "integer"}, {"type": "string"}]
    assert of_type(float | None, {}) == {"anyOf": [{"type": "number"}, {"type": "null"}]}
    with pytest.raises(TypeError):
        of_type(dict, {})


def rows_of(text):
    """Each row of a CSV of several tables, as a dictionary by the heads above it."""
    heads, found = [], []
    for row in csv.reader(io.StringIO(text)):
        if row[0] == "table":
            heads = row
        else:
            assert len(row) == len(heads)
            found.append(dict(zip(heads, row)))
    return found


@pytest.mark.parametrize("study", STUDIES, ids=lambda study: study.KEY)
def test_the_csv_has_the_rows_of_the_tables_and_the_text_their_cells(study, capsys):
    name = "truck-6x4"
    _, out, _ = run(capsys, study.KEY, design(name), "--format", "csv")
    rows = rows_of(out)
    _, words, _ = run(capsys, study.KEY, design(name))
    known = set(words.lower().replace(",", " ").split())
    assert rows and {row["table"] for row in rows} <= {"build-up", "filling", "duty", "applications", "to-half", "on-the-way",
                                                       "reserve-limits", "response", "ways", "control-line", "leaking",
                                                       "trials", "duties", "faults", "water", "chambers", "reservoirs", "ratios",
                                                       "fills", "push-rod-force", "camshaft-torque", "brake-torque", "tyre-force"}
    for row in rows:
        first = next(cell for key, cell in row.items() if key != "table" and cell)
        assert set(first.lower().replace(",", " ").split()) <= known, first


def test_what_the_csv_says_the_json_says(capsys):
    """The time of each chamber, in both to the digits that are printed."""
    _, out, _ = run(capsys, "respond", design("truck-6x4"), "--format", "csv")
    told = {(row["done"], row["place"]): row["time s"] for row in rows_of(out) if row["table"] == "response"}
    _, out, _ = run(capsys, "respond", design("truck-6x4"), "--format", "json")
    found = json.loads(out)["found"]
    times = {(done, each["name"]): f"{each['time']['value']:.3f}" for done, several in (
        ("apply", found["applied"]), ("release", found["released"])) for each in several}
    assert told == times and len(told) == 12


@pytest.mark.parametrize("command", ["charge", "duties", "force", "reserve", "respond", "sizes", "run", "water", "leak-down"])
@pytest.mark.parametrize("old", ["--json", "--csv"])
def test_the_old_spelling_names_the_new_one(command, old, capsys):
    status, out, err = run(capsys, command, design("truck-6x4"), old, *(["x.csv"] if old == "--csv" else []))
    assert (status, out) == (2, "") and f"{old} is spelled --format {old[2:]} now" in err
    assert ("goes to a file by --pressures X.csv" in err) == (
        old == "--csv" and command not in ("duties", "force", "sizes", "water"))


def test_every_pressure_goes_to_a_file(tmp_path, capsys):
    target = tmp_path / "traces.csv"
    assert run(capsys, "respond", design("truck-6x4"), "--pressures", str(target))[0] == 0
    head, first, *rest = csv.reader(io.StringIO(target.read_text(encoding="utf-8")))
    assert head[:2] == ["run", "time [s]"] and all(cell.endswith("[bar above atmosphere]") for cell in head[2:])
    assert first[:2] == ["application", "0"] and len(rest) > 50
    assert run(capsys, "respond", design("truck-6x4"), "--pressures", str(target))[0] == 2


def test_a_study_without_an_answer_is_a_paper_that_says_why():
    def never():
        from circuit.studies.hands import CannotAsk

        raise CannotAsk("nothing fills it")

    (table,) = account.tables_of(never, "build-up", "Charging")
    assert table.rows == () and table.notes == ("Not predicted: nothing fills it.",)


@pytest.mark.parametrize("words", [["check", design("teaching-board")], ["check", design("combination-semi")],
                                   ["compare", design("teaching-board"), design("truck-6x4")], ["kinds"]], ids=" ".join)
def test_other_json_keeps_to_its_schema_too(words, capsys):
    _, schema_text, _ = run(capsys, words[0], "--schema")
    jsonschema.Draft202012Validator.check_schema(json.loads(schema_text))
    _, out, _ = run(capsys, *words, "--format", "json")
    jsonschema.Draft202012Validator(json.loads(schema_text)).validate(json.loads(out))


def test_findings_and_clauses_as_csv(capsys):
    status, out, _ = run(capsys, "check", design("teaching-board"), design("truck-6x4"), "--format", "csv")
    rows = rows_of(out)
    found = [row for row in rows if row["table"] == "findings"]
    assert status == 1 and [row["severity"] for row in found] == ["accepted", "error"]
    assert found[0]["file"].endswith("board/design.air")
    assert {row["file"] for row in rows if row["table"] == "clauses"} == {design("teaching-board"), design("truck-6x4")}


def test_changes_as_csv(capsys):
    status, out, _ = run(capsys, "compare", design("truck-6x4"), design("teaching-board"), "--format", "csv")
    rows = rows_of(out)
    assert status == 1 and {row["table"] for row in rows} == {"changes", "outcomes", "dropped"}
    assert any(row["what"] == "new" and row["rule"] == "circuits-not-separate" for row in rows if row["table"] == "outcomes")


@pytest.mark.parametrize("words", [["faults", design("truck-6x4")], ["check", design("truck-6x4")], ["kinds"]], ids=" ".join)
def test_no_command_knows_the_old_spelling(words, capsys):
    status, out, err = run(capsys, *words, "--json")
    assert (status, out) == (2, "") and "--json is spelled --format json now" in err
