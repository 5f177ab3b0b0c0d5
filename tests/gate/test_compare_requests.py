"""`compare` for pull requests: revisions and folders, renames with changes as one, and what each row says."""

import json
import re
import subprocess
from pathlib import Path

import pytest

from circuit import cli
from circuit.pipeline import load_source
from circuit.report.changes import schema
from circuit.source import Source
from circuit.verdict.compare import Comparison, compare
from circuit.verdict.judge import judge
from tests.designs import EXAMPLES, example_text

TRUCK, BOARD = example_text("truck-6x4"), example_text("teaching-board")


def compared(old: str, new: str) -> Comparison:
    return compare(*(judge(load_source(Source(str(EXAMPLES / "case.air"), text))) for text in (old, new)))


def test_a_rename_and_a_change_are_two_rows() -> None:
    text = TRUCK.replace("rear-relay", "tandem-relay").replace("relay-valve tandem-relay: opens-at 0.2 bar",
                                                               "relay-valve tandem-relay: opens-at 0.3 bar")
    assert "opens-at 0.3 bar" in text
    found = compared(TRUCK, text)
    assert [(one.what, one.thing) for one in found.changes] == [("renamed", "tandem-relay"), ("set", "tandem-relay")]
    assert not found.asks_less


def test_a_wheel_that_is_renamed_changes_no_trial() -> None:
    found = compared(TRUCK, TRUCK.replace("d1-left", "drive-left"))
    assert {one.what for one in found.changes} == {"renamed"} and not found.dropped


def test_a_figure_in_another_unit_rounded_is_no_row() -> None:
    found = compared(TRUCK, TRUCK.replace("cut-in 7.2 bar", "cut-in 104.4 psi"))
    assert not found.changes and not found.outcomes


def test_no_row_has_two_figures_that_read_alike_and_each_names_thing_and_clause() -> None:
    found = compared(TRUCK, TRUCK.replace("volume 50 L", "volume 49 L"))
    assert found.outcomes
    for one in found.outcomes:
        assert one.thing and one.clause
        if " before, " in one.says:
            before, _, now = one.says.rpartition(": ")[2].partition(" before, ")
            assert before.replace(" to spare", "") != now.replace(" now", "")


def git(folder: Path, *words: str) -> None:
    subprocess.run(["git", "-C", str(folder), "-c", "user.name=t", "-c", "user.email=t@example.org", *words], check=True,
                   capture_output=True)


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two designs at a revision `base`, and changes after it: one loosened, one with another name, one new, one gone."""
    git(tmp_path, "init", "-q")
    designs = tmp_path / "designs"
    designs.mkdir()
    for name, text in (("board", BOARD), ("moved", BOARD.replace("Teaching board", "Another")), ("gone", BOARD + "# more\n"),
                       ("same", BOARD + "# same\n")):
        (designs / f"{name}.air").write_text(text, encoding="utf-8")
    (designs / "link.air").symlink_to("/etc/passwd")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-qm", "base")
    git(tmp_path, "tag", "base")
    (designs / "link.air").unlink()
    accepted = 'waive circuits-not-separate: at dry, because "a board"\n'
    (designs / "board.air").write_text(BOARD.replace("rules us-federal\n", "") + accepted, encoding="utf-8")
    (designs / "moved.air").rename(designs / "other.air")
    (designs / "gone.air").unlink()
    (designs / "new.air").write_text(BOARD + "# new\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_revision_and_a_folder_are_compared_design_by_design(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["compare", "base", "designs", "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)
    import jsonschema

    jsonschema.Draft202012Validator(schema()).validate(found)
    by_name = {one["new"] or one["old"]: one for one in found["designs"]}
    assert set(by_name) == {"designs/board.air", "designs/new.air", "base:gone.air"}
    assert "rules us-federal is gone" in json.dumps(by_name["designs/board.air"]["dropped"])
    gone = [one["rule"] for one in by_name["designs/board.air"]["outcomes"] if one["what"] == "gone"]
    assert "circuits-not-separate" not in gone
    assert by_name["designs/new.air"]["worse"] and by_name["base:gone.air"]["dropped"]


def test_one_design_with_a_revision_and_what_git_does_not_know(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["compare", "base", "designs/board.air"]) == 1
    out = capsys.readouterr().out
    assert "Not asked any more" in out and "base:designs/board.air -> designs/board.air" in out
    assert cli.main(["compare", "base", "designs/board.air", "--allow-less"]) == 0
    assert cli.main(["compare", "base:designs/same.air", "designs/same.air"]) == 0
    for word in ("nowhere", "base:none.air", "--upload-pack=x"):
        assert cli.main(["compare", "--", word, "designs/board.air"]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_markdown_of_a_request_with_pictures(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (repository / "designs" / "board.air").write_text(BOARD.replace("volume 46 L", "volume 40 L"), encoding="utf-8")
    assert cli.main(["compare", "base:designs/board.air", "designs/board.air", "--format", "markdown", "--pictures", "p"]) == 0
    out = capsys.readouterr().out
    assert "dry: volume was 46 L and is 40 L" in out and "](p/designs-board.svg)" in out
    assert "<svg" in (repository / "p" / "designs-board.svg").read_text(encoding="utf-8")


def test_check_since_a_revision(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", "designs/board.air", "--short"]) == 0
    assert cli.main(["check", "designs/board.air", "--short", "--since", "base"]) == 1
    assert "rules us-federal is gone" in capsys.readouterr().out


def test_a_vehicle_alone_is_compared_with_itself_in_a_rig() -> None:
    from circuit.pipeline import check

    rig = check(str(EXAMPLES / "combination-semi" / "design.air"))
    alone = check(str(EXAMPLES / "tractor-6x4" / "design.air"))
    assert compare(alone, rig).changes == () and compare(rig, alone).changes == ()


def test_simulated_times_stand_before_and_after(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A shorter line to the front brakes: each of their times is told for both, and the shorter line has the shorter one."""
    for name, text in (("old", BOARD), ("new", BOARD.replace("front-release.1: size 3/8 in, length 3 m",
                                                             "front-release.1: size 3/8 in, length 2 m"))):
        (tmp_path / f"{name}.air").write_text(text, encoding="utf-8")
    words = ["compare", str(tmp_path / "old.air"), str(tmp_path / "new.air"), "--format", "json"]
    timed = {}
    for more in ([], ["--simulate"]):
        cli.main([*words, *more])
        rows = json.loads(capsys.readouterr().out)["outcomes"]
        timed[len(more)] = {one["thing"]: one["says"] for one in rows if one["rule"] == "application-time"}
    assert not timed[0] and {"front-left", "front-right"} <= set(timed[1])
    for thing in ("front-left", "front-right"):
        before, now = (float(word) for word in re.findall(r"([0-9.]+) s (?:before|now)", timed[1][thing]))
        assert 2 > before > now > 0
