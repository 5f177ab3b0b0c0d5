"""The edits that disarm a check, as commands meet them: none leaves with status 0, and what can be read leaves with 1."""

from pathlib import Path

import pytest

from circuit import cli
from tests.gate.test_disarming import BOARD, LESS, STANDS, TRIALS, TRUCK, UNREAD, without

LONE = BOARD.replace("rules us-federal\n", "") + 'waive circuits-not-separate: at dry, because "a board"\n'
"""Clean by its own words: what stands outside of it is what fails."""
OUTSIDE = {
    "its rules are gone and the policy has them": ('rules = ["un-r13"]\n', LONE),
    "milder rules than the policy's": ('rules = ["un-r13"]\n', LONE + "rules good-practice\n"),
    "a class that its folder does not have": ('[[folder]]\npath = "*"\nclass = ["tractor"]\n', LONE),
    "a trial that its folder asks for": ('[[folder]]\npath = "*"\ntrials = ["full-application"]\n',
                                         LONE[:LONE.index("trial ")] + LONE[LONE.index("waive circuits"):]),
    "a waiver by nobody who may": ('[waivers]\nby = ["chief"]\n', LONE),
    "a waiver of what is never accepted": ('[waivers]\nnever = ["circuits-not-separate"]\n', LONE),
    "a waiver where there are none": ("[waivers]\nnone = true\n", LONE),
    "a waiver more than there may be": ("[waivers]\nmost = 1\n", LONE),
}
SLOW = {"another class", "all circuits gone", "another circuit gone", "a circuit's axles fewer", "no time", "a body that lifts",
        "a year that lifts", "a waiver that is over", "a waiver of another rule", "a waiver elsewhere"}


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path


def written(name: str, text: str) -> str:
    Path(name).write_bytes(text.encode())
    return name


def cases(names: dict[str, tuple[str, str]]) -> list[object]:
    """Names of cases, those that take longest marked."""
    assert set(LESS) | set(STANDS) >= SLOW
    return [pytest.param(what, marks=pytest.mark.slow) if what in SLOW else what for what in names]


@pytest.mark.parametrize("what", cases(LESS))
def test_compare_fails_for_what_is_asked_no_more(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    before, after = (written(name, text) for name, text in zip(("old.air", "new.air"), LESS[what], strict=True))
    assert cli.main(["compare", before, after]) == 1
    assert "Not asked any more" in capsys.readouterr().out


@pytest.mark.parametrize("what", cases(STANDS))
def test_check_fails_for_what_stands_all_the_same(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    text, waiver = STANDS[what]
    assert cli.main(["check", written("a.air", text + "\n" + waiver), "--short", "-j", "1"]) == 1
    assert "Not met: 0 errors, 0 warnings" not in capsys.readouterr().out


@pytest.mark.parametrize("what", OUTSIDE)
def test_check_fails_for_what_the_policy_asks(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    policy, text = OUTSIDE[what]
    design = written("a.air", text)
    assert cli.main(["check", design, "--short", "--policy", "none"]) == 0, "it is clean by its own words"
    written("airwright.toml", policy)
    assert cli.main(["check", design, "--short"]) == 1
    told = capsys.readouterr().out
    assert "1 ERROR" in told or "1 WARNING" in told


@pytest.mark.parametrize("what", UNREAD)
def test_what_only_looks_like_a_reason_is_unreadable(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", written("a.air", TRUCK + UNREAD[what]), "--short"]) == 2
    told = capsys.readouterr()
    assert "Met:" not in told.out and "a.air:" in told.err and "Traceback" not in told.err


def test_there_are_thirty_that_leave_with_one() -> None:
    assert len(LESS) + len(STANDS) + len(OUTSIDE) >= 30
    assert without(TRUCK, TRIALS) != TRUCK
