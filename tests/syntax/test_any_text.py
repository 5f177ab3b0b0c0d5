"""Whatever the text, there is an answer. A text that traps the parser hangs here, and pytest then prints where."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuit.mistake import Unreadable
from circuit.source import Source
from circuit.syntax.parse import HOPELESS, LARGEST, MOST_MISTAKES, MOST_ROWS, parse
from circuit.syntax.read import decode
from circuit.syntax.statements import Statement
from tests.designs import sampled

from .shown import every, shown
from .words import BOARD, WORDS

FRAGMENTS = (
    "reservoir", "wet", "dry-1", "volume", "rated", "role", "20 L", "1/2", "3/8 in", "12x1.5", ".5", "100 %", "->", ":",
    ",", "{", "}", '"', '"text"', "#", "and", "\n", "\n    ", " ", "\t", "<axle>", "foot.2", "=", ";", "½", "“", "'",
    "tee x\n", "trial hill {\n", "}\n", "axle front: position 1\n", ",\n", "\0", "\r", "\u200b", "\u2028", "\ud800",
)
TEXTS = st.one_of(
    st.text(max_size=300),
    st.lists(st.sampled_from(FRAGMENTS), max_size=60).map("".join),
    st.lists(st.sampled_from(FRAGMENTS), max_size=60).map(" ".join),
)


def checked(text: str) -> tuple[Statement, ...]:
    """The statements of a text, after the promises that hold for every text."""
    source = Source("x", text)
    for words in (None, WORDS):
        statements, mistakes = parse(source, words)
        places = [(m.at.line, m.at.column) for m in mistakes]
        assert places == sorted(places)
        assert len(mistakes) <= MOST_MISTAKES + 1
        for mistake in mistakes:
            assert 1 <= mistake.at.line <= len(source.rows)
            assert 1 <= mistake.at.column <= len(source.row(mistake.at.line)) + 1
            assert mistake.at.length >= 1
            assert mistake.says and "\n" not in mistake.says + mistake.expected
            mistake.says.encode(), mistake.expected.encode()
        assert bool(mistakes) or not any(statement.broken for statement in every(statements))
    return statements


@settings(max_examples=600, deadline=None)
@given(TEXTS)
def test_no_text_is_too_much(text: str) -> None:
    checked(text)


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300))
def test_no_bytes_are_too_much(content: bytes) -> None:
    try:
        source = decode(content, "x")
    except Unreadable as trouble:
        assert len(trouble.mistakes) == 1
    else:
        checked(source.text)


ROWS = BOARD.split("\n")
SLIPS = st.tuples(
    st.integers(0, len(BOARD) - 1), st.sampled_from(("delete", "double", "replace", "swap")),
    st.one_of(st.sampled_from("abx 0123.,:;-_#\"'{}()<>=/\n\t%&@½“"), st.characters()),
)


def slipped(text: str, place: int, how: str, letter: str) -> str:
    """A text with one slip of a finger."""
    before, here, after = text[:place], text[place], text[place + 1:]
    if how == "swap" and "\n" in here + after[:1]:
        how = "double"
    return before + {"delete": "", "double": here * 2, "replace": letter, "swap": after[:1] + here}[how] + (
        after[1:] if how == "swap" else after)


def said(statements: tuple[Statement, ...]) -> Counter[str]:
    """What whole statements say, blocks apart from what holds them."""
    return Counter(shown((statement._replace(block=None),)) for statement in every(statements) if not statement.broken)


@settings(max_examples=150, deadline=None)
@given(SLIPS)
def test_one_slip_costs_two_messages_and_two_statements_at_most(slip: tuple[int, str, str]) -> None:
    whole = said(parse(Source("x", BOARD), WORDS)[0])
    for words in (WORDS, None):
        statements, mistakes = parse(Source("x", slipped(BOARD, *slip)), words)
        assert len(mistakes) <= 2, [m[:3] for m in mistakes]
        assert (whole - said(statements)).total() <= 2


LONG = {
    "a statement a row": "tube dry-{n} -> foot.1: size 3/8 in, length 8 m, material metal-braid\n",
    "a word a row": "a\n",
    "a sign a row": "?\n",
    "braces that close": "a\n}\n",
    "braces that open": "x {\n",
    "commas at the ends of rows": "reservoir b: role 1,\n",
    "settings without a comma above": "role 1\n",
    "one statement of many rows": " c 1,\n",
}


@pytest.mark.parametrize("name", sampled(LONG, 4))
def test_a_long_text_is_answered(name: str) -> None:
    row = LONG[name]
    count = min(MOST_ROWS // row.count("\n") - 2, LARGEST // len(row)) // 6
    statements, mistakes = parse(Source("x", "reservoir a: role 1\n" + row * count), WORDS)
    assert len(mistakes) <= MOST_MISTAKES + 1


def test_a_large_valid_text_is_read() -> None:
    text = BOARD * (LARGEST // len(BOARD) // 5)
    statements, mistakes = parse(Source("x", text), WORDS)
    assert mistakes == () and len(statements) > 6_000


@pytest.mark.parametrize("word", sampled(
    ["a", "a-", "1", "1 ", "a ", "->", '"', ", ", "1.", "½", "a.", "<a", "( ", "x1", "a: b "], 6, repr))
def test_a_long_row_is_no_trap(word: str) -> None:
    for row in ((word * 2000)[:1990], f"a b: c {word * 2000}"[:1990] + "?"):
        checked(f"{row}\n" * 20)


@pytest.mark.parametrize("letter", ["a", "{", "}", '"', "#", ",", "\0", "\ud800"])
def test_a_text_in_one_row_is_one_mistake_or_two(letter: str) -> None:
    _, mistakes = parse(Source("x", letter * (LARGEST - 1)), WORDS)
    assert len(mistakes) <= 2


@pytest.mark.parametrize(("text", "says"), [
    ("a" * (LARGEST + 1), "too large"), ("\n" * (MOST_ROWS + 1), "too long"), ("?" * 10_000_000, "too large"),
])
def test_what_is_too_large_is_refused_unread(text: str, says: str) -> None:
    source = Source("x", text)
    statements, (mistake,) = parse(source, WORDS)
    assert statements == () and says in mistake.says and str(mistake.at) == "x:1:1"


def test_of_a_great_many_mistakes_the_first_are_told_and_the_rest_counted() -> None:
    statements, mistakes = parse(Source("x", "tee x\n" + "?\n" * 300 + "tee y"), WORDS)
    assert len(mistakes) == MOST_MISTAKES + 1
    assert mistakes[-1].says == "100 more mistakes are not shown"
    assert [m.at.line for m in mistakes] == [*range(2, MOST_MISTAKES + 2), MOST_MISTAKES + 2]
    assert [s.kind.text for s in statements if not s.broken] == ["tee", "tee"]
    _, mistakes = parse(Source("x", "?\n" * (HOPELESS * 2)), WORDS)
    assert mistakes[-1].says == f"at least {HOPELESS} more mistakes are not shown"
