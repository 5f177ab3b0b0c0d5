"""Colours stay apart for people with one kind of cone missing, and stand out on paper.

The matrices are those of Machado, Oliveira and Fernandes, "A physiologically-based model for simulation of color vision
deficiency" (2009), severity 1, applied to linear RGB. The distance is CIE76 in CIELAB under D65.
"""

from itertools import combinations

import pytest

from circuit.draw.palette import DASH, PALETTE, TAGS, WEIGHT

Matrix = tuple[tuple[float, float, float], ...]

SIGHT: dict[str, Matrix] = {
    "all cones": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "no long": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "no middle": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "no short": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}


def linear(colour: str) -> tuple[float, ...]:
    parts = [int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    return tuple(p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)


def lab(rgb: tuple[float, ...]) -> tuple[float, float, float]:
    rows = ((0.4124564, 0.3575761, 0.1804375), (0.2126729, 0.7151522, 0.0721750), (0.0193339, 0.1191920, 0.9503041))
    x, y, z = (sum(a * b for a, b in zip(row, rgb)) / white for row, white in zip(rows, (0.95047, 1.0, 1.08883)))

    def f(t: float) -> float:
        return t ** (1 / 3) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116

    return 116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))


def seen(colour: str, matrix: Matrix) -> tuple[float, float, float]:
    rgb = linear(colour)
    return lab(tuple(min(1.0, max(0.0, sum(a * b for a, b in zip(row, rgb)))) for row in matrix))


@pytest.mark.parametrize("sight", SIGHT)
def test_circuits_stay_apart(sight: str) -> None:
    assert len(PALETTE) == 7
    for one, other in combinations(PALETTE, 2):
        a, b = seen(one, SIGHT[sight]), seen(other, SIGHT[sight])
        assert sum((x - y) ** 2 for x, y in zip(a, b)) ** 0.5 >= 20, (one, other)


@pytest.mark.parametrize("colour", PALETTE)
def test_lines_stand_out_on_paper(colour: str) -> None:
    brightness = sum(a * b for a, b in zip((0.2126, 0.7152, 0.0722), linear(colour)))
    assert 1.05 / (brightness + 0.05) >= 3


def test_roles_differ_without_colour() -> None:
    assert len({(WEIGHT[role], DASH[role]) for role in WEIGHT}) == len(WEIGHT)
    assert len(set(DASH.values())) >= 3
    assert len(set(TAGS.values())) >= 5
