"""The finished sheet as SVG text: frames, lines from thin to thick, dots, symbols, words, legend, title.

One group for every device and every net, with class, id and title, so that a report can point at them. Each line is
first drawn wider in the colour of the paper, so that where two cross the one below has a gap.
"""

import re
from dataclasses import dataclass

from circuit.draw import palette, pressure, text
from circuit.draw.frame import Sheet, dress, extents
from circuit.draw.glyphs import (
    TAG, escape, exhaust, flag, loose, path, plain, plug, px, symbol, symbol_id, tag,
)
from circuit.draw.labels import Lettering, Text, letter, plug_at, small_at
from circuit.draw.layout import Layout
from circuit.draw.measure import Box
from circuit.draw.parts import Body, Run, Small, is_open, is_wheel
from circuit.draw.pressure import Reading
from circuit.draw.roles import ROLES
from circuit.draw.tree import Drawn, chains
from circuit.declaring.traits import Role
from circuit.model.circuit import Circuit, Device


@dataclass(frozen=True, slots=True)
class Mark:
    """A finding to be shown. device_name: of a device or a line. label: a number or a few letters; of a combination's
    vehicle its name and a number.

    severity: error, warning or note; fault for a part that is taken to have failed.
    """

    device_name: str
    label: str
    severity: str = "error"

    @property
    def flag(self) -> str:
        """What stands on the flag: of a vehicle's finding its first letter and the number."""
        of, _, number = self.label.rpartition(" ")
        return of[:1] + number


class _Names:
    """Ids for groups: made of a name's letters and digits, unique on the sheet."""

    def __init__(self) -> None:
        self.used: set[str] = set()

    def give(self, before: str, name: str) -> str:
        base = f"{before}-" + (re.sub(r"[^A-Za-z0-9_-]+", "-", name).strip("-") or "x")
        own, number = base, 2
        while own in self.used:
            own, number = f"{base}-{number}", number + 1
        self.used.add(own)
        return own


def picture(layout: Layout, marks: tuple[Mark, ...] = (), ink: bool = False, reading: Reading | None = None) -> str:
    """The SVG of a layout. ink: all lines black, for a printer without colour. reading: pressures to colour by."""
    shown = known_marks(layout.circuit, marks)
    lettering = letter(layout, tuple(mark.device_name for mark in shown), reading is not None)
    return dress(layout, lettering, paint(layout, lettering, shown, ink, reading))


def known_marks(circuit: Circuit, marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks whose device or line is in the circuit."""
    return tuple(mark for mark in marks if mark.device_name in circuit.by_name)


def paint(layout: Layout, lettering: Lettering, shown: tuple[Mark, ...], ink: bool = False,
          reading: Reading | None = None, window: Box | None = None) -> Sheet:
    """Everything drawn, as rows of SVG. window: leave out what lies wholly outside of this part of the sheet."""
    circuit = layout.circuit
    colours = palette.colours(layout.roles.circuits)
    if ink:
        colours = dict.fromkeys(colours, palette.INK)
    names = _Names()
    rows: list[str] = []
    rows += _frames(layout, window)
    for whole in layout.wheels:
        if _in_sight(window, *_extent(whole)):
            rows.append(_axle_bar(whole))
    rows += _halos(layout, lettering, shown)
    wires = [d for d in layout.wires if any(_in_sight(window, *s.start, *s.end) for s in d.stretches)]
    nets = sorted(wires, key=lambda d: (-ROLES.index(d.wire.role), d.wire.number))
    nets.sort(key=lambda d: palette.WEIGHT[d.wire.role])
    for drawn in nets:
        rows += _net(layout, drawn, colours[drawn.wire.circuit], names, reading)
    known_symbols: dict[str, list[str]] = {}
    for body in layout.bodies:
        if _in_sight(window, *_extent(body)):
            rows += _device(circuit, body, known_symbols, names, lettering)
    for drawn in wires:
        for name, (x, y) in sorted(drawn.tees.items()):
            if _in_sight(window, x, y, x, y):
                rows += _tee(layout.parts.tees[name], x, y, names, lettering)
    rows += [f'<path d="{path(leader)}" stroke="{palette.QUIET}" stroke-width="0.7"/>' for leader in lettering.leaders]
    members = {member.number: member for member in layout.roles.circuits}
    rows.append('<g class="tags">')
    for spot in lettering.tags if reading is None or reading.live else ():
        if _is_whole(window, spot.x, spot.y, 1.5 * TAG, 1.5 * TAG):
            number = layout.wires[spot.of].wire.circuit
            rows.append(tag(spot.x, spot.y, palette.TAGS[members[number].nature], colours[number], number))
    rows.append("</g>")
    rows += [_text(words) for words in lettering.texts
             if words.what in ("tube", "axle") and _in_sight(window, *words.box)]
    if reading is not None:
        rows += ['<g class="pills">', *(pressure.pill((s.x, s.y), s.of, reading) for s in lettering.pills
                                        if _is_whole(window, s.x, s.y, pressure.HALF_WIDE, pressure.HALF_HIGH)), "</g>"]
    rows.append('<g class="findings">')
    for spot in lettering.flags:
        if _in_sight(window, spot.x, spot.y, spot.x, spot.y):
            mark = shown[spot.of]
            rows.append(f'<g class="finding {escape(mark.severity)}" id="{names.give("finding", mark.label)}" '
                        f'data-finding="{escape(mark.label)}">'
                        f"<title>{escape(mark.label)}: {escape(mark.device_name)}</title>"
                        f"{flag(spot.x, spot.y, mark.severity, mark.flag)}</g>")
    rows.append("</g>")
    symbols = [
        f'<symbol id="{escape(name)}" overflow="visible">' + "".join(parts) + "</symbol>"
        for name, parts in sorted(known_symbols.items())
    ]
    return Sheet(symbols, rows, colours, shown, reading)


def _in_sight(window: Box | None, left: float, top: float, right: float, low: float) -> bool:
    return window is None or (left <= window[2] and right >= window[0] and top <= window[3] and low >= window[1])


def _is_whole(window: Box | None, x: float, y: float, across: float, upward: float) -> bool:
    """Whether a sign about x, y is not cut; the rest of its line on another sheet is named where the line is cut."""
    return window is None or (window[0] + across <= x <= window[2] - across and
                              window[1] + upward <= y <= window[3] - upward)


def _extent(body: Body) -> Box:
    """A body with its text and small parts."""
    return (body.x - body.before, body.y - body.top, body.x + body.width + body.after,
            body.y + body.height + body.bottom)


def _frames(layout: Layout, window: Box | None) -> list[str]:
    """Round each vehicle of a combination, with its name where it is in sight."""
    rows = []
    for name, (left, top, right, low) in extents(layout).items():
        if not _in_sight(window, left, top, right, low):
            continue
        x, y = (max(left, window[0]), max(top, window[1])) if window else (left, top)
        rows.append(
            f'<g class="vehicle"><rect x="{px(left)}" y="{px(top)}" width="{px(right - left)}" '
            f'height="{px(low - top)}" rx="6" fill="none" stroke="{palette.FAINT}" stroke-width="1.2" '
            f'stroke-dasharray="14 4 2 4"/><text x="{px(x + 1)}" y="{px(y + 1.5)}" font-size="10" '
            f'font-weight="bold" fill="{palette.QUIET}">{escape(name)}</text></g>')
    return rows


def _axle_bar(whole: Body) -> str:
    if len(whole.parts) < 2:
        return ""
    first, last = whole.parts[0][0], whole.parts[-1][0]
    x = whole.x + 10.2
    return (f'<path class="axle" d="{path([(x, first.y + first.height / 2), (x, last.y + last.height / 2)])}" '
            f'fill="none" stroke="{palette.FAINT}" stroke-width="6"/>')


_TINTS = {"error": "#fbd3d9", "fault": "#fbd3d9", "warning": "#ffebb8", "note": "#e6e8eb"}


def _halos(layout: Layout, lettering: Lettering, marks: tuple[Mark, ...]) -> list[str]:
    """A tint behind everything a finding is about."""
    rows = []
    worst: dict[str, str] = {}
    for mark in marks:
        if worst.get(mark.device_name) != "error":
            worst[mark.device_name] = mark.severity
    tint = {name: _TINTS.get(severity, _TINTS["note"]) for name, severity in worst.items()}
    for body in layout.bodies:
        if body.device.name in worst:
            rows.append(f'<rect x="{px(body.x - 0.7)}" y="{px(body.y - 0.7)}" width="{px(body.width + 1.4)}" '
                        f'height="{px(body.height + 1.4)}" rx="7" fill="{tint[body.device.name]}"/>')
        for small in body.smalls:
            if small.device.name in worst:
                x, y = small_at(body, small)
                rows.append(f'<rect x="{px(x - 0.4)}" y="{px(y - 0.2)}" width="{px(small.symbol.width + 0.8)}" height="'
                            f'{px(small.symbol.height + 0.4)}" rx="5" '
                            f'fill="{tint[small.device.name]}"/>')
    for drawn in layout.wires:
        for place, run in enumerate(drawn.wire.runs):
            if run.line is not None and run.line.name in worst:
                d = "".join(path([s.start, s.end]) for s in drawn.own[place])
                rows.append(f'<path d="{d}" fill="none" stroke="{tint[run.line.name]}" '
                            'stroke-width="16" stroke-linecap="round" stroke-linejoin="round"/>')
        for name, (x, y) in drawn.tees.items():
            if name in worst:
                rows.append(f'<circle cx="{px(x)}" cy="{px(y)}" r="11" fill="{tint[name]}"/>')
    return rows


def _joined(run: Run) -> str:
    """Two parts that are joined without a line, in words."""
    return f"{run.ports[0][0]} {'coupled to' if run.couples else 'on'} {run.ports[1][0]}"


def _net(layout: Layout, drawn: Drawn, colour: str, names: _Names, reading: Reading | None) -> list[str]:
    wire = drawn.wire
    title = "; ".join(dict.fromkeys(run.line.name if run.line else _joined(run)
                                    for run in wire.runs))
    member = next(m for m in layout.roles.circuits if m.number == wire.circuit)
    rows = [f'<g class="net {wire.role} circuit-{wire.circuit}" id="net-{wire.number + 1}" fill="none">'
            f"<title>{escape(title)} ({escape(member.title)}, {palette.ROLE_TITLE[wire.role]})</title>"]
    broad = max(palette.WEIGHT[s.role] for s in drawn.stretches) if drawn.stretches else 0
    ways = {role: chains([s for s in drawn.stretches if s.role == role]) for role in ROLES}
    everything = "".join(path(chain) for role in ROLES for chain in ways[role])
    rows.append(f'<path d="{everything}" stroke="{palette.PAPER}" stroke-width="{broad + 4.5:g}"/>')
    by_circuit = reading is None or reading.live
    for role in reversed(ROLES):
        if ways[role] and by_circuit:
            dash = f' stroke-dasharray="{palette.DASH[role]}"' if palette.DASH[role] else ""
            d = "".join(path(chain) for chain in ways[role])
            rows.append(f'<path class="way" d="{d}" stroke="{colour}" stroke-width="{palette.WEIGHT[role]:g}"{dash} '
                        'stroke-linejoin="round"/>')
    if reading is not None:
        rows += pressure.airs(layout.circuit, drawn, reading)
    dots = colour if by_circuit else palette.INK
    for place, run in enumerate(wire.runs):
        d = "".join(path(chain) for chain in chains(drawn.own[place]))
        if run.line is not None:
            label = text.line_label(run.line)
            rows.append(f'<path class="line" id="{names.give("line", run.line.name)}" data-name="{escape(run.line.name)}" '
                        f'd="{d}" stroke="#fff" stroke-opacity="0" stroke-width="9"><title>{escape(run.line.title)}'
                        f'{": " + escape(label) if label else ""}</title></path>')
    for x, y in drawn.joints:
        rows.append(f'<circle cx="{px(x)}" cy="{px(y)}" r="3.4" fill="{dots}"/>')
    rows.append("</g>")
    return rows


def _device(
    circuit: Circuit, body: Body, symbols: dict[str, list[str]], names: _Names, lettering: Lettering
) -> list[str]:
    device = body.device
    name = symbol_id(body) + ("" if not body.symbol.grows else "-" + "_".join(px(s.y) for s in body.slots if s.grows))
    symbols.setdefault(name, symbol(body))
    rows = [_group(device, names, pen=_PEN)]
    if is_wheel(device):
        rows.append(_wheel(body))
    rows.append(f'<use href="#{escape(name)}" xlink:href="#{escape(name)}" x="{px(body.x)}" y="{px(body.y)}"/>')
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
    rows += [_text(words) for words in lettering.texts
             if words.owner == device.name and words.what in ("name", "figure", "port")]
    rows.append("</g>")
    for small in body.smalls:
        rows += _small(circuit, body, small, symbols, names, lettering)
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
    circuit: Circuit, body: Body, small: Small, symbols: dict[str, list[str]], names: _Names, lettering: Lettering
) -> list[str]:
    device = small.device
    name = f"symbol-{device.kind.name}"
    symbols.setdefault(name, plain(small.symbol))
    x, y = small_at(body, small)
    rows = [_group(device, names, "small ", _PEN),
            _stem(body, small),
            f'<use href="#{escape(name)}" xlink:href="#{escape(name)}" x="{px(x)}" y="{px(y)}"/>']
    for port in device.kind.ports:
        if is_open(circuit, device, port) and port.number in small.symbol.ports:
            px_, py = small.symbol.ports[port.number]
            rows.append(exhaust(x + px_, y + py, py != 0))
    if small.port:
        at = body.y if not small.hangs else body.y + body.height
        seat = _seat(body, small)
        turns = body.x + small.x < seat  # its number then stands under the corner, where the stem is not
        rows.append(_text(Text(seat - 0.2 if turns else seat + 0.25, at - 0.25 if not small.hangs else at + 0.8,
                               small.port, text.PORT, "port", anchor="end" if turns else "start")))
    rows += [_text(words) for words in lettering.texts if words.owner == device.name and words.what == "small"]
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


def _group(device: Device, names: _Names, small: str = "", pen: str = "") -> str:
    """The beginning of a device's group, with its title; its end is the caller's."""
    return (f'<g class="device {small}{escape(device.kind.name)}" id="{names.give("device", device.name)}" '
            f'data-name="{escape(device.name)}"{pen and " " + pen}><title>{escape(device.name)}: '
            f"{escape(device.kind.title)}</title>")


def _tee(device: Device, x: float, y: float, names: _Names, lettering: Lettering) -> list[str]:
    rows = [f'{_group(device, names)}<circle cx="{px(x)}" cy="{px(y)}" r="3.8" fill="{palette.INK}"/>']
    rows += [_text(words) for words in lettering.texts if words.owner == device.name and words.what == "tee"]
    rows.append("</g>")
    return rows


_INKS = {"tube": palette.QUIET, "port": palette.QUIET, "small": "#333a40"}


def _text(words: Text) -> str:
    bold = ' font-weight="bold"' if words.bold else ""
    anchor = f' text-anchor="{words.anchor}"' if words.anchor != "start" else ""
    place = (f'transform="translate({px(words.x)},{px(words.y)}) rotate(-90)"' if words.upright
             else f'x="{px(words.x)}" y="{px(words.y)}"')
    ink = _INKS.get(words.what, palette.INK)
    return (f'<text {place} font-size="{words.size:g}"{bold}{anchor} fill="{ink}" stroke="none">'
            f"{escape(words.words)}</text>")
