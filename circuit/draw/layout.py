"""From what a band holds to places on it, in U: where the bodies stand and where the lines run.

The best of a few starts is kept: an order read from a layout engine where one runs, and our own, each annealed. How much
is tried depends on the size of the band alone, so the same circuit always gives the same sheet.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import floor
from random import Random

from circuit.draw import engine
from circuit.draw.collect import Whole, within
from circuit.draw.columns import band_columns, choose_sides, join_axles, merge_columns
from circuit.draw.field import Field, lay_out
from circuit.draw.measure import crossings
from circuit.draw.order import by_neighbours, take_order
from circuit.draw.parts import Body, Parts
from circuit.draw.refine import Kept, arrange, begin, keep, restore
from circuit.draw.roles import Roles
from circuit.draw.route import draw_lines, plan, widths
from circuit.draw.search import Ranks, Order, anneal
from circuit.draw.shape import shape
from circuit.draw.text import LETTER, line_words, width
from circuit.draw.tree import Drawn, read
from circuit.model.circuit import Circuit
from circuit.model.devices import Device

_AGAIN, _WARM, _DRAWN, _SEED = 12, 0.5, 4, 3
"""How many times one of the best orders is annealed again and from what heat; how many of the best are drawn to be
compared; the seed of the annealing's chance."""
_STEPS, _MOST_STEPS = 160, 16_000
"""Of one annealing for each item, and at most."""
_MANY, _VERY_MANY = 260, 900
"""Items (bodies and passing wires) above which less is tried, and above which one start is all."""
_WISH, _NUMBERS = 12.0, 3.4
"""The most a channel is widened for a label, and the room it needs beside it for the port numbers at both ends, U."""
_SPARE = (1.0, 2.0, 3.0, 4.5, 6.0, 8.0, 10.0)
"""Room above and below bodies that is tried on a sheet that has some, U."""
_SETTLED = 6
_OUT_OF_ORDER = 2.0
"""What a lower axle number below a higher one is worth, in crossings."""


@dataclass(slots=True, repr=False)
class Frame:
    """A band on a sheet. title: what it holds. left, top, wide, high: U. vehicle: of a combination, its name."""

    title: str
    left: float
    top: float
    wide: float
    high: float
    vehicle: str = ""


@dataclass(slots=True, repr=False)
class Layout:
    """One band, or one sheet of them. bodies: with x and y set. wires: as drawn. tees: the devices that are dots."""

    circuit: Circuit
    bodies: list[Body]
    wires: list[Drawn]
    roles: Roles
    tees: dict[str, Device] = field(default_factory=dict)
    score: float = 0.0
    wheels: list[Body] = field(default_factory=list)
    frames: list[Frame] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Start:
    """How a sheet is begun. engine: with its order, else with our own, from the left or from the right.

    upside_down: from the reversed columns. axles: what an axle out of number order costs, in crossings.
    """

    engine: bool
    rightwards: bool = True
    upside_down: bool = False
    axles: float = _OUT_OF_ORDER


_STARTS = (
    Start(False), Start(True), Start(False, False), Start(False, False, True), Start(True, axles=100.0),
    Start(False, False, axles=100.0),
)


def lay_out_band(whole: Whole, roles: Roles, names: frozenset[str], numbers: Mapping[int, int], most: float,
                 search: int = 1, aspect: float = 0.0) -> Layout:
    """The best arrangement found of some devices and tees. most: how high columns may be that become one, U.

    numbers: of the flags, by the run. search: how many times as long to look; 0 for a first rough one. aspect: width to
    height that it should not exceed, where that matters.
    """
    band = _lay_out(whole, roles, within(whole, names, numbers), most, search, aspect)
    if search and crossings(band.wires) and any(slot.hole for body in band.bodies for slot in body.slots):
        joined = _lay_out(whole, roles, within(whole, names, numbers, holes=False), most, search, aspect)
        if crossings(joined.wires) < crossings(band.wires):
            return joined
    return band


def _lay_out(whole: Whole, roles: Roles, parts: Parts, most: float, search: int, aspect: float) -> Layout:
    circuit = whole.circuit
    if not parts.bodies:
        return Layout(circuit, [], [], roles, parts.tees)
    count = band_columns(circuit, parts)
    choose_sides(parts)
    join_axles(circuit, parts)
    for body in parts.bodies:
        shape(circuit, body)
    count = merge_columns(parts, count, most)
    return place_parts(circuit, parts, roles, count, search, aspect)


def place_parts(circuit: Circuit, parts: Parts, roles: Roles, count: int, search: int = 1, aspect: float = 0.0) -> Layout:
    """The best arrangement found of bodies that have their columns, sides and shapes. count: of the columns."""
    target = lay_out(parts, count, {axle.name: axle.position for axle in circuit.axles})
    if not search:
        by_neighbours(target)
        arrange(circuit, target, 1)
        return _route(circuit, parts, roles, target)
    ranks = Ranks(circuit, target)
    best: tuple[float, Kept] | None = None
    for order in _orders(circuit, target, ranks, search):
        ranks.restore(order)
        arrange(circuit, target, 4 if _size(target) < _MANY else 2)
        score = _route(circuit, parts, roles, target).score
        if best is None or score < best[0] - 1e-6:
            best = score, keep(target)
    assert best is not None
    restore(circuit, target, best[1])
    band = _route(circuit, parts, roles, target)
    return _spread(circuit, parts, roles, target, band, aspect) if aspect else band


def _spread(circuit: Circuit, parts: Parts, roles: Roles, target: Field, band: Layout, aspect: float) -> Layout:
    """The same with more room between what stands above each other, until the band is no wider than it should be."""
    kept = keep(target)
    for spare in _SPARE:
        if _aspect(band) <= aspect:
            break
        restore(circuit, target, kept)
        for body in parts.bodies:
            body.spare = spare
        arrange(circuit, target, 1)
        wider = _route(circuit, parts, roles, target)
        if crossings(wider.wires) > crossings(band.wires):
            restore(circuit, target, kept)
            for body in parts.bodies:
                body.spare = 0
            return _route(circuit, parts, roles, target)
        band = wider
    return band


def _aspect(band: Layout) -> float:
    """Width to height of the bodies with their words."""
    boxes = [(b.x - b.before, b.y - b.top, b.x + b.width + b.after, b.y + b.height + b.bottom)
             for b in (*band.bodies, *band.wheels)]
    return (max(b[2] for b in boxes) - min(b[0] for b in boxes)) / (max(b[3] for b in boxes) - min(b[1] for b in boxes))


def _orders(circuit: Circuit, target: Field, ranks: Ranks, search: int) -> list[Order]:
    """The best few of the orders found, best first."""
    size = _size(target)
    tries = 1 if size > _VERY_MANY else 2 if size > _MANY else len(_STARTS)
    steps = min(_STEPS * size, _MOST_STEPS)
    written = [list(column) for column in target.columns]
    by_engine = engine.order(target)
    found: list[tuple[float, int, Order]] = []
    for number in range(tries * search):
        if _is_settled(found, search):
            break
        start = _STARTS[number % len(_STARTS)]
        target.columns[:] = [list(column) for column in written]
        _begin(circuit, target, start, by_engine)
        ranks.begin()
        anneal(ranks, steps, Random(_SEED + number))
        target.axle_cost = _OUT_OF_ORDER
        found.append((ranks.total(), number, ranks.keep()))
    for number in range(len(found), len(found) + (_AGAIN * search if size <= _MANY else 0)):
        if _is_settled(found, search):
            break
        found.sort(key=lambda one: one[:2])
        ranks.restore(found[number % min(3, len(found))][2])
        anneal(ranks, steps, Random(_SEED + number), _WARM)
        found.append((ranks.total(), number, ranks.keep()))
    found.sort(key=lambda one: one[:2])
    return [state for _, _, state in found[:min(_DRAWN, tries) * search]]


def _is_settled(found: list[tuple[float, int, Order]], search: int) -> bool:
    """Whether the best order was found so often that it is taken for the best there is, or nothing crosses in it."""
    best = min((total for total, _, _ in found), default=1.0)
    return best <= 0 or sum(total <= best + 1e-9 for total, _, _ in found) >= _SETTLED * search


def _size(target: Field) -> int:
    return sum(len(column) for column in target.columns)


def _begin(circuit: Circuit, target: Field, start: Start, by_engine: dict[int, float] | None) -> None:
    """Bring the columns into a first order. by_engine: the heights that a layout engine gave the items."""
    begin(circuit, target)
    target.axle_cost = start.axles
    for column in target.columns:
        column.sort(key=lambda item: target.axles.get(item.axle, 0))
        if start.upside_down:
            column.reverse()
    if start.engine and by_engine is not None:
        take_order(target, by_engine)
        if start.upside_down:
            for column in target.columns:
                column.reverse()
    else:
        by_neighbours(target, start.rightwards)


def _route(circuit: Circuit, parts: Parts, roles: Roles, target: Field) -> Layout:
    top = floor(min(item.y - (item.body.top if item.body else 0) for column in target.columns for item in column)) - 1
    for column in target.columns:
        for item in column:
            item.y -= top
    channels = [plan(target, c) for c in range(len(target.columns) + 1)]
    axes, begins, ends = widths(target, channels, _wishes(target))
    for column, axis in zip(target.columns, axes):
        for item in column:
            if item.body is not None:
                body = item.body
                body.x, body.y = float(int(axis - body.width / 2)), int(item.y)
                for part, drop in body.parts:
                    part.x, part.y = body.x, body.y + drop
    lines = draw_lines(target, channels, axes, begins, ends)
    drawn = [read(wire, lines[wire.number]) for wire in parts.wires]
    layout = Layout(circuit, [part for body in parts.bodies for part, _ in body.all()], drawn, roles, parts.tees)
    layout.wheels = [body for body in parts.bodies if body.axle]
    layout.score = _score(layout, target)
    return layout


def _wishes(target: Field) -> list[float]:
    """The width each channel would like, so that the labels of straight lines between neighbours fit beside them."""
    wish = [0.0] * (len(target.columns) + 1)
    for c, channel in enumerate(target.channels):
        for points in channel.values():
            if len(points) > 3 or any(point.slot is None for point in points):
                continue
            for run in points[0].wire.runs:
                words = line_words(run.line) if run.line is not None else ()
                for each in words:  # size above, length below
                    wish[c] = max(wish[c], min(_WISH, width(each, LETTER) / 10 + _NUMBERS * len(points) / 2))
    return wish


def _score(layout: Layout, target: Field) -> float:
    bends = sum(wire.bends for wire in layout.wires)
    length = sum(stretch.length for wire in layout.wires for stretch in wire.stretches)
    return 10 * crossings(layout.wires) + 2 * bends + length / 10 + 20 * _disorder(target)


def _disorder(target: Field) -> int:
    """How many pairs of axles stand in a column with the lower number below."""
    disorder = 0
    for column in target.columns:
        numbers = [target.axles[item.axle] for item in column if item.axle]
        disorder += sum(a > b for i, a in enumerate(numbers) for b in numbers[i + 1:])
    return disorder
