"""Spoilt designs drawn by a seed: one mistake of the trade planted, or one number written otherwise."""

import random
import re
from collections.abc import Iterator
from pathlib import Path

from circuit.mistake import Unreadable
from circuit.pipeline import load
from circuit.plant.bed import Bed
from circuit.plant.operators import OPERATORS
from circuit.plant.planting import plantings

_QUANTITY = re.compile(r"(?<= )(\d+(?:\.\d+)?)(?= (?:bar|psi|L|in3|m|cfm|mm)\b)")
FACTORS = (0.5, 0.8, 0.9, 1.1, 1.25, 2.0)


def spoilt(path: Path, how_many: int, seed: int) -> Iterator[Path]:
    """Files beside a design, each spoilt in one place, that can still be read."""
    chance = random.Random(f"{path.parent.name} {path.stem} {seed}")
    text = path.read_text(encoding="utf-8")
    planted = (each.source.text for each in plantings(Bed(load(str(path))), OPERATORS, chance.randrange(10**6)))
    made = 0
    for turn in range(20 * how_many):
        if made == how_many:
            return
        other = next(planted, "") if turn % 2 == 0 else _numbered(text, chance)
        target = path.with_name(f"{path.stem}-spoilt-{seed}-{turn}.air")
        if other and _is_read(target, other):
            made += 1
            yield target


def _numbered(text: str, chance: random.Random) -> str:
    """The text with one quantity times a factor."""
    places = [match for row in re.finditer(r"^(?!#).*$", text, re.M)
              for match in _QUANTITY.finditer(text, row.start(), row.start() + len(row.group().partition(" #")[0]))]
    if not places:
        return ""
    place = chance.choice(places)
    return f"{text[:place.start()]}{float(place.group()) * chance.choice(FACTORS):.6g}{text[place.end():]}"


def _is_read(target: Path, text: str) -> bool:
    target.write_text(text, encoding="utf-8")
    try:
        load(str(target))
    except Unreadable:
        return False
    return True
