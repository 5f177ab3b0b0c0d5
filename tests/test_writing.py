"""Files are written whole or not at all, targets are tried first, and a closed pipe hides no verdict."""

import os
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from circuit import cli, writing
from tests.designs import EXAMPLES, example_text

BOARD = EXAMPLES / "teaching-board" / "design.air"
OLD, NEW = b"old " * 30_000, b"new! " * 40_000


def airwright(*words: str, **how: object) -> "subprocess.CompletedProcess[str]":
    return subprocess.run([sys.executable, "-m", "circuit", *words], capture_output=True, text=True, **how)


def full_after(letters: int) -> None:
    """As on a full disk: no file of this process may grow beyond so many bytes."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (letters, letters))


def left_over(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir() if path.name.startswith(writing.MARK)]


def test_a_file_takes_the_place_of_the_old_one_with_its_permissions(tmp_path: Path) -> None:
    path, link = tmp_path / "a.air", tmp_path / "link.air"
    path.write_bytes(OLD)
    path.chmod(0o640)
    link.symlink_to(path)
    writing.write(link, NEW)
    assert path.read_bytes() == NEW and path.stat().st_mode & 0o777 == 0o640 and link.is_symlink()
    writing.write(tmp_path / "b.air", "text\n")
    assert (tmp_path / "b.air").read_text() == "text\n" and not left_over(tmp_path)
    writing.write(os.devnull, "nothing is kept")


def test_what_cannot_be_written_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.air"
    path.write_bytes(OLD)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError):
        writing.write(path, NEW)
    with pytest.raises(OSError):
        writing.write_folder(str(tmp_path / "papers"), {"a.csv": NEW})
    assert path.read_bytes() == OLD and [each.name for each in tmp_path.iterdir()] == ["a.air"]


@pytest.mark.parametrize("at_once", [True, False])
def test_a_set_takes_the_place_of_the_old_one_and_leaves_what_is_not_of_it(
        tmp_path: Path, at_once: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if not at_once:
        monkeypatch.setattr(writing, "_exchanged", lambda one, other: False)
    folder = tmp_path / "deep" / "papers"
    writing.write_folder(str(folder), {"a.csv": b"1", "b.csv": b"2"})
    (folder / "notes.txt").write_text("mine")
    (folder / "photos").mkdir()
    writing.write_folder(str(folder), {"a.csv": b"3"})
    assert {path.name: path.read_text() for path in folder.iterdir() if path.is_file()} == {
        "a.csv": "3", "b.csv": "2", "notes.txt": "mine"}
    assert (folder / "photos").is_dir() and not left_over(tmp_path / "deep")


def test_a_target_is_tried_before_anything_is_worked_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "plain").touch()
    assert writing.refusal(str(tmp_path / "none" / "a.html")).endswith(f"there is no folder {tmp_path}/none")
    assert writing.refusal(str(tmp_path)) == f"{tmp_path} is a folder"
    assert writing.refusal(str(tmp_path / "a.html")) == "" and writing.folder_refusal(str(tmp_path / "new" / "deep")) == ""
    assert "is a file" in writing.folder_refusal(str(tmp_path / "plain"))
    assert "is a file" in writing.folder_refusal(str(tmp_path / "plain" / "papers"))
    assert "cannot be written" in writing.folder_refusal("/proc/papers")
    for command in ("report", "papers", "draw", "respond"):
        option = ["--plot"] if command == "respond" else ["-o"]
        name = "/proc/none/x" + {"report": ".html", "draw": ".svg", "respond": ".svg"}.get(command, "")
        assert cli.main([command, str(EXAMPLES / "truck-6x4" / "design.air"), *option, name]) == 2
        assert "cannot be written" in capsys.readouterr().err, command


def test_a_design_is_never_cut_off_by_a_full_disk(tmp_path: Path) -> None:
    path = tmp_path / "a.air"
    text = example_text("truck-6x4").replace(": ", ":   ").replace("tube ", "tube    ")
    path.write_text(text)
    done = airwright("format", str(path), preexec_fn=lambda: full_after(4096))
    assert done.returncode == 2 and "cannot be written" in done.stderr
    assert path.read_text() == text and not left_over(tmp_path)
    assert airwright("format", str(path)).returncode == 0 and path.read_text() != text


@pytest.mark.parametrize(("shell", "status"), [
    ("{check} {board} --clauses | true", 1), ("{check} none.air | true", 2), ("{check} {board} >&-", 1),
    ("{check} {board} >/dev/full", 2),
    ("{check} none.air 2>/dev/full", 2), ("{check} none.air 2>&-", 2),
])
def test_no_reader_changes_the_status(shell: str, status: int) -> None:
    command = shell.format(check=f"{sys.executable} -m circuit check", board=BOARD)
    done = subprocess.run(["bash", "-c", f"set -o pipefail; {command}"], capture_output=True, text=True)
    assert done.returncode == status, done.stderr
    assert "Traceback" not in done.stderr and "fault of the program" not in done.stderr


WRITER = """
import sys
from circuit import writing
old, new = b"old " * 30_000, b"new! " * 40_000
sys.stdout.write("ready\\n"); sys.stdout.flush()
while True:
    for content in (new, old):
        writing.write(sys.argv[1] + "/a.air", content)
        writing.write_folder(sys.argv[1] + "/set", {f"{n}.csv": content for n in range(4)})
"""


def whole(folder: Path) -> bool:
    """Whether the file and the set are each the old ones or the new."""
    sets = {path.read_bytes() for path in (folder / "set").iterdir()}
    return (folder / "a.air").read_bytes() in (OLD, NEW) and len(sets) == 1 and len(list((folder / "set").iterdir())) == 4


def killed_at(folder: Path, moments: int) -> int:
    """How often files were whole after their writer was killed at a moment."""
    found = 0
    for moment in range(moments):
        process = subprocess.Popen([sys.executable, "-c", WRITER, str(folder)], stdout=subprocess.PIPE)
        assert process.stdout is not None
        process.stdout.readline()
        time.sleep(0.004 + 0.0007 * (moment % 67))
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        found += whole(folder)
    return found


@pytest.mark.parametrize("moments", [3, pytest.param(200, marks=pytest.mark.slow)])
def test_a_writer_that_is_killed_leaves_the_old_or_the_new(tmp_path: Path, moments: int) -> None:
    writing.write(tmp_path / "a.air", OLD)
    writing.write_folder(str(tmp_path / "set"), {f"{n}.csv": OLD for n in range(4)})
    assert killed_at(tmp_path, moments) == moments


FULL = """
import resource, sys
from circuit import writing
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), int(sys.argv[2])))
for write in (lambda: writing.write(sys.argv[1] + "/a.air", b"new! " * 40_000),
              lambda: writing.write_folder(sys.argv[1] + "/set", {f"{n}.csv": b"new! " * 40_000 for n in range(4)})):
    try:
        write()
    except OSError:
        pass
"""


@pytest.mark.parametrize("moments", [2, pytest.param(200, marks=pytest.mark.slow)])
def test_a_full_disk_leaves_the_old(tmp_path: Path, moments: int) -> None:
    writing.write(tmp_path / "a.air", OLD)
    writing.write_folder(str(tmp_path / "set"), {f"{n}.csv": OLD for n in range(4)})
    for moment in range(moments):
        subprocess.run([sys.executable, "-c", FULL, str(tmp_path), str(1 + moment * len(NEW) // moments)], check=True)
        assert (tmp_path / "a.air").read_bytes() == OLD and whole(tmp_path) and not left_over(tmp_path)
