"""What a user sees of standards: the list, the coverage table, sets side by side, severities and what fails a run."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest

from circuit import rules
from circuit.clauses import rule_set, set_names
from circuit.cli import main
from circuit.judging.rule import SEVERITIES
from circuit.report.machine import schema
from tests.designs import EXAMPLES, example_names, example_text, sampled

TRUCK = EXAMPLES / "truck-6x4" / "design.air"
RUN = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> RUN:
    def command(*words: object) -> tuple[int, str, str]:
        capsys.readouterr()
        status = main([str(word) for word in words])
        return (status, *capsys.readouterr())

    return command


@pytest.fixture
def warned(tmp_path: Path) -> Path:
    """The truck with a governor that only an advisory clause minds."""
    path = tmp_path / "design.air"
    text = example_text("truck-6x4").replace("cut-in 7.2 bar, cut-out 8.6 bar", "cut-in 120 psi, cut-out 140 psi")
    folder = EXAMPLES / "truck-6x4"
    for used in re.findall(r'^use "([^"]+)"', text, re.M):
        if (folder / used).exists():
            (tmp_path / used).write_text((folder / used).read_text("utf-8"), "utf-8")
    path.write_text(text, "utf-8")
    return path


def test_the_sets_are_listed(run: RUN):
    status, out, err = run("standards")
    assert (status, err) == (0, "")
    for name in set_names():
        number, title = len(rule_set(name).clauses), re.escape(rule_set(name).title)
        assert re.search(rf"^  {name} +{number} clauses  {title}$", out, re.M)


@pytest.mark.parametrize("name", set_names())
def test_a_set_is_listed_with_every_clause(run: RUN, name: str):
    status, out, _ = run("standards", name)
    assert status == 0
    words = " ".join(out.split())
    for one in rule_set(name).clauses:
        assert f"{one.number} (" in words and " ".join(one.asks.split()) in words
    asked = {rule.name for rule in rules.every() if rule_set(name).asking(rule.name)}
    assert asked and all(rule in words for rule in asked)


def test_an_unknown_set_is_refused(run: RUN):
    status, out, err = run("standards", "un-r14")
    assert (status, out) == (2, "") and "`un-r14`" in err and "un-r13" in err


@pytest.mark.parametrize("name", sampled(example_names(), 8))
@pytest.mark.parametrize("rule_set_name", ["us-federal", "un-r13"])
def test_every_example_has_its_coverage_table(run: RUN, name: str, rule_set_name: str):
    _, out, err = run("check", EXAMPLES / name / "design.air", "--rules", rule_set_name, "--short", "--clauses")
    assert err == "" and "\nClauses\n" in out
    table = out.rpartition("\nClauses\n")[2]
    rows = re.findall(rf"^{rule_set_name}/.*?  +(met|not met|waived|not decided|no file)  ", table, re.M)
    assert len(rows) > 15 and "no file" in rows and "met" in rows
    tally = re.search(r"^(\d+) met, .*no file: it takes a physical test$", table, re.M)
    assert tally


def test_the_table_is_left_out_unless_asked_for(run: RUN):
    assert "\nClauses\n" not in run("check", TRUCK)[1]


def test_sets_are_shown_side_by_side(run: RUN):
    status, out, _ = run("check", TRUCK, "--rules", "us-federal", "--rules", "un-r13", "--short")
    part = out.partition("Where the sets differ\n")[2]
    assert status == 1 and "held to us-federal and un-r13 and good-practice" in out
    assert "    us-federal  S5.1.2.1: met; " in part and "    un-r13      Annex 7 A 1.2.1: not decided; " in part
    assert "Where the sets differ" not in run("check", TRUCK, "--rules", "us-federal")[1]


def test_json_has_coverage_and_differences(run: RUN):
    document = json.loads(run("check", TRUCK, "--rules", "us-federal", "--rules", "un-r13", "--format", "json")[1])
    jsonschema.Draft202012Validator(schema()).validate(document)
    (design,) = document["designs"]
    rows = {row["clause"]: row for row in design["coverage"]}
    assert rows["us-federal/S5.1.2.1"]["outcome"] == "met" and rows["us-federal/S5.1.2.1"]["figure"]["unit"] == "L"
    time = rows["us-federal/S5.1.1"]["figure"]
    assert (time["unit"], time["bound"]) == ("s", "at most")
    questions = {one["question"].split(":")[0]: one["answers"] for one in design["differences"]}
    assert [a["set"] for a in questions["how much air is stored"]] == ["us-federal", "un-r13"]
    assert [a["answer"]["outcome"] for a in questions["how much air is stored"]] == [
        "met", "cannot be decided from this file"]


def test_a_warning_fails_a_run_unless_only_errors_should(run: RUN, warned: Path):
    assert run("check", warned)[0] == 1
    assert run("check", warned, "--fail-on", "warning")[0] == 1
    status, out, _ = run("check", warned, "--fail-on", "error")
    assert status == 0 and "WARNING  governor-set-high" in out
    assert run("check", EXAMPLES / "teaching-board" / "design.air", "--fail-on", "error")[0] == 1


def test_a_note_fails_a_run_only_where_it_is_asked_for(run: RUN, tmp_path: Path):
    noted = tmp_path / "noted.air"
    text = (EXAMPLES / "truck-6x4" / "design.air").read_text(encoding="utf-8").replace(
        "tube pri -> foot.11: size 1/2 in, length 6 m", "cut-out-cock cock: state open\n"
        "tube pri -> cock.1: size 1/2 in, length 3 m\ntube cock.2 -> foot.11: size 1/2 in, length 3 m")
    noted.write_text(text, encoding="utf-8")
    status, out, _ = run("check", noted)
    assert status == 0 and "NOTE  cock-in-brake-feed" in out and "Not met: 0 errors and 1 note\n" in out
    assert run("check", noted, "--fail-on", "note")[0] == 1


def test_an_unknown_severity_is_refused(run: RUN):
    assert run("check", TRUCK, "--fail-on", "remark")[0] == 2


def test_severities_are_told_with_their_reasons(run: RUN):
    status, out, _ = run("explain", "severities")
    assert status == 0
    words = " ".join(out.split())
    for severity, means in SEVERITIES.items():
        assert means in words and f"\n{severity}\n" in out
    assert all(f"  {rule.name}: " in out for rule in rules.every())


@pytest.mark.parametrize("typed", ["un-r13/Annex 7 A 1.2.1", "un-r13/annex-7-a-1.2.1", "annex 7 a 1.2.1"])
def test_a_clause_is_found_as_it_may_be_typed(run: RUN, typed: str):
    status, out, _ = run("explain", typed)
    assert status == 0 and "UN Regulation No. 13 Annex 7 A 1.2.1 (set un-r13" in out and "by reserve-too-small" in out
    words = " ".join(out.split())
    assert "clause number from memory" in words and "other sets answer the same question" in words
    assert "us-federal/S5.1.2.1" in words and "un-r13/Annex 7 A 1.3.1" not in words.partition("other sets")[2]


def test_a_report_says_what_is_remembered_only(run: RUN):
    _, out, _ = run("check", EXAMPLES / "truck-europe" / "design.air")
    head = out.partition("\n\n")[0]
    assert f"  un-r13: {rule_set('un-r13').caution}" in head and "from memory" in head
    words = " ".join(out.split())
    assert "elsewhere to the trailer. [from memory, grade M1: sure] Missing: " in words
    assert "from memory" not in run("check", TRUCK)[1].partition("\n\n")[0]
