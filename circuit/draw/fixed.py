"""Words and boxes whose places are settled by their body: names, figures, port numbers, small parts, wheels. In U."""

from collections.abc import Iterator

from circuit.draw import shape, text
from circuit.draw.layout import Layout
from circuit.draw.measure import Box
from circuit.draw.parts import LEFT, RIGHT, Body, Small, is_open, is_wheel
from circuit.draw.room import Text
from circuit.declaring.symbol import Point
from circuit.declaring.traits import Role


def body_boxes(layout: Layout, body: Body) -> Iterator[Box]:
    """Boxes of a body: itself with what sticks out of it, its small parts, exhausts, and its wheel."""
    over, under = shape.overhang(body.symbol)
    if body.flipped:
        over, under = under, over
    yield body.x + 0.05, body.y - over, body.x + body.width - 0.05, body.y + body.height + under
    if is_wheel(body.device):
        yield body.x + body.width, body.y - 0.3, body.x + shape.WHEEL, body.y + body.height + 0.3
    for port in body.device.kind.ports:
        if is_open(layout.circuit, body.device, port) and port.number in body.ports:
            x, y = body.ports[port.number]
            x, y = x + body.x, y + body.y
            down = y > body.y
            yield (x - 0.6, y, x + 0.6, y + shape.EXHAUST) if down else (x - 0.6, y - shape.EXHAUST, x + 0.6, y)
        elif (body.device.name, port.number) in layout.circuit.plugged:
            x, y = plug_at(body, port.number)
            yield body.x + x - 0.9, body.y + y - 0.7, body.x + x + 0.9, body.y + y + 0.7
    for small in body.smalls:
        x, y = small_at(body, small)
        yield x - 0.1, min(y, y - small.stem), x + small.symbol.width + 0.1, y + small.symbol.height + small.stem


def plug_at(body: Body, number: str) -> Point:
    """Where a plugged port is on the body: at its own place, or beside the lines it has."""
    taken = [slot for slot in body.slots if slot.port == number]
    if taken:
        last = max(taken, key=lambda slot: slot.y)
        return last.x, last.y + 1
    return body.ports.get(number, (body.width, body.height / 2))


def small_at(body: Body, small: Small) -> Point:
    """The upper left corner of a small part."""
    x = body.x + small.x - small.symbol.width / 2
    if small.hangs:
        return x, body.y + body.height + small.stem
    return x, body.y - small.stem - small.symbol.height


def at_body(layout: Layout, body: Body) -> Iterator[Text]:
    lines = shape.label(body)
    name = body.device.name
    if body.flag is not None:
        yield Text(body.x + body.width / 2 - 0.25, body.y + 1.4, body.name, text.LETTER, "name", name, True, "middle")
        return
    if is_wheel(body.device):
        y = body.y + body.height / 2 - shape.label_height(lines) / 2
        x, anchor = body.x + shape.WHEEL + 0.5, "start"
    elif shape.goes_inside(body):
        y = body.y + body.height / 2 - shape.label_height(lines) / 2
        x, anchor = body.x + body.width / 2, "middle"
    elif shape.goes_below(layout.circuit, body):
        y = body.y + body.height + body.bottom - shape.label_height(lines)
        x, anchor = body.x + body.width / 2, "middle"
    else:
        y = body.y - body.top
        x, anchor = body.x + body.width / 2, "middle"
    for words, size, bold in lines:
        y += shape.ROW
        yield Text(x, y - 0.3, words, size, "name" if bold else "figure", name, bold, anchor)
    for small in body.smalls:
        yield from _at_small(body, small)
    yield from _port_numbers(layout, body)


def _at_small(body: Body, small: Small) -> Iterator[Text]:
    x, y = small_at(body, small)
    rows = shape.small_label(small)
    y = y + small.symbol.height + 0.15 if small.hangs else y - len(rows) * shape.ROW - 0.1
    has_exhaust = any(p.role is Role.EXHAUST and p.number in small.symbol.ports for p in small.device.kind.ports)
    if has_exhaust:
        y += shape.EXHAUST if small.hangs else -shape.EXHAUST
    for words in rows:
        y += shape.ROW
        yield Text(body.x + small.x, y - 0.25, words, text.LETTER, "small", small.device.name, anchor="middle")


def _port_numbers(layout: Layout, body: Body) -> Iterator[Text]:
    """Numbers of the ports in use, beside their lines, not of a thing with one port; a small part writes its own."""
    if len([p for p in body.device.kind.ports if p.role is not Role.EXHAUST]) < 2:
        return
    for slot in body.slots:
        if not slot.hole or slot.y == min(other.y for other in body.slots if other.hole == slot.hole):
            yield _number(body, slot.port, slot.x, slot.y, slot.side)
    joined = {slot.port for slot in body.slots} | {small.port for small in body.smalls}
    for port in body.device.kind.ports:
        key = (body.device.name, port.number)
        unused = port.number not in joined and port.number in body.ports
        if unused and port.role is not Role.EXHAUST and (port.required or key in layout.circuit.plugged):
            yield _number(body, port.number, *body.ports[port.number])


def _number(body: Body, number: str, x: float, y: float, turns: int = LEFT) -> Text:
    at = body.x + x, body.y + y
    if x == 0:
        return Text(at[0] - 0.2, at[1] - 0.3, number, text.LETTER, "port", body.device.name, anchor="end")
    if x == body.width:
        return Text(at[0] + 0.2, at[1] - 0.3, number, text.LETTER, "port", body.device.name)
    low = at[1] + 1.1 if y else at[1] - 0.3
    away = LEFT if turns == RIGHT else RIGHT  # beside the stub, on the side its line does not turn to
    return Text(at[0] + 0.25 * away, low, number, text.LETTER, "port", body.device.name,
                anchor="end" if away == LEFT else "start")


def at_axle(layout: Layout, whole: Body) -> Text:
    first = whole.parts[0][0]
    y = (whole.parts[1][0].y - shape.BETWEEN_WHEELS / 2 if len(whole.parts) > 1
         else first.y + first.height + 1.0)
    return Text(whole.x + shape.WHEEL + 0.5, y + 0.4, shape.axle_label(layout.circuit, whole), text.LETTER, "axle", bold=True)
