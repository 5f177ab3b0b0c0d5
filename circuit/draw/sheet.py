"""Drawing sheets of a fixed size as PDF or SVG: bands of the circuit in a frame with title block, revisions and legend.

Lengths are in mm unless a name says otherwise. The same circuit gives the same bytes on every run.
"""

import io
from typing import Any, NamedTuple

from circuit.draw import palette
from circuit.draw.block import MM, TitleBlock, revisions, title_block
from circuit.draw.border import field_at, paper_frame
from circuit.draw.export import PLAIN, draw_on, drawing_of, know_fonts
from circuit.draw.fold import fold
from circuit.draw.frame import SMALL_PRINT, bounds, legend_of
from circuit.draw.glyphs import px
from circuit.draw.key import key_of
from circuit.draw.labels import letter
from circuit.draw.layout import Layout
from circuit.draw.marks import Mark, Painted, known_marks
from circuit.draw.medium import EDGE, LARGE, SIZES, SMALLEST, ZONE, STRIP, paper, room
from circuit.draw.paint import paint
from circuit.draw.pressure import Reading
from circuit.draw.room import Lettering
from circuit.draw.surface import Surface
from circuit.draw.text import FAMILY
from circuit.model.circuit import Circuit

MOST = 1.5 * SMALLEST
"""mm for each U, so that a small circuit does not look swollen."""


class Placed(NamedTuple):
    """A sheet's drawing in its room. left, bottom: mm. scale: mm for each U. box: of the drawing, U."""

    layout: Layout
    lettering: Lettering
    left: float
    bottom: float
    scale: float
    box: tuple[float, float, float, float]


def canvas_for(out: io.BytesIO, size: tuple[float, float], title: str) -> Any:
    """A PDF canvas with embedded fonts whose bytes depend on nothing but what is drawn. size: mm."""
    know_fonts()
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(out, pagesize=(size[0] * MM, size[1] * MM), invariant=1, initialFontName=PLAIN)
    canvas.setTitle(title)
    canvas.setAuthor("")
    canvas.setSubject(SMALL_PRINT)
    return canvas


def fold_onto(circuit: Circuit, size: str, search: int = 1) -> list[Layout]:
    """The sheets of a circuit for a size of paper. Raises KeyError for an unknown one."""
    return fold(circuit, paper(size), search)


def sheets(folded: list[Layout], block: TitleBlock, size: str, marks: tuple[Mark, ...] = (),
           reading: Reading | None = None) -> bytes:
    """All sheets of a circuit as one PDF. Raises KeyError for an unknown size and CannotDraw without the libraries."""
    out = io.BytesIO()
    canvas = canvas_for(out, SIZES[size], block.title)
    draw_sheets(canvas, folded, block, size, marks, reading)
    canvas.save()
    return out.getvalue()


def sheets_as_svg(folded: list[Layout], block: TitleBlock, size: str, marks: tuple[Mark, ...] = (),
                  reading: Reading | None = None) -> tuple[str, ...]:
    """The same sheets, each as an SVG text. Texts are measured with the fonts of a PDF, so CannotDraw is as likely."""
    know_fonts()
    surface = Surface(block.title)
    draw_sheets(surface, folded, block, size, marks, reading)
    return tuple(surface.done)


def how_many(folded: list[Layout]) -> int:
    """How many sheets are drawn: where there are several, with the key to them before."""
    return len(folded) + (len(folded) > 1)


def draw_sheets(canvas: Any, folded: list[Layout], block: TitleBlock, size: str, marks: tuple[Mark, ...] = (),
                reading: Reading | None = None) -> None:
    """The same onto a canvas that is there already."""
    shown = known_marks(folded[0].circuit, marks)
    flagged = tuple(mark.device_name for mark in shown)
    placed = [_placed(sheet, letter(sheet, flagged, reading is not None), size) for sheet in folded]
    if len(folded) > 1:
        key = key_of(folded, 2, paper(size).wide)
        placed.insert(0, _placed(key, letter(key, sizes=False), size))
    _refer(placed, size)
    for number, own in enumerate(placed, 1):
        canvas.setPageSize((SIZES[size][0] * MM, SIZES[size][1] * MM))
        paper_frame(canvas, size)
        painted = paint(own.layout, own.lettering, shown, reading=reading)
        left, top, right, low = own.box
        _svg_at(canvas, painted.symbols, painted.rows, (-left, -top), (right - left, low - top),
                (own.left, own.bottom, own.scale))
        _strip(canvas, own, painted, block, size, number, len(placed), reading)
        canvas.showPage()


# --- the drawing ---------------------------------------------------------------------------------------------------


def _placed(layout: Layout, lettering: Lettering, size: str) -> Placed:
    """A sheet's drawing, as large as its room allows and in the middle of it."""
    left, bottom, wide, high = room(size)
    box = bounds(layout, lettering)
    across, up = box[2] - box[0], box[3] - box[1]
    scale = min(wide / across, high / up, MOST)
    return Placed(layout, lettering, left + (wide - across * scale) / 2, bottom + (high - up * scale) / 2, scale, box)


def _refer(placed: list[Placed], size: str) -> None:
    """Write on every flag the sheet and the field of its other part."""
    where = {}
    for number, own in enumerate(placed, 1):
        for body in own.layout.bodies:
            if body.flag is not None:
                x, y = body.x + body.width / 2 - own.box[0], own.box[3] - body.y - body.height / 2
                where[id(body)] = f"{number}/{field_at(size, own.left + x * own.scale, own.bottom + y * own.scale)}"
    for own in placed:
        for body in own.layout.bodies:
            if body.flag is not None and body.flag.other is not None:
                body.flag.place = where[id(body.flag.other)]
                body.name = f"{body.flag.number} {body.flag.to} {body.flag.place}"
                for words in own.lettering.texts:
                    if words.owner == body.device.name:
                        words.words = body.name


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


# --- what is round it ----------------------------------------------------------------------------------------------


def _strip(canvas: Any, own: Placed, painted: Painted, block: TitleBlock, size: str, number: int, of: int,
           reading: Reading | None) -> None:
    """Legend, revisions and title block along the lower edge; a legend that needs it takes the room of the revisions."""
    wide, _ = SIZES[size]
    edge, high = EDGE + ZONE, STRIP
    inside = wide - 2 * edge
    block_wide, revised = (180.0, 66.0) if wide > LARGE else (138.0, 44.0)
    legend = inside - block_wide - revised
    if not _legend(canvas, own, painted, (edge + 2, edge + 1.5, legend - 4, high - 3)):
        legend, revised = legend + revised, 0.0
        _legend(canvas, own, painted, (edge + 2, edge + 1.5, legend - 4, high - 3), must=True)
    canvas.setStrokeColor(palette.INK)
    canvas.setFillColor(palette.INK)
    canvas.setLineWidth(0.5 * MM)
    canvas.line(edge * MM, (edge + high) * MM, (wide - edge) * MM, (edge + high) * MM)
    for x in {edge + legend, edge + legend + revised}:
        canvas.line(x * MM, edge * MM, x * MM, (edge + high) * MM)
    if revised:
        revisions(canvas, (edge + legend, edge, revised, high), block.revisions)
    state = f"state shown: {reading.title}, predicted" if reading is not None else ""
    title_block(canvas, block, (edge + legend + revised, edge, block_wide, high), number, of, state)


def _legend(canvas: Any, own: Placed, painted: Painted, box: tuple[float, float, float, float], must: bool = False) -> bool:
    """The legend with the least letters, where it fits into its room, or where it must."""
    left, bottom, wide, high = box
    rows, tall = legend_of(own.layout, own.lettering, painted, wide / SMALLEST)
    if (tall + 1.5) * SMALLEST > high and not must:
        return False
    _svg_at(canvas, [], rows, (0, -0.2), (wide / SMALLEST, tall + 1.5),
            (left, bottom + high - (tall + 1.5) * SMALLEST, SMALLEST))
    return True
