"""Devices as SVG: symbols with what is written at them, wheels, small parts, tees, and flags where a line is cut."""

from circuit.draw import palette, text
from circuit.draw.fixed import plug_at, small_at
from circuit.draw.glyphs import escape, exhaust, loose, path, plain, plug, px, symbol, symbol_id
from circuit.draw.marks import Names
from circuit.draw.parts import Body, Small, is_open, is_wheel
from circuit.draw.room import Lettering, Text
from circuit.draw.ways import way_rows
from circuit.declaring.traits import Role
from circuit.model.circuit import Circuit
from circuit.model.devices import Device


def device_rows(
    circuit: Circuit, body: Body, symbols: dict[str, list[str]], names: Names, lettering: Lettering, live: bool = False
) -> list[str]:
    """A part with its symbol, words and small parts. live: for a page, with the ways through it."""
    device = body.device
    name = symbol_id(body) + ("" if not body.symbol.grows else "-" + "_".join(px(s.y) for s in body.slots if s.grows))
    symbols.setdefault(name, symbol(body))
    rows = [_group(device, names, pen=_PEN)]
    if is_wheel(device):
        rows.append(_wheel(body))
    rows.append(f'<use href="#{escape(name)}" xlink:href="#{escape(name)}" x="{px(body.x)}" y="{px(body.y)}"/>')
    if live:
        grown = {body.symbol.grows: (body.width, body.height / 2)} if body.symbol.grows else {}
        rows += way_rows(device.kind, {**grown, **body.ports}, (body.width, body.height), (body.x, body.y))
    joined = {slot.port: slot for slot in body.slots}
    for port in device.kind.ports:
        key = (device.name, port.number)
        x, y = body.ports.get(port.number, (body.width, body.height / 2))
        if is_open(circuit, device, port):
            if port.number in body.ports:
                rows.append(exhaust(body.x + x, body.y + y, y != 0))
        elif key in circuit.plugged:
            x, y = plug_at(body, port.number)
            rows.append(plug(body.x + x, body.y + y, *_outward(body, x, y)))
        elif port.number not in joined and port.required and port.number in body.ports and \
                port.role is not Role.EXHAUST and not circuit.used.get(key):
            rows.append(loose(body.x + x, body.y + y, *_outward(body, x, y)))
    for port_number in dict.fromkeys(slot.hole for slot in body.slots if slot.hole):
        heights = [slot.y for slot in body.slots if slot.hole == port_number]
        x = body.x + body.ports[port_number][0]
        rows.append(f'<path class="holes" d="{path([(x, body.y + min(heights) - 0.35), (x, body.y + max(heights) + 0.35)])}" '
                    'stroke-width="4.5"/>')
    rows += [text_row(words) for words in lettering.texts
             if words.owner == device.name and words.what in ("name", "figure", "port")]
    rows.append("</g>")
    for small in body.smalls:
        rows += _small(circuit, body, small, symbols, names, lettering, live)
    return rows


_PEN = f'fill="none" stroke="{palette.INK}" stroke-width="1.7" stroke-linejoin="round"'


def _outward(body: Body, x: float, y: float) -> tuple[float, float]:
    if x == 0:
        return -1, 0
    if x == body.width:
        return 1, 0
    return (0, -1) if y == 0 else (0, 1)


def _wheel(body: Body) -> str:
    side = {"right": "R", "left": "L"}.get(body.device.settings.get("side") or "", "")
    x, y, high = body.x + 9, body.y - 0.3, body.height + 0.6
    return (f'<rect x="{px(x)}" y="{px(y)}" width="24" height="{px(high)}" rx="6" fill="#33383d" stroke="none"/>'
            f'<text x="{px(x + 1.2)}" y="{px(y + high / 2 + 0.42)}" font-size="12" font-weight="bold" '
            f'text-anchor="middle" fill="#fff" stroke="none">{side}</text>')


def _small(
    circuit: Circuit, body: Body, small: Small, symbols: dict[str, list[str]], names: Names, lettering: Lettering,
    live: bool = False,
) -> list[str]:
    device = small.device
    name = f"symbol-{device.kind.name}"
    symbols.setdefault(name, plain(small.symbol))
    x, y = small_at(body, small)
    rows = [_group(device, names, "small ", _PEN),
            _stem(body, small),
            f'<use href="#{escape(name)}" xlink:href="#{escape(name)}" x="{px(x)}" y="{px(y)}"/>']
    if live:
        size = small.symbol.width, small.symbol.height
        below = {port.number: (size[0] / 2, size[1]) for port in device.kind.ports_as(Role.EXHAUST)}
        rows += way_rows(device.kind, {**below, **small.symbol.ports}, size, (x, y))
    for port in device.kind.ports:
        if is_open(circuit, device, port) and port.number in small.symbol.ports:
            px_, py = small.symbol.ports[port.number]
            rows.append(exhaust(x + px_, y + py, py != 0))
    if small.port:
        at = body.y if not small.hangs else body.y + body.height
        seat = _seat(body, small)
        turns = body.x + small.x < seat  # its number then stands under the corner, where the stem is not
        rows.append(text_row(Text(seat - 0.2 if turns else seat + 0.25, at - 0.25 if not small.hangs else at + 1.1,
                               small.port, text.LETTER, "port", anchor="end" if turns else "start")))
    rows += [text_row(words) for words in lettering.texts if words.owner == device.name and words.what == "small"]
    rows.append("</g>")
    return rows


def _seat(body: Body, small: Small) -> float:
    """Where a small part's stem stands on its host."""
    return min(max(body.x + small.x, body.x + 0.5), body.x + body.width - 0.5)


def _stem(body: Body, small: Small) -> str:
    """From a small part down to its host, round a corner where it stands beside it."""
    edge = body.y + (body.height if small.hangs else 0)
    far = edge + small.stem * (1 if small.hangs else -1)
    x, seat = body.x + small.x, _seat(body, small)
    if x == seat and not small.stem:
        return ""
    return f'<path d="{path([(seat, edge), (seat, (edge + far) / 2), (x, (edge + far) / 2), (x, far)])}"/>'


def _group(device: Device, names: Names, small: str = "", pen: str = "") -> str:
    """The beginning of a device's group, with its title; its end is the caller's."""
    return (f'<g class="device {small}{escape(device.kind.name)}" id="{names.give("device", device.name)}" '
            f'data-name="{escape(device.name)}"{pen and " " + pen}><title>{escape(device.name)}: '
            f"{escape(device.kind.title)}</title>")


def flag_rows(body: Body, names: Names, lettering: Lettering) -> list[str]:
    """Where a line goes on elsewhere: a box with a point in the direction of the air; a link to its other part."""
    flag = body.flag
    assert flag is not None
    left, right, top, low = body.x, body.x + body.width, body.y, body.y + body.height
    shape = [(left, top), (right - 0.8, top), (right, (top + low) / 2), (right - 0.8, low), (left, low)]
    flag.id = names.give("goes-on", f"{flag.number}-{'out' if flag.leaves else 'in'}")
    there = flag.other.flag if flag.other is not None else None
    other = f"goes-on-{flag.number}-{'in' if flag.leaves else 'out'}"
    rows = [f'<a class="goes-on" id="{flag.id}"' + (f' href="#{other}">' if there is not None and not flag.place else ">"),
            f"<title>line {flag.number} goes on {'to' if flag.leaves else 'from'} {escape(flag.to)}</title>",
            f'<path d="{path(shape, True)}" fill="{palette.PAPER}" stroke="{palette.INK}" stroke-width="1.2"/>']
    rows += [text_row(words) for words in lettering.texts if words.owner == body.device.name]
    return [*rows, "</a>"]


def tee_rows(device: Device, x: float, y: float, names: Names, lettering: Lettering) -> list[str]:
    rows = [f'{_group(device, names)}<circle cx="{px(x)}" cy="{px(y)}" r="3.8" fill="{palette.INK}"/>']
    rows += [text_row(words) for words in lettering.texts if words.owner == device.name and words.what == "tee"]
    rows.append("</g>")
    return rows


_INKS = {"tube": palette.QUIET, "port": palette.QUIET, "small": "#333a40"}


def text_row(words: Text) -> str:
    bold = ' font-weight="bold"' if words.bold else ""
    anchor = f' text-anchor="{words.anchor}"' if words.anchor != "start" else ""
    place = (f'transform="translate({px(words.x)},{px(words.y)}) rotate(-90)"' if words.upright
             else f'x="{px(words.x)}" y="{px(words.y)}"')
    ink = _INKS.get(words.what, palette.INK)
    return (f'<text {place} font-size="{words.size:g}"{bold}{anchor} fill="{ink}" stroke="none">'
            f"{escape(words.words)}</text>")
