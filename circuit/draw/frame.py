"""The sheet round the drawing: frame, title, legend, findings' key and the small print. Lengths in U."""

from circuit.draw import palette, pressure, text
from circuit.draw.extent import extent
from circuit.draw.glyphs import escape, exhaust, flag, path, plug, px, tag
from circuit.draw.layout import Layout
from circuit.draw.marks import Painted
from circuit.draw.medium import PAD as _PAD
from circuit.draw.parts import is_open
from circuit.draw.roles import ROLES
from circuit.draw.room import Lettering

SMALL_PRINT = "Predicted from the design file by a static reading of it; not an approval and not a measurement."
PLAYED_PRINT = SMALL_PRINT.replace("a static reading", "a simulation")
_ROW = 2.4
_TITLE_HIGH = 5.0


def dress(layout: Layout, lettering: Lettering, sheet: Painted) -> str:
    """The whole SVG."""
    left, top, right, low = bounds(layout, lettering)
    width = max(right - left, 70.0) + 2 * _PAD
    legend = legend_of(layout, lettering, sheet, width - 2 * _PAD)
    height = _TITLE_HIGH + (low - top) + _PAD + 1.5 + legend[1] + 2.6
    ox, oy = _PAD - left + max(0.0, (width - 2 * _PAD - (right - left)) / 2), _TITLE_HIGH - top
    vehicle = layout.circuit.vehicle
    head = (
        f'<text x="{px(_PAD)}" y="{px(2.9)}" font-size="18" font-weight="bold">{escape(vehicle.title)}</text>'
        f'<text x="{px(width - _PAD)}" y="{px(2.9)}" font-size="{text.LETTER:g}" text-anchor="end" fill="{palette.QUIET}">'
        f"compressed-air circuit \u00b7 {escape(vehicle.vehicle_class)}</text>"
    )
    rule = height - legend[1] - 3.2
    played = sheet.reading is not None and sheet.reading.played
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{px(width)}" '
        f'height="{px(height)}" viewBox="0 0 {px(width)} {px(height)}" font-family="{text.FAMILY}" '
        f'fill="{palette.INK}">',
        f"<title>{escape(vehicle.title)}</title>",
        f"<desc>{escape(_described(layout))}</desc>",
        "<defs>", *sheet.symbols, "</defs>",
        f'<rect width="{px(width)}" height="{px(height)}" fill="{palette.PAPER}"/>',
        f'<rect x="8" y="8" width="{px(width - 1.6)}" height="{px(height - 1.6)}" fill="none" '
        f'stroke="{palette.FAINT}" stroke-width="1"/>',
        f'<g class="title">{head}</g>',
        f'<g class="circuit" transform="translate({px(ox)},{px(oy)})">', *filter(None, sheet.rows), "</g>",
        f'<path d="M{px(_PAD)} {px(rule)}H{px(width - _PAD)}" stroke="{palette.FAINT}" stroke-width="1"/>',
        f'<g class="legend" transform="translate({px(_PAD)},{px(rule)})">', *legend[0], "</g>",
        f'<text class="small-print" x="{px(_PAD)}" y="{px(height - 1.6)}" font-size="{text.LETTER:g}" fill="{palette.QUIET}">'
        f"{escape(PLAYED_PRINT if played else SMALL_PRINT)}</text>",
        "</svg>",
    ]
    return "\n".join(rows) + "\n"


def bounds(layout: Layout, lettering: Lettering) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of everything drawn."""
    boxes = [extent(layout), *lettering.boxes, *(words.box for words in lettering.texts),
             *((s.x - 1, s.y - 1, s.x + 1, s.y + 1) for s in lettering.flags)]
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def _described(layout: Layout) -> str:
    """The drawing in a sentence, for who cannot see it."""
    parts = sum(not device.is_line for device in layout.circuit.devices)
    lines = sum(device.is_line for device in layout.circuit.devices)
    circuits = ", ".join(f"{member.number} {member.title}" for member in layout.roles.circuits)
    bands = "; ".join(dict.fromkeys(frame.title for frame in layout.frames))
    return (f"Schematic of a compressed-air circuit with {parts} parts and {lines} lines. Circuits: {circuits}."
            + (f" Drawn in parts: {bands}." if bands else "") + f" {SMALL_PRINT}")


def legend_of(layout: Layout, lettering: Lettering, sheet: Painted, room: float) -> tuple[list[str], float]:
    """The legend's rows of SVG and its height: roles, signs, circuits and findings of this sheet, wrapped."""
    circuits_here = {drawn.wire.circuit for drawn in layout.wires}
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
    if lettering.arrows:
        signs.append((1.8, f'<path d="{path([(1.1, 0), (0, -0.42), (0, 0.42)], True)}"/>', "air only goes this way"))
    if circuit.plugged:
        signs.append((2.0, f"<g {pen}>{plug(0.2, 0, 1, 0)}</g>", "plugged"))
    if any(drawn.tees for drawn in layout.wires):
        signs.append((1.4, '<circle cx="4" cy="0" r="3.8"/>', "tee; lines without a dot only cross"))
    if any(place not in drawn.tees.values() for drawn in layout.wires for place in drawn.joints):
        signs.append((1.4, f'<circle cx="4" cy="0" r="3.2" fill="none" stroke="{palette.INK}" stroke-width="1.6"/>',
                      "lines of one port"))
    if any(slot.hole for body in layout.bodies for slot in body.slots):
        signs.append((1.4, f'<path d="M4 -9V9" stroke="{palette.INK}" stroke-width="4.5"/>', "holes of one port"))
    if layout.wheels:
        signs.append((0.0, "", "nose of the vehicle to the left: R wheels above, L below"))
    flags = [body.flag for body in layout.bodies if body.flag is not None]
    if flags:
        words_on = "number, port, sheet and field" if flags[0].place else "number and port"
        signs.append((4.0, f'<path d="{path([(0, -0.8), (2.6, -0.8), (3.2, 0), (2.6, 0.8), (0, 0.8)], True)}" '
                           f'fill="none" stroke="{palette.INK}" stroke-width="1.2"/>', f"goes on elsewhere: {words_on}"))
    circuits = [
        (6.0, f'<path d="M0 0H50" stroke="{sheet.colours[m.number]}" stroke-width="2.2" fill="none"/>'
              + tag(2.5, 0, palette.TAGS[m.nature], sheet.colours[m.number], m.number), m.title)
        for m in layout.roles.circuits if m.number in circuits_here
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
    rows, y = [], 1.8
    for block in blocks:
        x = 0.0
        for wide, sign, words_ in block:
            step = wide + text.width(words_, text.LETTER) / 10 + 3.0
            if x and x + step > room:
                x, y = 0.0, y + _ROW
            rows.append(f'<g transform="translate({px(x)},{px(y)})">{sign}'
                        f'<text x="{px(wide)}" y="4" font-size="{text.LETTER:g}">{escape(words_)}</text></g>')
            x += step
        y += _ROW
    return rows, y - 1.0
