"""From a circuit to places on a sheet, in U: which bodies, where they stand and where the lines run.

The best of a few starts is kept: an order read from a layout engine where one runs, and our own, each annealed. How much
is tried depends on the size of the circuit alone, so the same circuit always gives the same sheet.
"""

from dataclasses import dataclass, field
from math import floor
from random import Random

from circuit.draw import engine
from circuit.draw.columns import choose_sides, give_columns, join_axles
from circuit.draw.field import Field, lay_out
from circuit.draw.measure import crossings
from circuit.draw.order import by_neighbours, take_order
from circuit.draw.parts import Body, Parts, collect
from circuit.draw.refine import Kept, arrange, begin, keep, restore
from circuit.draw.roles import Roles, assign
from circuit.draw.route import draw_lines, plan, widths
from circuit.draw.search import Ranks, State, anneal
from circuit.draw.shape import shape
from circuit.draw.text import TUBE, line_label, width
from circuit.draw.tree import Drawn, read
from circuit.model.circuit import Circuit

BETWEEN_VEHICLES = 9
"""The least width of the channel in which the vehicles of a combination are coupled, U: room for two frames."""
_AGAIN, _WARM, _DRAWN, _SEED = 8, 0.5, 4, 3
"""How many times one of the best orders is annealed again and from what heat; how many of the best are drawn to be
compared; the seed of the annealing's chance."""
_STEPS, _MOST_STEPS = 160, 16_000
"""Of one annealing for each item, and at most."""
_MANY, _VERY_MANY = 260, 900
"""Items (bodies and passing wires) above which less is tried, and above which one start is all."""
_OUT_OF_ORDER = 2.0
"""What a lower axle number below a higher one is worth, in crossings."""


@dataclass(slots=True, repr=False)
class Layout:
    """bodies: with x and y set. wires: as drawn. width, height: of everything but text that sticks out, U."""

    circuit: Circuit
    bodies: list[Body]
    wires: list[Drawn]
    roles: Roles
    parts: Parts
    score: float = 0.0
    wheels: list[Body] = field(default_factory=list)


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


def lay_out_circuit(circuit: Circuit, search: int = 1) -> Layout:
    """The best sheet found; the vehicles of a combination side by side. search: how many times as long to look."""
    parts = collect(circuit)
    roles = assign(circuit, parts)
    if not parts.bodies:
        return Layout(circuit, [], [], roles, parts)
    count = give_columns(circuit, parts)
    choose_sides(parts)
    join_axles(circuit, parts)
    for body in parts.bodies:
        shape(circuit, body)
    target = lay_out(parts, count, {axle.name: axle.position for axle in circuit.axles})
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
    return _route(circuit, parts, roles, target)


def _orders(circuit: Circuit, target: Field, ranks: Ranks, search: int) -> list[State]:
    """The best few of the orders found, best first."""
    size = _size(target)
    tries = 1 if size > _VERY_MANY else 2 if size > _MANY else len(_STARTS)
    steps = min(_STEPS * size, _MOST_STEPS)
    written = [list(column) for column in target.columns]
    by_engine = engine.order(target)
    found: list[tuple[float, int, State]] = []
    for number in range(tries * search):
        start = _STARTS[number % len(_STARTS)]
        target.columns[:] = [list(column) for column in written]
        _begin(circuit, target, start, by_engine)
        ranks.begin()
        anneal(ranks, steps, Random(_SEED + number))
        target.axle_cost = _OUT_OF_ORDER
        found.append((ranks.total(), number, ranks.keep()))
    for number in range(len(found), len(found) + (_AGAIN * search if size <= _MANY else 0)):
        found.sort(key=lambda one: one[:2])
        ranks.restore(found[number % min(3, len(found))][2])
        anneal(ranks, steps, Random(_SEED + number), _WARM)
        found.append((ranks.total(), number, ranks.keep()))
    found.sort(key=lambda one: one[:2])
    return [state for _, _, state in found[:min(_DRAWN, tries) * search]]


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
    drawn = [read(wire, lines[wire.number], roles.run_role) for wire in parts.wires]
    layout = Layout(circuit, [part for body in parts.bodies for part, _ in body.all()], drawn, roles, parts)
    layout.wheels = [body for body in parts.bodies if body.axle]
    layout.score = _score(layout, target)
    return layout


def _wishes(target: Field) -> list[float]:
    """The width each channel would like, so that the labels of straight lines between neighbours fit beside them."""
    wish = [0.0] * (len(target.columns) + 1)
    vehicles = [next((item.body.vehicle for item in column if item.body), 0) for column in target.columns]
    for c, (one, other) in enumerate(zip(vehicles, vehicles[1:]), 1):
        wish[c] = BETWEEN_VEHICLES if one != other else 0.0
    for c, channel in enumerate(target.channels):
        for points in channel.values():
            if len(points) > 3 or any(point.slot is None for point in points):
                continue
            room = 3.8 if len(points) == 2 else 4.5  # numbers at both ends; or at one, and the trunk at the other
            for run in points[0].wire.runs:
                if run.line is not None:
                    wish[c] = max(wish[c], min(12.0, width(line_label(run.line), TUBE) / 10 + room))
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
