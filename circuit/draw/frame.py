"""The sheet round the drawing: frame, title, legend, findings' key and the small print. Lengths in U."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from circuit.draw import palette, pressure, text
from circuit.draw.glyphs import escape, exhaust, flag, plug, px, tag
from circuit.draw.labels import Lettering
from circuit.draw.layout import Layout
from circuit.draw.measure import Box
from circuit.draw.parts import is_open
from circuit.draw.roles import ROLES

if TYPE_CHECKING:
    from circuit.draw.paint import Mark

SMALL_PRINT = "Predicted from the design file by a static reading of it; not an approval and not a measurement."
PLAYED_PRINT = SMALL_PRINT.replace("a static reading", "a simulation")
_PAD = 3.0
_ROW = 2.2


@dataclass(slots=True)
class Sheet:
    """symbols, rows: SVG text. colours: by circuit number. marks: those that are shown. reading: pressures shown."""

    symbols: list[str]
    rows: list[str]
    colours: dict[int, str]
    marks: "tuple[Mark, ...]"
    reading: pressure.Reading | None = None


def dress(layout: Layout, lettering: Lettering, sheet: Sheet) -> str:
    """The whole SVG."""
    left, top, right, low = bounds(layout, lettering)
    width = max(right - left, 70.0) + 2 * _PAD
    title_high = 5.0
    legend = legend_of(layout, lettering, sheet, width - 2 * _PAD)
    height = title_high + (low - top) + _PAD + 1.5 + legend[1] + 2.6
    ox, oy = _PAD - left + max(0.0, (width - 2 * _PAD - (right - left)) / 2), title_high - top
    vehicle = layout.circuit.vehicle
    head = (
        f'<text x="{px(_PAD)}" y="{px(2.9)}" font-size="16" font-weight="bold">{escape(vehicle.title)}</text>'
        f'<text x="{px(width - _PAD)}" y="{px(2.9)}" font-size="9" text-anchor="end" fill="{palette.QUIET}">'
        f"compressed-air circuit \u00b7 {escape(vehicle.vehicle_class)}</text>"
    )
    rule = height - legend[1] - 3.2
    played = sheet.reading is not None and sheet.reading.played
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{px(width)}" '
        f'height="{px(height)}" viewBox="0 0 {px(width)} {px(height)}" font-family="{text.FAMILY}" '
        f'fill="{palette.INK}">',
        f"<title>{escape(vehicle.title)}</title>",
        "<defs>", *sheet.symbols, "</defs>",
        f'<rect width="{px(width)}" height="{px(height)}" fill="{palette.PAPER}"/>',
        f'<rect x="8" y="8" width="{px(width - 1.6)}" height="{px(height - 1.6)}" fill="none" '
        f'stroke="{palette.FAINT}" stroke-width="1"/>',
        f'<g class="title">{head}</g>',
        f'<g class="circuit" transform="translate({px(ox)},{px(oy)})">', *filter(None, sheet.rows), "</g>",
        f'<path d="M{px(_PAD)} {px(rule)}H{px(width - _PAD)}" stroke="{palette.FAINT}" stroke-width="1"/>',
        f'<g class="legend" transform="translate({px(_PAD)},{px(rule)})">', *legend[0], "</g>",
        f'<text class="small-print" x="{px(_PAD)}" y="{px(height - 1.6)}" font-size="7" fill="{palette.QUIET}">'
        f"{escape(PLAYED_PRINT if played else SMALL_PRINT)}</text>",
        "</svg>",
    ]
    return "\n".join(rows) + "\n"


def bounds(layout: Layout, lettering: Lettering) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of everything drawn."""
    boxes = [*lettering.boxes, *(words.box for words in lettering.texts),
             *((s.x - 1, s.y - 1, s.x + 1, s.y + 1) for s in lettering.flags)]
    for drawn in layout.wires:
        boxes += [(*s.start, *s.end) for s in drawn.stretches]
    boxes += extents(layout).values()
    if not boxes:
        return 0, 0, 10, 10
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def extents(layout: Layout) -> dict[str, Box]:
    """What each vehicle of a combination takes up, its frame included."""
    found = {}
    for place, name in enumerate(layout.circuit.vehicles):
        own = [body for body in layout.bodies if body.vehicle == place]
        if own:
            stretches = [s for drawn in layout.wires if {slot.body.vehicle for slot in drawn.wire.slots} == {place}
                         for s in drawn.stretches]
            found[name] = (
                min(body.x - body.before for body in own) - 1.5,
                min([*(body.y - body.top for body in own), *(s.start[1] for s in stretches)]) - 2.6,
                max(body.x + body.width + body.after for body in own) + 1.5,
                max([*(body.y + body.height + body.bottom for body in own), *(s.end[1] for s in stretches)]) + 1)
    return found


def legend_of(layout: Layout, lettering: Lettering, sheet: Sheet, room: float) -> tuple[list[str], float]:
    """The legend's rows of SVG and its height: roles, signs, circuits, findings, labels without a place, wrapped."""
    used = {stretch.role for drawn in layout.wires for stretch in drawn.stretches}
    signs: list[tuple[float, str, str]] = [
        (6.0, f'<path d="M0 0H50" stroke="{palette.INK}" stroke-width="{palette.WEIGHT[role]:g}" fill="none"'
              + (f' stroke-dasharray="{palette.DASH[role]}"' if palette.DASH[role] else "") + "/>",
         palette.ROLE_TITLE[role])
        for role in ROLES if role in used
    ]
    pen = f'fill="none" stroke="{palette.INK}" stroke-width="1.7" stroke-linejoin="round"'
    circuit = layout.circuit
    if any(is_open(circuit, body.device, port) for body in layout.bodies for port in body.device.kind.ports):
        signs.append((2.0, f"<g {pen}>{exhaust(0.7, -0.8, True)}</g>", "exhaust"))
    if circuit.plugged:
        signs.append((2.0, f"<g {pen}>{plug(0.2, 0, 1, 0)}</g>", "plugged"))
    if any(drawn.joints for drawn in layout.wires):
        signs.append((1.4, '<circle cx="4" cy="0" r="3.4"/>', "joined; lines without a dot only cross"))
    if layout.wheels:
        signs.append((0.0, "", "nose of the vehicle to the left: R wheels above, L below"))
    circuits = [
        (6.0, f'<path d="M0 0H50" stroke="{sheet.colours[m.number]}" stroke-width="2.2" fill="none"/>'
              + tag(2.5, 0, palette.TAGS[m.nature], sheet.colours[m.number], m.number), m.title)
        for m in layout.roles.circuits
    ]
    reading = sheet.reading
    blocks = [signs, circuits] if reading is None or reading.live else [signs[-1:], pressure.legend(reading)]
    severities = [s for s in ("error", "warning", "note", "fault") if any(mark.severity == s for mark in sheet.marks)]
    if severities:
        words = {"error": "finding: error", "warning": "finding: warning", "note": "finding: note",
                 "fault": "has failed"}
        blocks.append([(2.6, flag(0.9, 0, s, "1"), words[s]) for s in severities])
        alone = next((mark for mark in sheet.marks if " " in mark.label), None)
        if alone:
            blocks[-1].append((0.0, "", f"{alone.flag}: of {alone.label.rpartition(' ')[0]} by itself, and so on"))
    if lettering.unplaced:
        lines = {line.name: line for line in circuit.devices if line.is_line}
        blocks.append([(0.0, "", "no room beside the line:"),
                       *((0.0, "", f"{name}  {text.line_label(lines[name])}") for name in lettering.unplaced)])
    rows, y = [], 1.8
    for block in blocks:
        x = 0.0
        for wide, sign, words_ in block:
            step = wide + text.width(words_, 8) / 10 + 3.0
            if x and x + step > room:
                x, y = 0.0, y + _ROW
            rows.append(f'<g transform="translate({px(x)},{px(y)})">{sign}'
                        f'<text x="{px(wide)}" y="3" font-size="8">{escape(words_)}</text></g>')
            x += step
        y += _ROW
    return rows, y - 1.0
