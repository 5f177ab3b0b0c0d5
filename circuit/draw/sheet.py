"""Drawing sheets of a fixed size as PDF or SVG: frame with zones, title block, revisions, legend, over several sheets if needed.

Lengths are in mm unless a name says otherwise. The same circuit gives the same bytes on every run.
"""

import io
from collections.abc import Iterator
from typing import Any, NamedTuple

from circuit.draw import palette
from circuit.draw.export import BOLD, PLAIN, draw_on, drawing_of, know_fonts
from circuit.draw.frame import SMALL_PRINT, Sheet, legend_of
from circuit.draw.glyphs import px
from circuit.draw.labels import Lettering, letter
from circuit.draw.layout import Layout
from circuit.draw.paint import Mark, known_marks, paint
from circuit.draw.pressure import Reading
from circuit.draw.surface import Surface
from circuit.draw.text import FAMILY, NAME
from circuit.draw.windows import GUTTER, Window, windows

SIZES = {"A4": (297.0, 210.0), "A3": (420.0, 297.0), "Letter": (279.4, 215.9), "Tabloid": (431.8, 279.4)}
"""Width and height, lying."""
LEAST_NAME = 1.8
"""mm, the smallest size of a part's name; a drawing that would get smaller is cut into sheets."""
LEAST = LEAST_NAME / (NAME / 10)
"""mm for each U at which names have that size."""
MOST = 3.0
"""mm for each U, so that a small circuit does not look swollen."""
MARGIN, ZONE = 8.0, 4.0
MM = 72 / 25.4


class TitleBlock(NamedTuple):
    """What the title block says; what is "" stays a blank field for a pen. standing: of the findings, in words."""

    title: str
    vehicle_class: str
    source: str
    standard: str
    tool: str
    fingerprint: str
    standing: str = ""
    date: str = ""


BLANK_FIELDS = ("vehicle id (VIN)", "builder", "modification", "drawn by", "checked by", "licence no.", "signature")
"""What nobody but a person can fill in."""


def canvas_for(out: io.BytesIO, size: tuple[float, float], title: str) -> Any:
    """A PDF canvas with embedded fonts whose bytes depend on nothing but what is drawn. size: mm."""
    know_fonts()
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(out, pagesize=(size[0] * MM, size[1] * MM), invariant=1, initialFontName=PLAIN)
    canvas.setTitle(title)
    canvas.setAuthor("")
    canvas.setSubject(SMALL_PRINT)
    return canvas


def sheets(layout: Layout, block: TitleBlock, size: str, marks: tuple[Mark, ...] = (),
           reading: Reading | None = None) -> bytes:
    """All sheets of a circuit as one PDF. Raises KeyError for an unknown size and CannotDraw without the libraries."""
    out = io.BytesIO()
    canvas = canvas_for(out, SIZES[size], block.title)
    draw_sheets(canvas, layout, block, size, marks, reading)
    canvas.save()
    return out.getvalue()


def sheets_as_svg(layout: Layout, block: TitleBlock, size: str, marks: tuple[Mark, ...] = (),
                  reading: Reading | None = None) -> tuple[str, ...]:
    """The same sheets, each as an SVG text. Texts are measured with the fonts of a PDF, so CannotDraw is as likely."""
    know_fonts()
    surface = Surface(block.title)
    draw_sheets(surface, layout, block, size, marks, reading)
    return tuple(surface.done)


def draw_sheets(canvas: Any, layout: Layout, block: TitleBlock, size: str, marks: tuple[Mark, ...] = (),
                reading: Reading | None = None) -> int:
    """The same onto a canvas that is there already; returns how many pages it took."""
    shown = known_marks(layout.circuit, marks)
    lettering = letter(layout, tuple(mark.device_name for mark in shown), reading is not None)
    room = _room(size)
    parts = _windows(layout, lettering, size)
    whole = paint(layout, lettering, shown, reading=reading)
    for number, window in enumerate(parts):
        canvas.setPageSize((SIZES[size][0] * MM, SIZES[size][1] * MM))
        _frame(canvas, size)
        painted = paint(layout, lettering, shown, reading=reading, window=window.box)
        _place(canvas, painted, window, room)
        _strip(canvas, layout, lettering, whole, block, size, number + 1, len(parts), reading)
        canvas.showPage()
    return len(parts)


def how_many(layout: Layout, size: str, marks: tuple[Mark, ...] = (), reading: Reading | None = None) -> int:
    """How many sheets a circuit takes."""
    shown = known_marks(layout.circuit, marks)
    lettering = letter(layout, tuple(mark.device_name for mark in shown), reading is not None)
    return len(_windows(layout, lettering, size))


def _windows(layout: Layout, lettering: Lettering, size: str) -> list[Window]:
    _, _, wide, high = _room(size)
    return windows(layout, lettering, wide / LEAST, high / LEAST)


def _strip_height(size: str) -> float:
    return 47.0 if SIZES[size][0] > 350 else 41.0


def _room(size: str) -> tuple[float, float, float, float]:
    """Where the drawing goes: left, bottom, width, height, from the lower left corner of the sheet."""
    wide, high = SIZES[size]
    edge, strip = MARGIN + ZONE, _strip_height(size)
    return edge + 2, edge + strip + 2, wide - 2 * edge - 4, high - 2 * edge - strip - 4


# --- the drawing ---------------------------------------------------------------------------------------------------


def _place(canvas: Any, painted: Sheet, window: Window, room: tuple[float, float, float, float]) -> None:
    """A window of the drawing in its room, clipped, with signs where lines go on elsewhere."""
    left, bottom, wide, high = room
    gutter = GUTTER if window.crossings else 0.0
    scale = min(wide / (window.width + 2 * gutter), high / (window.height + 2 * gutter), MOST)
    x = left + (wide - window.width * scale) / 2
    y = bottom + (high - window.height * scale) / 2
    canvas.saveState()
    clip = canvas.beginPath()
    clip.rect(x * MM, y * MM, window.width * scale * MM, window.height * scale * MM)
    canvas.clipPath(clip, stroke=0, fill=0)
    _svg_at(canvas, painted.symbols, painted.rows, (-window.box[0], -window.box[1]), (window.width, window.height),
            (x, y, scale))
    canvas.restoreState()
    for crossing in window.crossings:
        _goes_on(canvas, crossing.side, f"{crossing.label} sheet {crossing.sheet + 1}",
                 x + (crossing.x - window.box[0]) * scale, y + (window.box[3] - crossing.y) * scale)


def _svg_at(canvas: Any, symbols: list[str], rows: list[str], move: tuple[float, float], extent: tuple[float, float],
            at: tuple[float, float, float]) -> None:
    """Rows of SVG on the canvas. move, extent: U. at: left and bottom in mm, and mm for each U."""
    if isinstance(canvas, Surface):
        canvas.embed(symbols, rows, move, extent, at, palette.INK)
        return
    drawing = drawing_of(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{px(extent[0])}" '
        f'height="{px(extent[1])}" font-family="{FAMILY}" fill="{palette.INK}"><defs>{"".join(symbols)}</defs>'
        f'<g transform="translate({px(move[0])},{px(move[1])})">{"".join(filter(None, rows))}</g></svg>')
    factor = extent[0] * at[2] * MM / drawing.width
    canvas.saveState()
    canvas.translate(at[0] * MM, at[1] * MM)
    canvas.scale(factor, factor)
    draw_on(canvas, drawing)
    canvas.restoreState()


def _goes_on(canvas: Any, side: str, words: str, x: float, y: float) -> None:
    """A sign beside a cut: an arrow out of the sheet, which line it is and where it goes on."""
    out = {"left": (-1, 0), "right": (1, 0), "top": (0, 1), "low": (0, -1)}[side]
    canvas.setStrokeColor(palette.INK)
    canvas.setFillColor(palette.INK)
    canvas.setLineWidth(0.25 * MM)
    canvas.setDash()
    tip = (x + 2.2 * out[0], y + 2.2 * out[1])
    canvas.line(x * MM, y * MM, tip[0] * MM, tip[1] * MM)
    head = canvas.beginPath()
    across = (out[1], out[0])
    head.moveTo(tip[0] * MM, tip[1] * MM)
    for sign in (1, -1):
        head.lineTo((tip[0] - 1.2 * out[0] + 0.6 * sign * across[0]) * MM, (tip[1] - 1.2 * out[1] + 0.6 * sign * across[1]) * MM)
    head.close()
    canvas.drawPath(head, stroke=0, fill=1)
    canvas.setFont(BOLD, 1.7 * MM)
    label, _, rest = words.partition(" ")
    if out[0]:
        put = canvas.drawRightString if out[0] < 0 else canvas.drawString
        put((tip[0] + 0.5 * out[0]) * MM, (tip[1] + 0.15) * MM, label)
        canvas.setFont(PLAIN, 1.4 * MM)
        put((tip[0] + 0.5 * out[0]) * MM, (tip[1] - 1.6) * MM, rest)
    else:
        canvas.drawCentredString(tip[0] * MM, (tip[1] + (0.6 if out[1] > 0 else -2.0)) * MM, label)
        canvas.setFont(PLAIN, 1.4 * MM)
        canvas.drawCentredString(tip[0] * MM, (tip[1] + (2.6 if out[1] > 0 else -3.8)) * MM, rest)


# --- what is round it ----------------------------------------------------------------------------------------------


def _frame(canvas: Any, size: str) -> None:
    """Two lines round the sheet with zones between them: figures along, letters up."""
    wide, high = SIZES[size]
    inner = MARGIN + ZONE
    canvas.setStrokeColor(palette.INK)
    canvas.setFillColor(palette.INK)
    canvas.setLineWidth(0.18 * MM)
    canvas.rect(MARGIN * MM, MARGIN * MM, (wide - 2 * MARGIN) * MM, (high - 2 * MARGIN) * MM)
    canvas.setLineWidth(0.5 * MM)
    canvas.rect(inner * MM, inner * MM, (wide - 2 * inner) * MM, (high - 2 * inner) * MM)
    canvas.setLineWidth(0.18 * MM)
    canvas.setFont(PLAIN, 2.2 * MM)
    along, up = (8, 6) if wide > 350 else (6, 4)
    for number in range(along):
        x = inner + (wide - 2 * inner) * number / along
        middle = inner + (wide - 2 * inner) * (number + 0.5) / along
        for y, sign in ((MARGIN, 1), (high - MARGIN, -1)):
            if number:
                canvas.line(x * MM, y * MM, x * MM, (y + sign * ZONE) * MM)
            canvas.drawCentredString(middle * MM, (y + sign * ZONE / 2 - 0.8) * MM, str(number + 1))
    for number in range(up):
        y = high - inner - (high - 2 * inner) * number / up
        middle = high - inner - (high - 2 * inner) * (number + 0.5) / up
        for x, sign in ((MARGIN, 1), (wide - MARGIN, -1)):
            if number:
                canvas.line(x * MM, y * MM, (x + sign * ZONE) * MM, y * MM)
            canvas.drawCentredString((x + sign * ZONE / 2) * MM, (middle - 0.8) * MM, "ABCDEFGH"[number])


def _strip(canvas: Any, layout: Layout, lettering: Lettering, painted: Sheet, block: TitleBlock, size: str, number: int,
           of: int, reading: Reading | None) -> None:
    """Legend, revisions and title block along the lower edge."""
    from circuit.draw.titles import revisions, title_block

    wide, _ = SIZES[size]
    edge, high = MARGIN + ZONE, _strip_height(size)
    inside = wide - 2 * edge
    legend, revised = (inside * 0.38, inside * 0.17) if wide > 350 else (inside * 0.34, inside * 0.16)
    canvas.setLineWidth(0.5 * MM)
    canvas.line(edge * MM, (edge + high) * MM, (wide - edge) * MM, (edge + high) * MM)
    for x in (edge + legend, edge + legend + revised):
        canvas.line(x * MM, edge * MM, x * MM, (edge + high) * MM)
    _legend(canvas, layout, lettering, painted, (edge + 2.5, edge + 1.5, legend - 5, high - 3))
    revisions(canvas, (edge + legend, edge, revised, high))
    state = f"state shown: {reading.title}, predicted" if reading is not None else ""
    title_block(canvas, block, (edge + legend + revised, edge, inside - legend - revised, high), number, of, state)


def _legend(canvas: Any, layout: Layout, lettering: Lettering, painted: Sheet, box: tuple[float, float, float, float]) -> None:
    """The legend, as large as its room allows."""
    left, bottom, wide, high = box
    for room in _rooms(wide):
        rows, tall = legend_of(layout, lettering, painted, room)
        scale = wide / room
        if (tall + 1.5) * scale <= high:
            break
    _svg_at(canvas, [], rows, (0, -0.2), (room, tall + 1.5), (left, bottom + high - (tall + 1.5) * scale, scale))


def _rooms(wide: float) -> Iterator[float]:
    """Widths in U that a legend is wrapped to, until it fits: its letters get smaller."""
    for mm in (2.5, 2.25, 2.0, 1.8, 1.6, 1.4, 1.2, 1.0):
        yield wide / mm
