"""Hidden faults, runs, times and stories for programs: by the schema of the study; the hidden ones alike in every medium."""

import csv
import io
import json

import jsonschema
import pytest

from circuit.cli import main
from circuit.faults.pairs import as_proved, pairs
from circuit.report.account import text
from circuit.report.data import data, schema
from circuit.report.faults.mending import proving
from circuit.report.situations import unit_of
from circuit.report.studies.faults import KEY, RECORD, for_papers, of_hidden
from circuit.report.words import FAST
from tests.faults.studied import EXAMPLES, study_of

SMALL = ("teaching-board", "semitrailer-tandem")


def command(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["faults", *words]) == 0
    return capsys.readouterr().out


def design(name: str) -> str:
    return str(EXAMPLES / name / "design.air")


@pytest.mark.parametrize("name", SMALL)
def test_hidden_faults_are_the_same_in_pairs_words_data_table_and_papers(name: str, capsys: pytest.CaptureFixture[str]):
    study = study_of(name)
    found = as_proved(study, pairs(study))
    names = [(pair.first.fault.name, pair.second.fault.name) for pair in found]
    proofs = [proving(study, pair, unit_of(study.circuit)).replace(FAST, " ") for pair in found]
    account = of_hidden(study)
    assert found and [(each.first.name, each.second.name) for each in account.record.hidden] == names
    assert ["; ".join(filter(None, (each.done, each.seen))) for each in account.record.hidden] == proofs
    (section,) = account.tables
    assert for_papers(study.circuit)[1].rows == section.rows and len(section.rows) == len(found)
    told = " ".join(command(capsys, design(name), "--pairs").split())
    assert told == " ".join(text(account).split())
    assert all(" ".join(cell.split()) in told for row in section.rows for cell in row)
    programs = json.loads(command(capsys, design(name), "--pairs", "--format", "json"))["found"]
    assert programs["hidden"] == data(account.record.hidden)
    rows = list(csv.reader(io.StringIO(command(capsys, design(name), "--pairs", "--format", "csv"))))
    assert [tuple(row[1:]) for row in rows[1:]] == list(section.rows)


def test_the_order_of_proofs_goes_from_reservoir_to_reservoir_and_ends_with_what_no_second_fault_shows():
    study = study_of("truck-6x4")
    found = of_hidden(study).record.hidden
    emptied = [each.done.split()[1] for each in found if "by its drain" in each.done]
    tanks = [device.name for device in study.circuit.reservoirs]
    assert len(set(emptied)) >= 3 and emptied == sorted(emptied, key=tanks.index)
    assert [each.place for each in found] == list(range(1, len(found) + 1))
    by_itself = [not each.done for each in found]
    assert by_itself == sorted(by_itself) and any(by_itself), "seized safety valves last"


@pytest.mark.parametrize(("words", "asked"), (
    (("--fault", "line: burst"), {"faults", "story"}),
    (("--fault", "line: burst", "--situations"), {"situations"}),
    (("--simulate", "--only", "tank"), {"situations"}),
    (("--pairs",), {"hidden"}),
    (("--times", "--only", "burst"), {"times"}),
), ids=lambda words: " ".join(sorted(words)))
def test_whatever_is_asked_keeps_to_the_one_schema(words, asked, capsys: pytest.CaptureFixture[str]):
    fault = next(each.fault.name for each in study_of("teaching-board").effects if each.fault.name.endswith(": burst"))
    words = [fault if word == "line: burst" else word for word in words]
    told = json.loads(command(capsys, design("teaching-board"), *words, "--format", "json"))
    jsonschema.Draft202012Validator(schema(KEY, RECORD)).validate(told)
    given = {name for name, value in told["found"].items() if value is not None} - {"demand"}
    assert given == asked and all(told["found"][name] for name in asked)
    part = told["found"]["hidden" if "hidden" in asked else sorted(asked)[0]][0]
    del part[sorted(part)[0]]
    assert not jsonschema.Draft202012Validator(schema(KEY, RECORD)).is_valid(told), "a figure that lacks is seen"
