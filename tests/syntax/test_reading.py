"""Files from disk: what can be wrong with them is one mistake with a place, never a traceback."""

import os
from pathlib import Path

import pytest

from circuit.mistake import Mistake, Unreadable
from circuit.source import harmless
from circuit.syntax.parse import LARGEST
from circuit.syntax.read import decode, read


def refused(path: Path | str) -> Mistake:
    with pytest.raises(Unreadable) as trouble:
        read(path)
    (mistake,) = trouble.value.mistakes
    assert mistake.at.source.name == harmless(str(path))
    assert mistake.expected
    return mistake


def test_a_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "a.air"
    path.write_bytes(b"\xef\xbb\xbfreservoir gr\xc3\xb6\xc3\x9fe\r\ntee x\r\ntee y\n")
    assert read(path).text == "reservoir größe\ntee x\ntee y\n"
    assert read(str(path)).name == str(path)


def test_an_empty_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "a.air"
    path.touch()
    assert read(path).text == ""


@pytest.mark.parametrize(("make", "says"), [
    (lambda path: None, "there is no file"),
    (lambda path: path.mkdir(), "is a folder"),
    (lambda path: path.symlink_to(path), "cannot be read"),
])
def test_what_is_no_file_is_said(tmp_path: Path, make, says: str) -> None:  # type: ignore[no-untyped-def]
    path = tmp_path / "a.air"
    make(path)
    mistake = refused(path)
    assert says in mistake.says and "a.air" in mistake.says
    assert (mistake.at.line, mistake.at.column) == (1, 1)


def test_a_name_that_no_file_can_have_is_said(tmp_path: Path) -> None:
    assert "cannot be read" in refused("a\0b.air").says
    assert "there is no file" in refused("").says
    assert "cannot be read" in refused("x" * 5000).says
    assert "there is no file" in refused(f"{tmp_path}/none/a.air").says
    (tmp_path / "plain").touch()
    assert "there is no file" in refused(f"{tmp_path}/plain/a.air").says


@pytest.mark.skipif(not hasattr(os, "getuid") or os.getuid() == 0, reason="root may read everything")
def test_a_file_without_permission_is_said(tmp_path: Path) -> None:
    path = tmp_path / "a.air"
    path.touch(mode=0)
    assert "may not be read" in refused(path).says


def test_no_permission_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def forbidden(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("builtins.open", forbidden)
    assert "may not be read" in refused(tmp_path / "a.air").says


@pytest.mark.parametrize(("content", "line", "column"), [
    (b"\xfftee x", 1, 1),
    (b"tee x\r\n# gr\xf6\xdfe\r\n", 2, 5),
    (b"\xef\xbb\xbftee \xc3\xa4 \xe2\x82", 1, 7),
    (b"tee x\r\ntee \xc0\x80", 2, 5),
    (b"tee \xed\xa0\x80", 1, 5),
])
def test_the_first_letter_that_is_not_utf8_is_placed(content: bytes, line: int, column: int) -> None:
    with pytest.raises(Unreadable) as trouble:
        decode(content, "a.air")
    (mistake,) = trouble.value.mistakes
    assert (mistake.at.line, mistake.at.column) == (line, column)
    assert "UTF-8" in mistake.says and "UTF-8" in mistake.expected
    assert mistake.at.source.row(line)


@pytest.mark.parametrize("code", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_another_encoding_is_one_mistake(code: str) -> None:
    with pytest.raises(Unreadable) as trouble:
        decode("reservoir wet: volume 20 L\n".encode(code), "a.air")
    (mistake,) = trouble.value.mistakes
    assert "UTF-16" in mistake.says or "no text" in mistake.says
    assert "UTF-8" in mistake.expected


def test_a_file_too_large_is_refused_by_its_size(tmp_path: Path) -> None:
    path = tmp_path / "a.air"
    with path.open("wb") as file:
        file.truncate(3_000_000_000)
    assert "too large" in refused(path).says


def test_a_text_too_large_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.air"
    path.write_text("# ü\n" * (LARGEST // 4 + 1))
    assert "too large" in refused(path).says
