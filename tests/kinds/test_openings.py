"""What opens and shuts every way and every latch of every kind: the rows of openings.txt, worked by hand, and none is missing."""

import re
from pathlib import Path
from typing import NamedTuple

import pytest

from circuit import kinds
from circuit.declaring.kind import OUTSIDE, Kind, Passage
from circuit.model.settings import typical_value
from circuit.units import ATMOSPHERE

FILE = Path(__file__).resolve().parent / "openings.txt"
BESIDE = 0.002
"""bar to each side of a threshold at which it must stand open and shut."""


class Row(NamedTuple):
    """A row of the file for one kind. word: a way, `rests`, or a latch with `+` or `-`."""

    line: int
    kind: str
    word: str
    given: dict[str, str]
    opens: str


def rows() -> list[Row]:
    found = []
    for number, text in enumerate(FILE.read_text(encoding="utf-8").split("\n"), 1):
        if text and not text.startswith("#"):
            names, word, given, opens = (cell.strip() for cell in text.split("|"))
            pairs = dict(pair.split("=") for pair in given.split())
            found += [Row(number, name, word, pairs, opens) for name in names.split()]
    return found


ROWS = rows()


class Stood:
    """A kind with its typical settings, states and pressures as a row names them."""

    def __init__(self, kind: Kind, given: dict[str, str]):
        self.kind = kind
        self.pressures = {port.number: ATMOSPHERE for port in kind.ports} | {OUTSIDE: ATMOSPHERE}
        self.states: dict[str, float] = {**kind.rest, **kind.when.get("driving", {})}
        self.settings = {s.name: typical_value(s) if s.typical else None for s in kind.settings}
        plain = {"word": lambda s: s.choices[0], "pressure": lambda s: ATMOSPHERE + 9e5}
        self.settings.update({s.name: plain[s.dimension](s) for s in kind.settings if s.required and s.dimension in plain})
        derived = dict.fromkeys(kind.derives, 0.0)
        for word, value in given.items():
            if word in self.pressures:
                self.pressures[word] = ATMOSPHERE + float(value) * 1e5
            elif word in self.states:
                self.states[word] = float(value)
            elif word in derived:
                derived[word] = float(value)
            else:
                self.settings[word] = self.read(word, value)
        if not any(s.required and s.dimension not in plain for s in kind.settings):
            self.settings.update(kind.derive(self.settings))
        self.settings.update(derived)

    def read(self, word: str, value: str) -> object:
        setting = self.kind.setting(word)
        assert setting is not None, f"{self.kind.name} has no port, state or setting {word}"
        if setting.dimension == "word":
            assert value in setting.choices
            return value
        scale = {"pressure": (1e5, ATMOSPHERE), "difference": (1e5, 0.0)}.get(setting.dimension, (1.0, 0.0))
        return float(value) * scale[0] + scale[1]

    def push(self, word: str) -> float:
        """Pa by which what a row names is pushed open, or over."""
        if word == "rests":
            assert self.kind.source is not None
            return self.kind.source.rests(self.pressures, self.settings, self.states)
        if word[-1] in "+-":
            (latch,) = (latch for latch in self.kind.latches if latch.variable == word[:-1])
            snaps = latch.sets if word[-1] == "+" else latch.resets
            assert snaps is not None
            return snaps(self.pressures, self.settings)
        opening = way(self.kind, word).opening
        assert opening is not None
        return opening(self.pressures, self.settings, self.states)


def way(kind: Kind, word: str) -> Passage:
    """The passage of a kind that a row means."""
    ends, _, number = word.partition("#")
    start, both, end = re.fullmatch(r"([\d-]+?)(<?)>(.+)", ends).groups()
    found = [p for p in kind.passages if (p.start, p.end) == (start, end)]
    passage = found[int(number or 1) - 1]
    assert passage.both_ways is bool(both), f"{kind.name} {word}: it passes {'back too' if passage.both_ways else 'one way'}"
    return passage


@pytest.mark.parametrize("row", ROWS, ids=[f"{row.line}-{row.kind}-{row.word}" for row in ROWS])
def test_a_way_opens_and_shuts_as_worked_by_hand(row: Row):
    kind = kinds.find(row.kind)
    assert kind is not None
    if row.opens == "always":
        assert way(kind, row.word).opening is None
        return
    stood = Stood(kind, row.given)
    if row.opens in ("yes", "no"):
        assert (stood.push(row.word) > 0) is (row.opens == "yes")
        return
    port, sign, value = row.opens.split()
    assert port in stood.pressures and port not in row.given
    for side in (-1, 1):
        stood.pressures[port] = ATMOSPHERE + (float(value) + side * BESIDE) * 1e5
        due = (side > 0) == (sign == ">")
        assert (stood.push(row.word) > 0) is due, f"{port} at {float(value) + side * BESIDE:g} bar"


def test_no_way_and_no_latch_of_any_kind_is_missing():
    told = {(row.kind, re.sub(r"<", "", row.word)) for row in ROWS}
    missing = []
    for kind in kinds.every():
        seen: dict[str, int] = {}
        for passage in kind.passages:
            name = f"{passage.start}>{passage.end}"
            seen[name] = seen.get(name, 0) + 1
            missing.append((kind.name, name if seen[name] == 1 else f"{name}#{seen[name]}"))
        for latch in kind.latches:
            missing += [(kind.name, f"{latch.variable}{sign}")
                        for sign, snaps in (("+", latch.sets), ("-", latch.resets)) if snaps]
    assert len(missing) > 240
    assert [each for each in missing if each not in told and not alike(each)] == []


def alike(each: tuple[str, str]) -> bool:
    """The further outlets of a valve of many, which are made by one function and told once."""
    kind, word = each
    return kind in ("air-processing-unit", "four-circuit-protection-valve") and re.match(r"open-2[3-6][+-]$", word) is not None
