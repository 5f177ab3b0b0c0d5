"""From a circuit to places on a sheet, in U: which bodies, where they stand and where the lines run.

The best of a few starts is kept: an order read from a layout engine where one runs, and our own. How much is tried
depends on the size of the circuit alone, so the same circuit always gives the same sheet.
"""

from dataclasses import dataclass, field
from math import ceil, floor
from random import Random

from circuit.draw import engine
from circuit.draw.columns import choose_sides, give_columns, join_axles
from circuit.draw.field import Field, lay_out
from circuit.draw.measure import crossings
from circuit.draw.order import by_neighbours, take_order
from circuit.draw.parts import Body, Parts, collect, vehicle_of
from circuit.draw.refine import Kept, arrange, begin, keep, restore, shake
from circuit.draw.roles import Roles, assign
from circuit.draw.route import draw_lines, plan, widths
from circuit.draw.shape import shape
from circuit.draw.text import TUBE, line_label, width
from circuit.draw.tree import Drawn, read
from circuit.model.circuit import Circuit

_NEAR, _SHAKES, _SEED = 2, 16, 2
"""Around how many of the starts is searched further, in how many steps each, and the seed of that search."""
BETWEEN_ROWS = 6
"""Between the vehicles of a combination, U."""
_MANY, _VERY_MANY = 260, 900
"""Items (bodies and passing wires) above which less is tried, and above which one start is all."""


@dataclass(slots=True)
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
    axles: float = 1.5


_STARTS = (
    Start(True), Start(False), Start(False, False), Start(False, False, True), Start(True, axles=100.0),
    Start(False, False, axles=100.0),
)


@dataclass(slots=True)
class _Found:
    """An arrangement tried: its score as drawn, the start it came from, its cost before drawing, the axles' weight."""

    score: float
    number: int
    cost: float
    axles: float
    kept: Kept


def lay_out_circuit(circuit: Circuit) -> Layout:
    """The best sheet found; of a combination one row for each vehicle, the towing one above."""
    parts = collect(circuit)
    roles = assign(circuit, parts)
    rows = []
    for vehicle in sorted({vehicle_of(circuit, body.device) for body in parts.bodies},
                          key=lambda name: list(circuit.vehicles).index(name) if name else -1):
        bodies = [body for body in parts.bodies if vehicle_of(circuit, body.device) == vehicle]
        held = {id(slot.wire) for body in bodies for slot in body.slots}
        rows.append(_lay_out(circuit, Parts(bodies, [w for w in parts.wires if id(w) in held], parts.tees), roles))
    whole = rows[0] if rows else Layout(circuit, [], [], roles, parts)
    low = lowest(whole)
    for row in rows[1:]:
        _lower(row, low + BETWEEN_ROWS - min(body.y - ceil(body.top) for body in row.bodies))
        whole.bodies += row.bodies
        whole.wires += row.wires
        whole.wheels += row.wheels
        low = lowest(row)
    return whole


def lowest(layout: Layout) -> int:
    """How far down a layout goes, U."""
    return max([0, *(body.y + body.height + ceil(body.bottom) for body in layout.bodies),
                *(ceil(s.end[1]) for drawn in layout.wires for s in drawn.stretches)])


def _lower(layout: Layout, by: int) -> None:
    """Move a row down the sheet."""
    for body in layout.bodies:
        body.y += by
    for whole in layout.wheels:
        whole.y += by
    for drawn in layout.wires:
        drawn.joints = [(x, y + by) for x, y in drawn.joints]
        drawn.tees = {name: (x, y + by) for name, (x, y) in drawn.tees.items()}
        unique = {id(s): s for s in (*drawn.stretches, *(s for own in drawn.own for s in own))}
        for s in unique.values():
            s.start, s.end = (s.start[0], s.start[1] + by), (s.end[0], s.end[1] + by)


def _lay_out(circuit: Circuit, parts: Parts, roles: Roles) -> Layout:
    count = give_columns(circuit, parts)
    choose_sides(parts)
    join_axles(circuit, parts)
    for body in parts.bodies:
        shape(circuit, body)
    target = lay_out(parts, count, {axle.name: axle.position for axle in circuit.axles})
    size = sum(len(column) for column in target.columns)
    written = [list(column) for column in target.columns]
    found: list[_Found] = []
    for number, start in enumerate(_STARTS[1:2] if size > _VERY_MANY else _STARTS[:2] if size > _MANY else _STARTS):
        target.columns[:] = [list(column) for column in written]
        if _begin(circuit, target, start):
            cost = arrange(circuit, target, 4 if size < _MANY else 2)
            score = _route(circuit, parts, roles, target).score
            if all(abs(score - other.score) > 1e-6 for other in found):
                found.append(_Found(score, number, cost, start.axles, keep(target)))
    found.sort(key=lambda one: (one.score, one.number))
    best = found[0]
    chance = Random(_SEED)
    for near in found[:_NEAR]:
        target.axle_cost = near.axles
        for _ in range(0 if size > _MANY else min(_SHAKES, 2000 // size)):
            restore(circuit, target, near.kept)
            shake(target, chance)
            cost = arrange(circuit, target, 2)
            if cost < near.cost + 5:
                score = _route(circuit, parts, roles, target).score
                if score < near.score - 1e-6:
                    near = _Found(score, near.number, cost, near.axles, keep(target))
        if near.score < best.score:
            best = near
    kept = best.kept
    restore(circuit, target, kept)
    return _route(circuit, parts, roles, target)


def _begin(circuit: Circuit, target: Field, start: Start) -> bool:
    """Bring the columns into a first order; says whether that could be done."""
    begin(circuit, target)
    target.axle_cost = start.axles
    for column in target.columns:
        column.sort(key=lambda item: target.axles.get(item.axle, 0))
        if start.upside_down:
            column.reverse()
    if not start.engine:
        by_neighbours(target, start.rightwards)
        return True
    heights = engine.order(target)
    if heights is None:
        return False
    take_order(target, heights)
    if start.upside_down:
        for column in target.columns:
            column.reverse()
    return True


def _route(circuit: Circuit, parts: Parts, roles: Roles, target: Field) -> Layout:
    channels = [plan(target, c) for c in range(len(target.columns) + 1)]
    axes, begins, ends = widths(target, channels, _wishes(target))
    top = min((item.y - (item.body.top if item.body else 0) for column in target.columns for item in column), default=0)
    for column, axis in zip(target.columns, axes):
        for item in column:
            item.y -= floor(top) - 1
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
    disorder = 0
    for column in target.columns:
        numbers = [target.axles[item.axle] for item in column if item.axle]
        disorder += sum(a > b for i, a in enumerate(numbers) for b in numbers[i + 1:])
    return 10 * crossings(layout.wires) + 2 * bends + length / 10 + 15 * disorder
