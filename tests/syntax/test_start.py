"""Starting up: the parser's tables are kept, and no kept file can do harm."""

import subprocess
import sys
from pathlib import Path

import pytest

from circuit.source import Source
from circuit.syntax import grammar
from circuit.syntax.parse import parse

TABLES: dict[str, object] = {}


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The file of the tables, in a cache folder of the test's own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr(grammar, "_parser", None)
    monkeypatch.setattr("circuit.syntax.parse._kept", None)  # a language server in this process may have begun to keep trees
    make = grammar._tables

    def made_once(text: str) -> object:
        if text not in TABLES:
            TABLES[text] = make(text)
        return TABLES[text]

    monkeypatch.setattr(grammar, "_tables", made_once)
    return tmp_path / "airwright" / "grammar.tables"


def works() -> bool:
    """Whether a new start parses."""
    grammar._parser = None
    (statement,), mistakes = parse(Source("x", "reservoir wet: volume 20 L"))
    return statement.kind.text == "reservoir" and mistakes == ()


def test_tables_are_kept_and_read_back(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert works() and kept.is_file()

    def made_again(text: str) -> None:
        raise AssertionError("the tables were made again")

    monkeypatch.setattr(grammar, "_tables", made_again)
    assert works()


@pytest.mark.parametrize("spoil", [
    lambda content: b"",
    lambda content: content[:100],
    lambda content: content[:-1],
    lambda content: content[:2000] + bytes([content[2000] ^ 1]) + content[2001:],
    lambda content: b"\x80\x04cos\nsystem\n(S'false'\ntR.",
    lambda content: content[:64] + b"[]",
    lambda content: bytes(len(content)),
    lambda content: content * 2,
])
def test_a_spoiled_file_is_made_anew(kept: Path, spoil) -> None:  # type: ignore[no-untyped-def]
    assert works()
    spoiled = spoil(kept.read_bytes())
    kept.write_bytes(spoiled)
    assert works()
    assert kept.read_bytes() != spoiled


def test_a_folder_in_its_place_is_no_trouble(kept: Path) -> None:
    kept.mkdir(parents=True)
    assert works()


def test_no_folder_to_keep_it_in_is_no_trouble(tmp_path: Path, kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "airwright").write_text("no folder")
    assert works()
    monkeypatch.setenv("XDG_CACHE_HOME", "/dev/null/none")
    assert works()


def test_nothing_heavy_is_loaded_before_there_is_something_to_parse() -> None:
    code = "import sys, circuit.syntax.parse, circuit.syntax.read; sys.exit('lark' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
    code = ("import sys; from circuit.source import Source; from circuit.syntax.parse import parse;"
            "parse(Source('x', 'tee x')); sys.exit('circuit.syntax.slips' in sys.modules)")
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
