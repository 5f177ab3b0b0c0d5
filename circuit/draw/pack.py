"""Bands on sheets: side by side or one above the other, in reading order, on as few sheets as hold them. Lengths in U."""

from functools import cache
from itertools import combinations, permutations
from typing import NamedTuple

GAP = 2.5
"""Between bands."""
_KEPT = 12
_MOST_ON_A_SHEET, _MANY, _TURNED = 6, 9, 4
"""Bands on one sheet; up to how many in all they may leave their order, and up to how many on a sheet."""
_DISORDER = 0.05
"""What a band before an earlier one counts as, in sheets."""


class Block(NamedTuple):
    """An arrangement of some bands. places: for each, in order, its left and top."""

    wide: float
    high: float
    places: tuple[tuple[float, float], ...]


def blocks(sizes: list[tuple[float, float]], widest: float) -> "dict[tuple[int, int], list[Block]]":
    """Every run of bands, from one to before another, as the arrangements of which none is wider and higher than another."""
    found: dict[tuple[int, int], list[Block]] = {}
    for n, (wide, high) in enumerate(sizes):
        found[n, n + 1] = [Block(wide, high, ((0.0, 0.0),))]
    for length in range(2, len(sizes) + 1):
        for first in range(len(sizes) - length + 1):
            end = first + length
            tries = [block for middle in range(first + 1, end)
                     for one in found[first, middle] for other in found[middle, end]
                     for block in (_beside(one, other), _below(one, other)) if block.wide <= widest]
            found[first, end] = _pareto(tries)
    return found


def _beside(one: Block, other: Block) -> Block:
    x = one.wide + GAP
    return Block(x + other.wide, max(one.high, other.high), (*one.places, *((x + a, b) for a, b in other.places)))


def _below(one: Block, other: Block) -> Block:
    y = one.high + GAP
    return Block(max(one.wide, other.wide), y + other.high, (*one.places, *((a, y + b) for a, b in other.places)))


def _pareto(tries: list[Block]) -> list[Block]:
    kept: list[Block] = []
    for block in sorted(tries, key=lambda b: (b.wide, b.high, b.places)):
        if not kept or block.high < kept[-1].high - 1e-9:
            kept.append(block)
    step = max(1, len(kept) // _KEPT)
    return [block for place, block in enumerate(kept) if place % step == 0 or block is kept[-1]]


class Sheet(NamedTuple):
    """bands: which, in reading order. block: how they stand."""

    bands: tuple[int, ...]
    block: Block


def on_sheets(sizes: list[tuple[float, float]], wide: float, high: float) -> list[Sheet]:
    """The bands on as few sheets as hold them, as large as they go; in reading order, unless another takes fewer sheets."""

    @cache
    def block_of(bands: tuple[int, ...]) -> Block | None:
        """The largest arrangement of some bands on a sheet; in another order only where theirs does not fit."""
        own = [sizes[n] for n in bands]
        if len(bands) == 1:
            return Block(*own[0], ((0.0, 0.0),))
        if sum(w * h for w, h in own) > wide * high or max(h for _, h in own) > high:
            return None
        places = range(len(own))
        for order in permutations(places) if len(own) <= _TURNED else (tuple(places),):
            found = blocks([own[n] for n in order], max(wide, *(w for w, _ in own)))[0, len(own)]
            fitting = [b for b in found if b.wide <= wide and b.high <= high]
            if fitting:
                block = max(fitting, key=lambda b: (min(wide / b.wide, high / b.high), -b.wide))
                return block._replace(places=tuple(block.places[order.index(n)] for n in places))
        return None

    @cache
    def best(left: tuple[int, ...]) -> tuple[float, float, tuple[Sheet, ...]]:
        """From what is left: how many sheets with their disorder, how small the smallest is, and what is on them."""
        if not left:
            return 0.0, -9.0, ()
        first, rest = left[0], left[1:]
        options = []
        for count in range(min(len(rest), _MOST_ON_A_SHEET - 1) + 1):
            choices = combinations(rest, count) if len(sizes) <= _MANY else (rest[:count],)
            for more in choices:
                block = block_of((first, *more))
                if block is None:
                    continue
                then = best(tuple(n for n in rest if n not in more))
                passed = sum(n < m for n in rest if n not in more for m in more)
                small = max(-min(wide / block.wide, high / block.high), then[1])
                options.append((1 + then[0] + _DISORDER * passed, small, (Sheet((first, *more), block), *then[2])))
        return min(options, key=lambda option: (option[0], option[1]))

    return list(best(tuple(range(len(sizes))))[2])


def on_a_roll(sizes: list[tuple[float, float]], wide: float, aspect: float) -> Block:
    """All bands on one page of a width that may be as long as it must, near to an aspect where they are few."""
    found = blocks(sizes, max(wide, *(w for w, _ in sizes)))[0, len(sizes)]
    return min(found, key=lambda b: (max(b.wide, b.high * aspect), b.high))
