"""From a circuit to places on a sheet, in U: which bodies, where they stand and where the lines run.

The best of a few starts is kept: an order read from a layout engine where one runs, and our own. How much is tried
depends on the size of the circuit alone, so the same circuit always gives the same sheet.
"""

from dataclasses import dataclass, field

from circuit.draw import engine
from circuit.draw.columns import choose_sides, give_columns, join_axles
from circuit.draw.field import Field, lay_out
from circuit.draw.order import by_neighbours, take_order
from circuit.draw.parts import Body, Parts, collect
from circuit.draw.refine import arrange
from circuit.draw.roles import Roles, assign
from circuit.draw.route import Lines, draw_lines, plan, widths
from circuit.draw.shape import shape
from circuit.draw.text import TUBE, line_label, width
from circuit.draw.tree import Drawn, read
from circuit.model.circuit import Circuit

_MANY, _VERY_MANY = 220, 700
"""Items above which less is tried, and above which only one start is."""


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


def lay_out_circuit(circuit: Circuit) -> Layout:
    """The best sheet found."""
    size = sum(not device.is_line for device in circuit.devices) * 3
    starts = _STARTS[:1] + _STARTS[2:3] if size > _MANY else _STARTS
    if size > _VERY_MANY:
        starts = _STARTS[2:3]
    best: Layout | None = None
    for start in starts:
        layout = _one(circuit, start, 2 if size > _MANY else 4)
        if layout is not None and (best is None or layout.score < best.score - 1e-9):
            best = layout
    if best is None:
        best = _one(circuit, "own", 2)
    assert best is not None
    return best


_STARTS = ("engine", "engine-mirrored", "own", "own-backwards")


def _one(circuit: Circuit, start: str, rounds: int) -> Layout | None:
    parts = collect(circuit)
    roles = assign(circuit, parts)
    count = give_columns(circuit, parts)
    choose_sides(parts)
    join_axles(circuit, parts)
    for body in parts.bodies:
        shape(circuit, body)
    positions = {axle.name: axle.position for axle in circuit.axles}
    target = lay_out(parts, count, positions)
    for column in target.columns:
        column.sort(key=lambda item: positions.get(item.axle, 0))
    if start.startswith("engine"):
        heights = engine.order(target, start.endswith("mirrored"))
        if heights is None:
            return None
        take_order(target, heights)
    else:
        by_neighbours(target, start == "own")
    arrange(circuit, target, rounds)
    return _route(circuit, parts, roles, target)


def _route(circuit: Circuit, parts: Parts, roles: Roles, target: Field) -> Layout:
    channels = [plan(target, c) for c in range(len(target.columns) + 1)]
    axes, begins, ends = widths(target, channels, _wishes(target))
    top = min((item.y - (item.body.top if item.body else 0) for column in target.columns for item in column), default=0)
    for column, axis in zip(target.columns, axes):
        for item in column:
            item.y -= int(top) - 1
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
            if len(points) == 2 and all(point.slot is not None for point in points):
                for run in points[0].wire.runs:
                    if run.line is not None:
                        room = sum(1.6 if point.slot is not None and point.slot.x in (0, point.slot.body.width) else 0
                                   for point in points)
                        wish[c] = max(wish[c], min(12.0, width(line_label(run.line), TUBE) / 10 + room + 0.6))
    return wish


def _score(layout: Layout, target: Field) -> float:
    from circuit.draw.measure import crossings

    bends = sum(wire.bends for wire in layout.wires)
    length = sum(stretch.length for wire in layout.wires for stretch in wire.stretches)
    disorder = 0
    for column in target.columns:
        numbers = [target.axles[item.axle] for item in column if item.axle]
        disorder += sum(a > b for i, a in enumerate(numbers) for b in numbers[i + 1:])
    return 10 * crossings(layout.wires) + 2 * bends + length / 10 + 15 * disorder


__all__ = ["Layout", "Lines", "lay_out_circuit"]
