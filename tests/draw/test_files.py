"""Writing drawings: each format well formed, text really in it, clear words when something is missing."""

import builtins
import io
import struct
import zlib
from pathlib import Path
from typing import Any

import pytest

import circuit.draw
from circuit.draw import CannotDraw, dot_text, engine, write
from circuit.pipeline import load
from tests.designs import EXAMPLES, example_names, example_text, loaded


@pytest.fixture(scope="module")
def board() -> Any:
    return loaded(example_text("teaching-board"))


def test_svg(board: Any, tmp_path: Path) -> None:
    write(board, tmp_path / "a.svg")
    assert (tmp_path / "a.svg").read_text(encoding="utf-8").startswith("<svg ")


def test_pdf_has_pages_fonts_and_words(board: Any, tmp_path: Path) -> None:
    write(board, tmp_path / "a.pdf")
    data = (tmp_path / "a.pdf").read_bytes()
    assert data.startswith(b"%PDF-") and data.rstrip().endswith(b"%%EOF")
    assert b"BitstreamVeraSans" in data and b"/ToUnicode" in data
    assert len(data) > 15_000


def _rows(data: bytes) -> tuple[int, int, bytes]:
    """Width, height and raw rows (with filter bytes) of a PNG of 8 bits a channel."""
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    at, packed, wide, high = 8, b"", 0, 0
    while at < len(data):
        size, kind = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 8:at + 8 + size]
        if kind == b"IHDR":
            wide, high, depth = struct.unpack(">IIB", body[:9])
            assert depth == 8
        elif kind == b"IDAT":
            packed += body
        at += size + 12
    return wide, high, zlib.decompress(packed)


def test_png_is_there_and_has_its_words(board: Any, tmp_path: Path) -> None:
    from circuit.draw import export

    write(board, tmp_path / "a.png")
    wide, high, _ = _rows((tmp_path / "a.png").read_bytes())
    assert wide > 1500 and high > 400
    text = circuit.draw.svg(board)
    without = text.replace(" font-size=", ' display="none" font-size=')
    assert without != text
    # a renderer without the font leaves all words out, and then these two would be the same
    assert len(zlib.compress(_rows(export.png(text))[2])) > 1.3 * len(zlib.compress(_rows(export.png(without))[2]))


def test_an_unknown_suffix_names_the_known(board: Any, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"\.svg, \.pdf, \.png, \.dxf or \.dot"):
        write(board, tmp_path / "a.bmp")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(("suffix", "missing", "cure"), [
    ("pdf", "svglib", "pip install svglib"), ("png", "resvg_py", "pip install resvg-py"),
    ("png", "reportlab", "pip install reportlab"), ("dxf", "ezdxf", "pip install ezdxf"),
])
def test_what_is_missing_is_said(board: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, suffix: str, missing: str,
                                 cure: str) -> None:
    real = builtins.__import__

    def without(name: str, *rest: Any, **more: Any) -> Any:
        if name.split(".")[0] == missing:
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(CannotDraw, match=cure):
        write(board, tmp_path / f"a.{suffix}")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", example_names())
def test_dot_text_is_understood_by_an_engine(name: str, tmp_path: Path) -> None:
    design = load(str(EXAMPLES / name / "design.air"))
    text = dot_text(design)
    for device in design.devices:
        if not device.is_line:
            assert f'"{device.name}"' in text
    write(design, tmp_path / "a.gv")
    assert (tmp_path / "a.gv").read_text(encoding="utf-8") == text
    if engine.found() is None:
        pytest.skip("no layout engine here")
    answer = engine.run(text)
    assert answer is not None and answer.count(b'"name"') >= sum(not d.is_line for d in design.devices)
    assert io.BytesIO(answer).read(1) == b"{"
