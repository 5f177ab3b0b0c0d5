"""Files of strangers: nothing outside the root is read, no row of a file that is no design is printed, no status is changed."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from circuit import cli
from tests.designs import example_text

HEAD = "vehicle v: class truck\naxle front: position 1\n"
SECRET = "SECRET_TOKEN=abc123"
Made = Callable[[Path], str]


def brings_in(word: str, name: str) -> str:
    """A design that names a file in one of the three ways."""
    if word == "use":
        return f'{HEAD}use "{name}"\n'
    if word == "base":
        return f'vehicle v: class truck, base "{name}"\naxle front: position 1\n'
    return f'combination rig\nvehicle one: file "{name}"\nvehicle two: file "{name}"\ncouple one.x -> two.x\n'


def secret(name: str) -> Made:
    """A file with a secret under the root."""
    def make(folder: Path) -> str:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"{SECRET}\nPASSWORD={SECRET}\n", encoding="utf-8")
        return name
    return make


def linked(name: str, target: str) -> Made:
    def make(folder: Path) -> str:
        (folder / name).symlink_to(target.replace("OUTSIDE", str(folder.parent / "outside.air")))
        return name
    return make


def fifo(folder: Path) -> str:
    os.mkfifo(folder / "pipe.air")
    return "pipe.air"


def nested(folder: Path) -> str:
    """A sound file of assemblies that brings in the secret."""
    (folder / "inner.air").write_text('use "../outside.air"\nassembly a {\n    tee t\n}\n', encoding="utf-8")
    return "inner.air"


def binary(folder: Path) -> str:
    (folder / "image.air").write_bytes(f"{SECRET}\0\xff".encode("latin-1"))
    return "image.air"


FILES: dict[str, Made] = {
    "a file of the system": lambda folder: "/etc/passwd",
    "a folder above": lambda folder: "../outside.air",
    "by its whole name": lambda folder: str(folder.parent / "outside.air"),
    "a text beside": secret("secret.txt"),
    "hidden": secret(".env.air"),
    "in a hidden folder": secret(".git/config.air"),
    "a text that is called a design": secret("secret.air"),
    "a link that leads out": linked("link.air", "OUTSIDE"),
    "a link to the system": linked("link.air", "/etc/passwd"),
    "a link to standard input": linked("link.air", "/dev/stdin"),
    "a pipe": fifo,
    "a device": lambda folder: "/dev/zero",
    "standard input": lambda folder: "/dev/stdin",
    "one that brings in more": nested,
    "no text": binary,
}


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A root with a secret beside it, outside."""
    (tmp_path / "outside.air").write_text(f"{SECRET}\n", encoding="utf-8")
    folder = tmp_path / "designs"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize("word", ["use", "base", "file"])
@pytest.mark.parametrize("what", FILES)
def test_what_is_brought_in_is_a_design_under_the_root(place: Path, what: str, word: str,
                                                       capsys: pytest.CaptureFixture[str]) -> None:
    name = FILES[what](place)
    (place / "design.air").write_text(brings_in(word, name), encoding="utf-8")
    assert cli.main(["check", "design.air"]) == 2
    told = "".join(capsys.readouterr())
    assert SECRET not in told and "root:" not in told and told.startswith(("design.air:", "inner.air:"))


@pytest.mark.parametrize("target", ["OUTSIDE", "/etc/passwd"])
def test_a_design_that_is_a_link_out_of_its_root_is_not_read(place: Path, target: str,
                                                             capsys: pytest.CaptureFixture[str]) -> None:
    name = linked("design.air", target)(place)
    assert cli.main(["check", name]) == 2
    told = "".join(capsys.readouterr())
    assert SECRET not in told and "root:" not in told and "leads out" in told


def test_a_link_and_a_folder_above_within_one_root_are_followed(place: Path) -> None:
    (place.parent / "airwright.toml").touch()
    (place.parent / "parts.air").write_text("assembly pair {\n    tee t\n}\n", encoding="utf-8")
    (place / "design.air").write_text(HEAD + 'use "../parts.air"\npair one\n', encoding="utf-8")
    (place / "again.air").symlink_to("design.air")
    assert cli.main(["check", "design.air"]) == cli.main(["check", "again.air"]) == 1  # there is little to judge it by


@pytest.mark.parametrize("name", ["a\x1b[31m.air", "b\u202e.air", "c\n::error::d.air", "e\u200bf.air"])
def test_a_name_that_steers_a_terminal_is_cleaned(place: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    (place / name).write_text(example_text("truck-6x4"), encoding="utf-8")
    for command in ("check", "format", "run"):
        assert cli.main([command, name]) == 2
        told = "".join(capsys.readouterr())
        assert name not in told and "\x1b" not in told and "\u202e" not in told and "\n::" not in told, command


@pytest.mark.parametrize("row", [
    '# note\rwaive circuits-not-separate: at dry, because "x"\r# more',
    "# \u202e a remark that turns", "# \u2066 isolated", "# \u200f a mark", "tee a\rtee b"])
def test_what_not_every_reader_sees_is_a_mistake_everywhere(place: Path, row: str, capsys: pytest.CaptureFixture[str]) -> None:
    text = example_text("teaching-board")
    (place / "design.air").write_bytes(f"{text}{row}\n".encode())
    assert cli.main(["check", "design.air"]) == 2
    assert f"design.air:{text.count(chr(10)) + 1}:" in capsys.readouterr().err
    (place / "parts.air").write_bytes(f"assembly pair {{\n    tee t\n}}\n{row}\n".encode())
    (place / "design.air").write_text(HEAD + 'use "parts.air"\n', encoding="utf-8")
    assert cli.main(["check", "design.air"]) == 2
    assert "parts.air:4:" in capsys.readouterr().err
