"""What a mistyping gets: the place, the sentence and the order, for every case of mistypings.txt."""

import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from circuit.source import Source
from circuit.syntax import slips
from circuit.syntax.parse import parse
from circuit.syntax.slips import SLIPS, Slip

from .words import WORDS

TABLE = (Path(__file__).parent / "mistypings.txt").read_text(encoding="utf-8")
_MARK = re.compile(r"( *)(\^+) (.*)")


@dataclass(frozen=True)
class Case:
    """text: what was typed. told: (line, column, length, says, expected) of each mistake."""

    text: str
    told: tuple[tuple[int, int, int, str, str], ...]


def cases() -> list[Case]:
    """The cases of the table."""
    return [_case(text) for text in re.split(r"^(?:---|== .*)\n", TABLE, flags=re.M)[1:]]


def _case(text: str) -> Case:
    rows: list[str] = []
    told: list[tuple[int, int, int, str, str]] = []
    for row in text.rstrip("\n").split("\n"):
        mark = _MARK.fullmatch(row)
        if mark:
            told.append((len(rows), len(mark[1]) + 1, len(mark[2]), mark[3], ""))
        elif told and told[-1][0] == len(rows) and not told[-1][4] and row.lstrip().startswith("> "):
            told[-1] = (*told[-1][:4], row.lstrip()[2:])
        else:
            rows.append(row)
    return Case("\n".join(rows), tuple(told))


CASES = cases()
UNSEEN = [
    ("reservoir wet: volume\0 20 L", 1, 22, "U+0000"),
    ("reservoir wet: volume\u200b 20 L", 1, 22, "U+200B"),
    ("reservoir wet: volume\ud800 20 L", 1, 22, "U+D800"),
    ("reservoir wet: volume 20\u2009L", 1, 25, "U+2009"),
    ('vehicle board: class truck,\n\ttitle "a\x1bb"', 2, 10, "U+001B"),
    ('vehicle board: title "a\u202eb"', 1, 24, "U+202E"),
    ("reservoir wet: role supply\rreservoir dry: role supply", 1, 27, "U+000D"),
]
BLIND = [
    ("these are the rear brakes", 1, "this is no statement"),
    ("reservoir wet: volume 20 L rated 10 bar", 28, "a comma is missing before `rated`"),
    ("press foot: to 100 % at 0 s", 21, "a comma is missing here"),
    ("tube dry foot.1: size 1/2 in", 10, "from and to are joined by ->"),
    ("reservoir wet tank: volume 20 L", 11, "a name is one word"),
]
"""Without a vocabulary: text, column, says."""


def test_the_table_is_read() -> None:
    assert len(CASES) > 150
    assert sum(len(case.told) for case in CASES) > 150


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.text.split("\n")[0][:60])
def test_a_mistyping_is_told(case: Case) -> None:
    _, mistakes = parse(Source("x", case.text), WORDS)
    assert tuple((m.at.line, m.at.column, m.at.length, m.says, m.expected) for m in mistakes) == case.told


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.text.split("\n")[0][:60])
def test_without_a_vocabulary_there_is_no_other_number_of_mistakes_than_one_more(case: Case) -> None:
    _, mistakes = parse(Source("x", case.text))
    assert len(mistakes) <= len(case.told) + 1


ORDERS = ("write", "put", "type", "remove", "move", "begin", "close", "end", "delete", "if")


def test_a_message_is_lower_case_without_full_stop_and_orders() -> None:
    for case in CASES:
        for *_, says, expected in case.told:
            assert says[0] in "`{}" or says[0].islower()
            assert not says.endswith(".") and not expected.endswith(".")
            assert expected.split()[0] in ORDERS


def test_every_slip_has_a_case(monkeypatch: pytest.MonkeyPatch) -> None:
    found = set()
    search = slips._search

    def seen(slip, view, anywhere=False):  # type: ignore[no-untyped-def]
        mistake = search(slip, view, anywhere)
        if mistake:
            found.add(slip)
        return mistake

    monkeypatch.setattr(slips, "_search", seen)
    for case in CASES:
        parse(Source("x", case.text), WORDS)
    for text, *_ in UNSEEN:
        parse(Source("x", text), WORDS)
    for text, *_ in BLIND:
        parse(Source("x", text))
    missing = [slip.pattern for slip in SLIPS if isinstance(slip, Slip) and slip not in found]
    assert missing == []


@pytest.mark.parametrize(("text", "line", "column", "code"), UNSEEN)
def test_a_sign_that_cannot_be_shown_is_named(text: str, line: int, column: int, code: str) -> None:
    _, mistakes = parse(Source("x", text), WORDS)
    assert [(m.at.line, m.at.column) for m in mistakes] == [(line, column)]
    assert code in mistakes[0].says
    assert all(letter.isprintable() for letter in mistakes[0].says + mistakes[0].expected)


@pytest.mark.parametrize(("text", "column", "says"), BLIND)
def test_without_a_vocabulary_too(text: str, column: int, says: str) -> None:
    _, mistakes = parse(Source("x", text))
    assert [(m.at.line, m.at.column, m.says) for m in mistakes] == [(1, column, says)]


@pytest.mark.parametrize(("text", "line", "column"), [
    ("reservoir wet: volume 20 L,\n\t\trated .5 bar", 2, 9),
    ("größe nässe:\tvolume 20 L,  # ä\n\n# ö\n    ünter .5 bar", 4, 11),
    ("trial hill {\n\t# why\n\texpect über: pressure at least 60 psi,\n\t\twithin .5 s\n}", 4, 10),
    ("\ufeffreservoir wet: volume .5 L", 1, 24),
    ("reservoir wet: volume 20 L,\r\n  rated .5 bar\r\n", 2, 9),
    ('vehicle a: title "# no remark: {", class .5 L', 1, 42),
])
def test_the_place_is_exact_on_every_row(text: str, line: int, column: int) -> None:
    _, mistakes = parse(Source("x", text))
    assert [(m.at.line, m.at.column, m.says) for m in mistakes] == [(line, column, "a figure begins with a digit")]
