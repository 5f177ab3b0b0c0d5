"""Results of unchanged designs are kept, and nothing that they depend on is forgotten; several processes say what one says."""

from collections.abc import Callable
from pathlib import Path

import pytest

from circuit import cli
from circuit.console import checked
from tests.designs import example_text

BOARD = example_text("teaching-board")
Run = Callable[..., tuple[int, str, int]]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a check and also counts how many designs were judged for it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    judged = 0
    before = checked._judged

    def counted(*given):  # type: ignore[no-untyped-def]
        nonlocal judged
        judged += 1
        return before(*given)

    monkeypatch.setattr(checked, "_judged", counted)

    def ran(*words: str) -> tuple[int, str, int]:
        nonlocal judged
        judged = 0
        status = cli.main(["check", "-j", "1", *words])
        return status, capsys.readouterr().out, judged

    return ran


def test_a_second_run_says_the_same_and_judges_nothing(run: Run) -> None:
    Path("a.air").write_text(BOARD, encoding="utf-8")
    first, second = run("a.air"), run("a.air")
    assert first[:2] == second[:2] and (first[2], second[2]) == (1, 0)
    assert run("a.air", "--no-cache")[2] == 1 and run("a.air", "--no-cache")[:2] == first[:2]


@pytest.mark.parametrize("change", ["text", "used", "before", "policy", "options", "day", "link", "baseline"])
def test_whatever_a_result_depends_on_makes_it_anew(run: Run, change: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1782777600")
    Path("parts.air").write_text("assembly pair {\n    tee t\n}\n", encoding="utf-8")
    Path("a.air").write_text(BOARD + 'use "parts.air"\nuse "axles.air"\n', encoding="utf-8")
    Path("airwright.toml").write_text('baseline = "known.json"\n', encoding="utf-8")
    Path("known.json").write_text('{"designs": {}}', encoding="utf-8")
    assert (run("a.air")[2], run("a.air")[2]) == (1, 0)
    options: tuple[str, ...] = ()
    if change == "text":
        Path("a.air").write_text(Path("a.air").read_text(encoding="utf-8") + "# more\n", encoding="utf-8")
    elif change == "used":
        Path("parts.air").write_text("assembly pair {\n    tee u\n}\n", encoding="utf-8")
    elif change == "before":
        Path("axles.air").write_text("assembly other {\n    tee u\n}\n", encoding="utf-8")  # comes before the library's
    elif change == "policy":
        Path("airwright.toml").write_text('baseline = "known.json"\nfail-on = "error"\n', encoding="utf-8")
    elif change == "options":
        options = ("--short",)
    elif change == "day":
        monkeypatch.setenv("SOURCE_DATE_EPOCH", "1782950400")
    elif change == "link":
        Path("a.air").rename("b.air")
        Path("a.air").symlink_to("b.air")
    else:
        Path("known.json").write_text('{"designs":  {}}', encoding="utf-8")
    assert run("a.air", *options)[2] == 1


def test_what_is_kept_is_kept_by_its_content(run: Run, tmp_path: Path) -> None:
    Path("a.air").write_text(BOARD, encoding="utf-8")
    said = run("a.air")
    for path in (tmp_path / "cache" / "airwright").glob("check-*"):
        path.write_bytes(path.read_bytes()[:-1] + b"?")
    assert run("a.air") == said


def test_several_processes_say_what_one_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
                                             capfd: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(tmp_path)
    for number in range(6):
        (tmp_path / f"d{number}.air").write_text(BOARD if number % 2 else "vehicle x\n", encoding="utf-8")
    told = []
    for jobs in ("1", "2"):
        status = cli.main(["check", ".", "--no-cache", "-j", jobs])
        told.append((status, *capfd.readouterr()))
    assert told[0] == told[1] and told[0][0] == 2
