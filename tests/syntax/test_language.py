"""The language: every sample of its page gives the tree that is meant, and the grammar has one reading."""

import re
import tomllib
from pathlib import Path

import lark
import pytest

from circuit.files import folder
from circuit.source import Source
from circuit.syntax.build import build
from circuit.syntax.cut import Piece, cut
from circuit.syntax.parse import parse, parser
from circuit.syntax.statements import Measure, Statement

from .shown import every, shown
from .words import BOARD

PAGE = (folder("grammar") / "README.md").read_text(encoding="utf-8")
TREES = tomllib.loads((Path(__file__).parent / "samples.toml").read_text(encoding="utf-8"))


def samples() -> dict[str, list[str]]:
    """Heading of the page to the samples under it."""
    found: dict[str, list[str]] = {}
    heading = ""
    for part in re.split(r"^(## [^\n]*|```air\n.*?^```)$", PAGE, flags=re.M | re.S):
        if part.startswith("## "):
            heading = part[3:]
        elif part.startswith("```air\n"):
            found.setdefault(heading, []).append(part.removeprefix("```air\n").removesuffix("```"))
    return found


SAMPLES = {name: "".join(texts) for name, texts in samples().items()}


def test_there_are_samples_and_each_is_parsed() -> None:
    assert len(SAMPLES) >= 12
    assert PAGE.count("```air") == sum(len(texts) for texts in samples().values())
    assert set(SAMPLES) == set(TREES)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_gives_its_tree(name: str) -> None:
    statements, mistakes = parse(Source(name, SAMPLES[name]))
    assert mistakes == ()
    assert shown(statements) == TREES[name].strip()


@pytest.mark.parametrize("name", [*SAMPLES, "the board"])
def test_cutting_first_gives_what_reading_the_whole_gives(name: str) -> None:
    text = SAMPLES.get(name, BOARD)
    source = Source(name, text)
    statements, mistakes = parse(source)
    assert mistakes == ()
    assert list(statements) == _whole(source)


def _whole(source: Source) -> list[Statement]:
    """The statements by the rule `start`, without the cutter."""
    return _statements(source, parser().parse(source.text, start="start"))


def _statements(source: Source, tree) -> list[Statement]:  # type: ignore[no-untyped-def]
    found = []
    for statement in tree.children:
        line, block = statement.children
        inner = None if block is None else tuple(_statements(source, block))
        found.append(build(source, Piece("", 1, 1), line, inner))
    return found


def test_the_grammar_is_free_of_conflicts() -> None:
    text = (folder("grammar") / "air.lark").read_text(encoding="utf-8")
    lark.Lark(text, parser="lalr", lexer="contextual", start=["start", "line"], strict=True)


def test_the_grammar_names_no_kind_and_no_unit() -> None:
    text = (folder("grammar") / "air.lark").read_text(encoding="utf-8")
    rules = "\n".join(row for row in text.split("\n") if not row.startswith("//"))
    for word in ("reservoir", "tube", "trial", "volume", "psi", "bar"):
        assert not re.search(rf"\b{word}\b", rules)


@pytest.mark.parametrize("figure", [
    "20", "20 L", "20L", "-40 °C", "+3 bar", "100 %", "2.25in", "3/8 in", "3/8in", "1 3/8 in", "12x1.5", "30/30",
    "12 in³", "1400 in3", "350 L/min", "20 L/(s.bar)", "20 L/(s·bar)", "2000 lbf.ft", "2 psi/min", "5\u00a0bar", "9 кг",
])
def test_a_figure_is_one_value(figure: str) -> None:
    statements, mistakes = parse(Source("x", f"kind name: a {figure}, b {figure}"))
    assert mistakes == ()
    assert [setting.values for setting in statements[0].settings] == [
        (Measure(figure, setting.values[0].span),) for setting in statements[0].settings]
    assert all(setting.values[0].span.length == len(figure) for setting in statements[0].settings)


@pytest.mark.parametrize("name", [
    "wet", "tank-1", "größe", "бак-2", "d1-left.can.11", "rear-relay.2", "<axle>", "<a-b>.<c>.2",
])
def test_a_reference_is_one_name(name: str) -> None:
    statements, mistakes = parse(Source("x", f"tube {name} -> {name}: on {name}\nplug {name}\ntube {name}->{name}"))
    assert mistakes == ()
    assert statements[0].ends and [end.text for end in statements[0].ends] == [name, name]
    assert [name_.text for name_ in statements[1].names] == [name]
    assert statements[2].ends and [end.text for end in statements[2].ends] == [name, name]


@pytest.mark.parametrize("text", [*SAMPLES.values(), BOARD, "größe tanks:\tvolume\u00a020 L,\n\t über 3 bar"])
def test_every_place_is_exact(text: str) -> None:
    source = Source("x", text)
    statements, mistakes = parse(source)
    assert mistakes == ()
    seen = 0
    for statement in every(statements):
        tokens = [statement.kind, *statement.names, *(statement.ends or ())]
        tokens += [token for setting in statement.settings for token in (setting.name, *setting.values)]
        tokens += [statement.text] if statement.text else []
        for token in tokens:
            row = source.row(token.span.line)
            there = row[token.span.column - 1:token.span.column - 1 + token.span.length]
            assert there.strip('"') == token.text
            seen += 1
    assert seen >= 2


def test_comments_stay_with_their_statement() -> None:
    pieces, mistakes = cut(Source("x", 'a b: c 1,  # one\n  # two\n\n  d "#3"  # four\n# five\ne f'))
    assert mistakes == []
    assert pieces[0].comments == [(1, "# one"), (2, "# two"), (4, "# four")]
    assert pieces[0].text == 'a b: c 1,\n\n\n  d "#3"'
    assert (pieces[1].text, pieces[1].line, pieces[1].comments) == ("e f", 6, [])
