"""Every kind that is no line can be drawn by its name, to show its symbol."""

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from circuit import cli, kinds
from circuit.declaring.traits import Trait
from circuit.draw import svg
from circuit.draw.symbol_sheet import HIGH, WIDE, symbol_sheet
from circuit.draw.text import width
from circuit.pipeline import load_source
from circuit.report.specimen import specimen

SHOWN = [kind for kind in kinds.every() if Trait.LINE not in kind.traits]


@pytest.mark.parametrize("kind", SHOWN, ids=lambda kind: kind.name)
def test_a_kind_shows_its_symbol(kind) -> None:  # type: ignore[no-untyped-def]
    source = specimen(kind.name)
    assert source is not None
    circuit = load_source(source)
    assert circuit.by_name["part"].kind is kind
    assert kind.title in svg(circuit).replace("&#x27;", "'")


@pytest.mark.parametrize("kind", SHOWN, ids=lambda kind: kind.name)
def test_its_symbol_sheet_names_every_port_and_stays_on_the_page(kind) -> None:  # type: ignore[no-untyped-def]
    """Read back with an XML parser; widths by the font's table."""
    texts = [(float(t.get("x")), float(t.get("y")), t.get("text-anchor"), float(t.get("font-size")), t.text or "")
             for t in ET.fromstring(symbol_sheet(kind)).iter("{http://www.w3.org/2000/svg}text")]
    told = [words for *_, words in texts]
    for port in kind.ports:
        assert told.count(port.number) >= 2, "once at the symbol, once in the list"
    assert kind.title in told and kind.name in " ".join(told)
    for x, y, anchor, size, words in texts:
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * width(words, size)
        assert 0 < left and left + width(words, size) < WIDE and size < y < HIGH, words


def test_the_command_draws_the_sheet_and_no_dot(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["draw", "relay-valve", "-o", str(tmp_path / "r.svg")]) == 0
    assert "its symbol and ports" in capsys.readouterr().out and "delivery" in (tmp_path / "r.svg").read_text()
    assert cli.main(["draw", "relay-valve", "-o", str(tmp_path / "r.dot")]) != 0
    assert "a symbol is written as" in capsys.readouterr().err and not (tmp_path / "r.dot").exists()


def test_lines_and_strangers_have_no_specimen() -> None:
    assert specimen("tube") is None
    assert specimen("no-such-kind") is None
    assert len(SHOWN) > 90
