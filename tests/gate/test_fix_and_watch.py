"""`check --fix` carries out single edits and no other; `check --watch` looks again when a file has changed."""

import signal
from pathlib import Path

import pytest

from circuit import cli
from circuit.console import fixing, watching
from tests.designs import example_text

BOARD = example_text("teaching-board")
SOUND = BOARD.replace("rules us-federal\n", "") + 'waive circuits-not-separate: at dry, because "a board"\n'
DRAIN = "drain dry-drain: on dry, placed lowest\n"


def turned(text: str) -> str:
    """With the check valve the wrong way round."""
    there = text.replace("tube wet -> dry-check.1", "tube wet -> dry-check.2")
    there = there.replace("tube dry-check.2 -> dry", "tube dry-check.1 -> dry")
    assert there.count("dry-check.") == 2 and there != text
    return there


@pytest.fixture
def design(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "a.air"


def changed(before: str, after: str) -> list[tuple[str, str]]:
    """The rows of two texts of equal length that differ."""
    return [pair for pair in zip(before.split("\n"), after.split("\n"), strict=True) if pair[0] != pair[1]]


@pytest.mark.parametrize(("mark", "end"), [("", "\n"), ("\ufeff", "\r\n")])
def test_a_mend_that_is_one_edit_is_carried_out_and_no_other_row_touched(
        design: Path, mark: str, end: str, capsys: pytest.CaptureFixture[str]) -> None:
    before = (mark + turned(SOUND)).replace("\n", end)
    design.write_bytes(before.encode())
    assert cli.main(["check", str(design), "--short"]) == 1
    assert design.read_bytes() == before.encode()
    assert cli.main(["check", str(design), "--short", "--fix"]) == 0
    assert "mended part-backwards at dry-check: exchange the lines on dry-check.1 and dry-check.2" in capsys.readouterr().err
    after = design.read_bytes().decode()
    assert {row.split(":")[0] for pair in changed(before, after) for row in pair} == {
        "tube wet -> dry-check.1", "tube wet -> dry-check.2", "tube dry-check.1 -> dry", "tube dry-check.2 -> dry"}


def test_a_waiver_of_nothing_goes_and_what_only_people_can_mend_stays(design: Path) -> None:
    waiver = 'waive port-open: at dry, because "none"\n'
    design.write_text(SOUND.replace(DRAIN, "") + waiver)
    assert cli.main(["check", str(design), "--short", "--fix"]) == 1
    assert design.read_text().rstrip("\n") == SOUND.replace(DRAIN, "").rstrip("\n")


def test_a_mend_that_brings_another_finding_is_not_carried_out(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With the valve mended, the law is asked whether the circuits are separate, and they are not."""
    design.write_text(turned(BOARD))
    assert cli.main(["check", str(design), "--short", "--fix"]) == 1
    told = capsys.readouterr()
    assert "part-backwards" in told.out and "mended" not in told.err and design.read_text() == turned(BOARD)


def test_a_file_that_was_changed_meanwhile_is_left_alone(
        design: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    design.write_text(turned(SOUND))
    found = fixing.fixed

    def slow(name: str, gate: fixing.Gate) -> tuple[str, list[fixing.Judgement]]:
        result = found(name, gate)
        design.write_text(SOUND + "# by another hand\n")
        return result

    monkeypatch.setattr(fixing, "fixed", slow)
    assert cli.main(["check", str(design), "--short", "--fix"]) == 0
    assert "was changed meanwhile" in capsys.readouterr().err and design.read_text() == SOUND + "# by another hand\n"


def test_watching_sees_one_change_and_a_signal_ends_it(
        design: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    design.write_text(SOUND)
    pauses: list[float] = []

    def sleep(pause: float) -> None:
        pauses.append(pause)
        if len(pauses) == 2:
            design.write_text(SOUND.replace(DRAIN, ""))
        if len(pauses) == 5:
            signal.raise_signal(signal.SIGINT)
        assert len(pauses) < 6, "the signal did not end it"

    monkeypatch.setattr(watching.time, "sleep", sleep)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # what runs in the background may ignore it
    try:
        assert cli.main(["check", str(design), "--short", "--watch"]) == 130
    finally:
        signal.signal(signal.SIGINT, before)
    told = capsys.readouterr()
    assert pauses == [watching.PAUSE] * 5 and watching.PAUSE >= 0.2
    assert told.err.count("watching:") == 2
    assert told.out.count("Not met: 0 errors") == 1 and told.out.count("reservoir-without-drain: dry has no drain") == 1


def test_what_a_design_brings_in_and_its_policy_are_watched_too(tmp_path: Path) -> None:
    (tmp_path / "vehicles").mkdir()
    (tmp_path / "parts").mkdir()
    design, part = tmp_path / "vehicles" / "a.air", tmp_path / "parts" / "p.air"
    design.write_text('use "../parts/p.air"\n' + SOUND)
    part.write_text('use "more.air"\n')
    fenced = watching.seen([str(design)])
    looks = [watching.seen([str(design)], str(tmp_path))]
    for path in (part, tmp_path / "parts" / "more.air", tmp_path / "airwright.toml"):
        if path.suffix == ".toml":
            assert watching.seen([str(design)]) == fenced, "what the design may not bring in is not followed"
        path.write_text("# another\n")
        looks.append(watching.seen([str(design)], str(tmp_path)))
    assert len(set(looks)) == len(looks) == 4 and watching.seen([str(design)], str(tmp_path)) == looks[-1]
