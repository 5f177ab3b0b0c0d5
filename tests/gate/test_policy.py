"""A policy stands outside of the designs, and none of them can lower it."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from circuit import cli
from tests.designs import example_text

BOARD = example_text("teaching-board")
LONE = BOARD.replace("rules us-federal\n", "") + 'waive circuits-not-separate: at dry, because "a board"\n'
"""Clean where good practice alone is asked; UN R13 finds no-test-connection."""
Checked = Callable[..., tuple[int, list[dict[str, object]]]]


@pytest.fixture
def check(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Checked:
    """Checks texts under a policy; gives the status and the rows of findings as plain data."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))

    def checked(policy: str | None, *options: str, **designs: str) -> tuple[int, list[dict[str, object]]]:
        if policy is not None:
            Path("airwright.toml").write_text(policy, encoding="utf-8")
        for name, text in designs.items():
            Path(f"{name}.air").write_text(text, encoding="utf-8")
        capsys.readouterr()
        status = cli.main(["check", *(f"{name}.air" for name in designs), "--format", "json", "--only-findings", *options])
        told = capsys.readouterr()
        if status == 2 and not told.out:
            return status, [{"says": told.err}]
        return status, [one for each in json.loads(told.out)["designs"] for one in each.get("findings", each.get("mistakes"))]

    return checked


def rules(findings: list[dict[str, object]], is_open: bool = True) -> list[object]:
    return [one["rule"] for one in findings if one["waived"] is not is_open]


def test_the_least_sets_are_added_to_those_of_a_design(check: Checked) -> None:
    assert check(None, a=LONE)[0] == 0
    status, found = check('rules = ["un-r13"]\n', a=LONE)
    assert status == 1 and "no-test-connection" in rules(found)
    assert "no-test-connection" in rules(check('[[folder]]\npath = "*"\nrules = ["un-r13"]\n', a=LONE)[1])
    assert "no-test-connection" in rules(check('rules = ["un-r13"]\n', "--rules", "good-practice", a=LONE)[1])


def test_a_class_and_trials_are_held_by_folder(check: Checked) -> None:
    status, found = check('[[folder]]\npath = "a*"\nclass = ["tractor"]\ntrials = ["full"]\n', a=BOARD, b=BOARD)
    told = [str(one["says"]) for one in found if one["rule"] == "policy"]
    assert status == 1 and len(told) == 2
    assert "the class is truck" in told[0] and "there is no trial full" in told[1]


@pytest.mark.slow
def test_trials_are_played_and_fail_where_they_are_not_met(check: Checked) -> None:
    truck = example_text("truck-6x4")
    assert check('[[folder]]\npath = "*"\ntrials = ["full-application"]\n', a=truck)[0] == 0
    late = truck.replace("within 0.45 s", "within 0.01 s")
    assert late != truck
    status, found = check("play-trials = true\n", a=late)
    assert status == 1 and rules(found) and set(rules(found)) == {"policy"} and "not met" in str(found[0]["says"])


@pytest.mark.parametrize(("policy", "why"), [
    ('[waivers]\nby = ["chief"]\n', "only chief may accept"), ('[waivers]\nnever = ["too-little-to-judge"]\n', "never accepted"),
    ("[waivers]\nnone = true\n", "not accepted"), ("[waivers]\nmost = 0\n", "1 waivers, and 0 is the most")])
def test_who_may_accept_what_is_held(check: Checked, policy: str, why: str) -> None:
    status, found = check(policy, a=BOARD)
    assert status == 1 and any(why in str(one["says"]) for one in found if one["rule"] == "policy")
    stands = "too-little-to-judge" in rules(found)
    assert stands is ("most" not in policy)


def test_a_caller_can_refuse_and_cap_waivers(check: Checked) -> None:
    assert "too-little-to-judge" not in rules(check(None, a=BOARD)[1])
    assert "too-little-to-judge" in rules(check(None, "--no-waivers", a=BOARD)[1])
    assert "policy" in rules(check(None, "--max-waivers", "0", a=BOARD)[1])


def test_select_ignore_and_severity_lose_no_finding(check: Checked) -> None:
    every = rules(check(None, a=BOARD)[1])
    assert "circuits-not-separate" in every
    status, found = check('ignore = ["circuits-not-separate"]\n', a=BOARD)
    assert status == 0 and "circuits-not-separate" in rules(found, is_open=False)
    assert check('[severity]\ncircuits-not-separate = "note"\n', a=BOARD)[0] == 0
    assert check(None, "--select", "port-open", a=BOARD)[0] == 0
    assert check("", "--severity", "circuits-not-separate=warning", "--fail-on", "error", a=BOARD)[0] == 0
    assert check('fail-on = "error"\n', "--severity", "circuits-not-separate=warning", a=BOARD)[0] == 0
    assert check("", a=BOARD)[0] == 1


@pytest.mark.parametrize(("policy", "says"), [
    ("rule = 1\n", "airwright.toml:1: there is no key `rule`: did you mean rules?"),
    ('rules = ["us-federl"]\n', "no set of rules is called"), ("rules = 3\n", "is a list of names"), ("x = [\n", "is no TOML"),
    ('fail-on = "never"\n', "one of error, warning, note"), ('\nignore = ["part-backward"]\n', "toml:2: no rule is called"),
    ("[waivers]\nmost = -1\n", "whole number"), ("waivers = 1\n", "is a table"), ('[[folder]]\nclass = "truck"\n', "has a path"),
    ('[[folder]]\npath = "*"\nclass = "lorry"\n', "no class of vehicles"), ('[severity]\nport-open = "bad"\n', "a severity is"),
    ('baseline = "none.json"\n', "cannot be read"), ("play-trials = 1\n", "true or false"), ('folder = "x"\n', "[[folder]]"),
    ('units = "ounces"\n', "one of both, metric, imperial"), ("severity = 1\n", "is a table")])
def test_a_policy_that_is_not_understood_stops_the_run(check: Checked, policy: str, says: str) -> None:
    status, (only,) = check(policy, a=BOARD)
    assert status == 2 and says in str(only["says"]) and str(only["says"]).count("\n") == 1


def test_it_is_found_upwards_and_there_is_one(tmp_path: Path, check: Checked, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "deep" / "er").mkdir(parents=True)
    (tmp_path / "deep" / "er" / "a.air").write_text(LONE, encoding="utf-8")
    (tmp_path / "airwright.toml").write_text('rules = ["un-r13"]\n', encoding="utf-8")
    assert cli.main(["check", "deep/er/a.air", "-q"]) == 1
    assert cli.main(["check", "deep/er/a.air", "-q", "--policy", "none"]) == 0
    (tmp_path / "deep" / "airwright.toml").touch()
    assert cli.main(["check", "deep/er/a.air"]) == 2
    assert "there is a policy above already" in capsys.readouterr().err


def test_units_are_those_of_the_policy(check: Checked, capsys: pytest.CaptureFixture[str]) -> None:
    for word, there, gone in (("metric", "bar", "psi ("), ("imperial", "psi", " bar)")):
        check(f'units = "{word}"\n', a=BOARD)
        cli.main(["check", "a.air"])
        told = capsys.readouterr().out
        assert there in told and gone not in told
    check('units = "both"\n', a=BOARD)


# --- what was known before -----------------------------------------------------------------------------------------------


def test_what_was_known_does_not_count_and_the_next_finding_does(check: Checked) -> None:
    worse = BOARD.replace("drain dry-drain: on dry, placed lowest\n", "")
    assert check(None, "--write-baseline", "known.json", a=BOARD)[0] == 1
    policy = 'baseline = "known.json"\n'
    status, found = check(policy, a=BOARD)
    assert status == 0 and "circuits-not-separate" in rules(found, is_open=False)
    status, found = check(policy, a="# a row more\n" + worse)
    assert status == 1 and "reservoir-without-drain" in rules(found) and "circuits-not-separate" not in rules(found)


def test_a_baseline_knows_what_was_asked_and_which_designs_there_were(check: Checked, capsys: pytest.CaptureFixture[str]) -> None:
    check(None, "--write-baseline", "known.json", a=BOARD, b=BOARD)
    status, found = check('baseline = "known.json"\n', a=LONE)
    (less,) = [one for one in found if one["rule"] == "not-asked-any-more"]
    assert status == 1 and rules(found) == ["not-asked-any-more"] and "rules us-federal is gone" in str(less["says"])
    Path("b.air").unlink()
    Path("a.air").write_text(BOARD, encoding="utf-8")
    assert cli.main(["check", "."]) == 1
    assert "b.air is gone" in capsys.readouterr().err
    Path("known.json").write_text("{}", encoding="utf-8")
    assert cli.main(["check", "a.air"]) == 2
    assert "is no baseline" in capsys.readouterr().err
