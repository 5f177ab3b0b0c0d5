"""The cut, and what is mended after it: no statement is lost to a brace or a comma."""

import pytest

from circuit.source import Source
from circuit.syntax.cut import DEEPEST, cut, without_comment
from circuit.syntax.parse import parse
from circuit.syntax.vocabulary import Vocabulary

from .shown import shown
from .words import BOARD, WORDS


@pytest.mark.parametrize(("row", "code", "comment"), [
    ("tee x", "tee x", ""),
    ("tee x # y", "tee x ", "# y"),
    ('a "b # c" # d', 'a "b # c" ', "# d"),
    ('a "b # c', 'a "b # c', ""),
    ('a "b" "# c" d#"e"', 'a "b" "# c" d', '#"e"'),
    ("#", "", "#"),
    ("", "", ""),
])
def test_a_comment_begins_outside_quotes(row: str, code: str, comment: str) -> None:
    assert without_comment(row) == (code, comment)


HILL = "trial [hill]\n  block\n    release [foot]\n      at: |2 s|\ntee [a]"


@pytest.mark.parametrize(("text", "tree"), [
    ("reservoir wet: volume 20 L, role supply,\nreservoir dry: volume 46 L",
     "reservoir [wet]\n  volume: |20 L|\n  role: supply\nreservoir [dry]\n  volume: |46 L|"),
    ("reservoir wet: volume 20 L,\n\n# the tee\ntee a,\ntee b",
     "reservoir [wet]\n  volume: |20 L|\ntee [a]\ntee [b]"),
    ("reservoir wet: role supply,\ntrial hill {\n  release foot: at 2 s,\n}\ntee a",
     "reservoir [wet]\n  role: supply\ntrial [hill]\n  block\n    release [foot]\n      at: |2 s|\ntee [a]"),
    ("reservoir wet: volume 20 L\n  role supply\n  holes 3\ntee a",
     "reservoir [wet]\n  volume: |20 L|\n  role: supply\n  holes: |3|\ntee [a]"),
    ("chamber can: type 20\n  axle front, side left\ntee a",
     "chamber [can]\n  type: |20|\n  axle: front\n  side: left\ntee [a]"),
    ('vehicle a: title "board,\naxle front: position 1', "BROKEN vehicle [a]\naxle [front]\n  position: |1|"),
    ("trial hill\n  release foot: at 2 s\n}\ntee a", HILL),
    ("trial hill {\n  release foot: at 2 s\ntee a", HILL),
    ("trial hill { release foot: at 2 s }\ntee a", HILL),
    ("trial hill\n{\n  release foot: at 2 s\n} tee a", HILL),
    ("tee a\n}\n}\ntee b", "tee [a]\ntee [b]"),
])
def test_statements_live_through_a_slip_at_the_end_of_a_row(text: str, tree: str) -> None:
    statements, mistakes = parse(Source("x", text), WORDS)
    assert shown(statements) == tree
    assert 1 <= len(mistakes) <= 4


def test_a_broken_statement_still_gives_its_names() -> None:
    for text, names in [
        ("reservoir wet volume 20 L", ["wet"]),
        ("reservoir a and b volume 20 L", ["a", "b"]),
        ("reservoir a, b: volume 20 L", ["a", "b"]),
        ("reservoir wet_tank: volume 20 L", ["wet_tank", "wet-tank"]),
        ("reservoir wet tank: volume 20 L", ["wet", "tank", "wet-tank"]),
        ("reservoir wet: volume .5 L", ["wet"]),
        ("reservoir wet", ["wet"]),
        ("res?ervoir wet: volume 20 L", ["wet"]),
        ("tube a > b: size 1/2 in", []),
        ("tube a to b: size 1/2 in", []),
        ("tube relay.2 b: size 1/2 in", ["b"]),
    ]:
        (statement,), mistakes = parse(Source("x", text), WORDS)
        assert [name.text for name in statement.names] == names, text
        for name in statement.names:
            there = text[name.span.column - 1:][:name.span.length]
            assert there.replace("_", "-") == name.text.replace("_", "-") or name.text == f"{there}-tank"
        assert statement.broken == bool(mistakes)


def test_a_block_under_a_broken_statement_is_read() -> None:
    statements, mistakes = parse(Source("x", "trial ? {\n  release foot: at 2 s\n}"), WORDS)
    assert len(mistakes) == 1
    assert statements[0].broken and statements[0].block and statements[0].block[0].kind.text == "release"


def test_ten_thousand_open_braces_are_one_mistake() -> None:
    pieces, mistakes = cut(Source("x", "trial x {\n" * 10_000))
    assert [(m.at.line, m.at.column) for m in mistakes] == [(DEEPEST + 1, 9)]
    assert len(pieces) == 1


def test_the_vocabulary_is_asked_only_when_it_is_needed() -> None:
    asked = []

    def words() -> Vocabulary:
        asked.append(1)
        return WORDS

    bare = ("rules ", "check-valve ", "tee ", "plug ")  # a setting that lost its comma looks like these
    text = "\n".join(row for row in BOARD.split("\n") if not row.startswith(bare))
    assert parse(Source("x", text), words)[1] == ()
    assert asked == []
    assert parse(Source("x", BOARD + "tube a > b"), words)[1] != ()
    assert asked == [1]


@pytest.mark.parametrize("text", [
    "role supply", "role supply\nrole service", "  axle front, side left", ",", "}", "{", "",
])
def test_a_setting_without_a_statement_above_is_no_trouble(text: str) -> None:
    parse(Source("x", text), WORDS)
