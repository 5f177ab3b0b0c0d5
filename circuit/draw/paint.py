"""What is on a sheet as SVG: frames, lines from thin to thick, dots, symbols, words, tags, findings.

One group for every device and every net, with class, id and title, so that a report can point at them; nets stand in a
group for each circuit, which an editor can switch off. Each line is first drawn wider in the colour of the paper, so
that where two cross the one below has a gap.
"""

from circuit.declaring.symbol import Point
from circuit.draw import palette, pressure, text
from circuit.draw.fixed import small_at
from circuit.draw.frame import dress
from circuit.draw.glyphs import escape, flag, path, px, tag
from circuit.draw.labels import letter
from circuit.draw.layout import Frame, Layout
from circuit.draw.marks import Mark, Names, Painted, known_marks
from circuit.draw.parts import Body, Run
from circuit.draw.pressure import Reading
from circuit.draw.roles import ROLES
from circuit.draw.room import Lettering
from circuit.draw.things import device_rows, flag_rows, tee_rows, text_row
from circuit.draw.tree import Drawn, chains


def picture(layout: Layout, marks: tuple[Mark, ...] = (), ink: bool = False, reading: Reading | None = None) -> str:
    """The SVG of a layout. ink: all lines black, for a printer without colour. reading: pressures to colour by."""
    shown = known_marks(layout.circuit, marks)
    lettering = letter(layout, tuple(mark.device_name for mark in shown), reading is not None)
    return dress(layout, lettering, paint(layout, lettering, shown, ink, reading))


def paint(layout: Layout, lettering: Lettering, shown: tuple[Mark, ...], ink: bool = False,
          reading: Reading | None = None) -> Painted:
    """Everything drawn, as rows of SVG."""
    circuit = layout.circuit
    colours = palette.colours(layout.roles.circuits)
    if ink:
        colours = dict.fromkeys(colours, palette.INK)
    names = Names()
    rows: list[str] = [_frame(frame) for frame in layout.frames]
    rows += [_axle_bar(whole) for whole in layout.wheels]
    rows += _halos(layout, lettering, shown)
    for member in reversed(layout.roles.circuits):
        own = [drawn for drawn in layout.wires if drawn.wire.circuit == member.number]
        own.sort(key=lambda d: (palette.WEIGHT[d.wire.role], -ROLES.index(d.wire.role), d.wire.number))
        if own:
            rows.append(f'<g class="layer" id="layer-circuit-{member.number}" '
                        f'aria-label="circuit {member.number}: {escape(member.title)}">')
            for drawn in own:
                rows += _net(layout, drawn, colours[member.number], names, reading)
            rows.append("</g>")
    known_symbols: dict[str, list[str]] = {}
    for body in layout.bodies:
        if body.flag is None:
            rows += device_rows(circuit, body, known_symbols, names, lettering, reading is not None and reading.live)
        else:
            rows += flag_rows(body, names, lettering)
    for drawn in layout.wires:
        for name, (x, y) in sorted(drawn.tees.items()):
            rows += tee_rows(layout.tees[name], x, y, names, lettering)
    rows += [f'<path d="{path(leader)}" fill="none" stroke="{palette.QUIET}" stroke-width="0.7"/>'
             for leader in lettering.leaders]
    rows.append('<g class="arrows">')
    rows += [_head(tip, way, colours[circuit]) for tip, way, circuit in
             (lettering.arrows if reading is None or reading.live else ())]
    rows.append("</g>")
    members = {member.number: member for member in layout.roles.circuits}
    rows.append('<g class="tags">')
    for spot in lettering.tags if reading is None or reading.live else ():
        number = layout.wires[spot.of].wire.circuit
        rows.append(tag(spot.x, spot.y, palette.TAGS[members[number].nature], colours[number], number))
    rows.append("</g>")
    rows += [text_row(words) for words in lettering.texts if words.what in ("tube", "axle")]
    if reading is not None:
        rows += ['<g class="pills">', *(pressure.pill((s.x, s.y), s.of, reading) for s in lettering.pills), "</g>"]
    rows.append('<g class="findings">')
    for spot in lettering.flags:
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
    return Painted(symbols, rows, colours, tuple(shown[spot.of] for spot in lettering.flags), reading)


def _head(tip: Point, way: Point, colour: str) -> str:
    """An arrow's head on a line."""
    (x, y), (dx, dy) = tip, way
    back = x - 1.1 * dx, y - 1.1 * dy
    points = [(x, y), (back[0] - 0.42 * dy, back[1] + 0.42 * dx), (back[0] + 0.42 * dy, back[1] - 0.42 * dx)]
    return f'<path d="{path(points, True)}" fill="{colour}"/>'


def _frame(frame: Frame) -> str:
    """Round a band, with what it holds."""
    words = f"{frame.vehicle}: {frame.title[:1].lower()}{frame.title[1:]}" if frame.vehicle else frame.title
    return (f'<g class="band"><rect x="{px(frame.left)}" y="{px(frame.top)}" width="{px(frame.wide)}" '
            f'height="{px(frame.high)}" rx="6" fill="none" stroke="{palette.FAINT}" stroke-width="1.2"/>'
            f'<text x="{px(frame.left + 0.8)}" y="{px(frame.top + 1.45)}" font-size="{text.LETTER:g}" '
            f'fill="{palette.QUIET}">{escape(words)}</text></g>')


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


def _net(layout: Layout, drawn: Drawn, colour: str, names: Names, reading: Reading | None) -> list[str]:
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
    tees = set(drawn.tees.values())
    for x, y in drawn.joints:  # a ring where lines of one port part: there is no tee to be fitted
        if (x, y) not in tees:
            rows.append(f'<circle class="port" cx="{px(x)}" cy="{px(y)}" r="3.2" fill="{palette.PAPER}" stroke="{dots}" '
                        'stroke-width="1.6"/>')
    rows.append("</g>")
    return rows


