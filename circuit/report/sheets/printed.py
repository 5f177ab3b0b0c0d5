"""The papers as one PDF: a cover to sign, the schematic on its sheets, then every table on pages of its own. Lengths: mm."""

import io
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from circuit.draw import palette
from circuit.draw.export import BOLD, PLAIN, know_fonts
from circuit.draw.layout import lay_out_circuit
from circuit.draw.paint import Mark
from circuit.draw.sheet import BLANK_FIELDS, MM, SIZES, TitleBlock, canvas_for, draw_sheets
from circuit.report.sheets.columns import cut_to, line_height, widths
from circuit.report.sheets.origin import block_of, standards
from circuit.report.sheets.papers import Paper
from circuit.report.sheets.table import ASSUMED_FACE, Table, without_empty
from circuit.report.words import CAUTION
from circuit.rules.judge import Verdict

EDGE, HEAD, FOOT = 12.0, 15.0, 12.0
SIZE, SMALL, TITLE = 2.35, 2.0, 4.6
PAD = 0.8
_FACE = "#7a5200"

Draw = Callable[[Any], None]


@dataclass
class Pages:
    """Pages being filled from the top. done: for each, its paper's title and what is drawn on it."""

    size: tuple[float, float]
    done: list[tuple[str, list[Draw]]] = field(default_factory=list)
    y: float = 0.0

    @property
    def wide(self) -> float:
        return self.size[0] - 2 * EDGE

    def turn(self, title: str) -> None:
        """Begin a new page."""
        self.done.append((title, []))
        self.y = self.size[1] - EDGE - HEAD

    @property
    def left(self) -> float:
        """How much room there is."""
        return self.y - EDGE - FOOT

    def put(self, draw: Draw) -> None:
        self.done[-1][1].append(draw)


def printed(judged: Verdict, papers: tuple[Paper, ...], marks: tuple[Mark, ...] = (), size: str = "A3",
            date: str = "") -> bytes:
    """One PDF with everything. size: of the schematic's sheets; tables are on A4, or Letter beside its sizes."""
    know_fonts()
    block = block_of(judged, date)
    plain = SIZES["A4" if size in ("A4", "A3") else "Letter"]
    pages = Pages(plain)
    for paper in papers:
        pages.turn(paper.title)
        for table in paper.tables:
            _table(pages, paper.title, table)
    out = io.BytesIO()
    canvas = canvas_for(out, plain, f"{block.title}: papers")
    layout = lay_out_circuit(judged.circuit)
    _cover(canvas, judged, block, papers, plain)
    canvas.bookmarkPage("schematic")
    canvas.addOutlineEntry("Schematic", "schematic")
    draw_sheets(canvas, layout, block, size, marks)
    before = ""
    for number, (title, draws) in enumerate(pages.done, 1):
        canvas.setPageSize((plain[0] * MM, plain[1] * MM))
        if title != before:
            canvas.bookmarkPage(title)
            canvas.addOutlineEntry(title, title)
            before = title
        _around(canvas, block, title, plain, f"page {number} of {len(pages.done)}")
        for draw in draws:
            draw(canvas)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


# --- the cover -----------------------------------------------------------------------------------------------------


def _cover(canvas: Any, judged: Verdict, block: TitleBlock, papers: tuple[Paper, ...], size: tuple[float, float]) -> None:
    canvas.setPageSize((size[0] * MM, size[1] * MM))
    canvas.bookmarkPage("cover")
    canvas.addOutlineEntry("Cover and declaration", "cover")
    _around(canvas, block, "Cover and declaration", size, "")
    wide, high = size
    y = high - EDGE - HEAD - 9
    _say(canvas, block.title, EDGE, y, 8, BOLD)
    _say(canvas, f"Compressed-air circuit, {block.vehicle_class}", EDGE, y - 6, 3.2)
    half = (wide - 2 * EDGE - 8) / 2
    left, right = EDGE, EDGE + half + 8
    y -= 16
    known = (
        ("standard and edition", standards(judged)), ("design file", block.source),
        ("SHA-256 of the design files begins", block.fingerprint), ("tool", block.tool), ("outcome", block.standing),
        ("values assumed", f"{len(judged.circuit.assumed)}, listed on the paper of assumptions"),
    )
    at = y
    for name, value in known:
        lines = cut_to(value, half - 2, SIZE + 0.4, PLAIN)
        _say(canvas, name, left, at, 2.0, PLAIN, palette.QUIET)
        for place, words in enumerate(lines):
            _say(canvas, words, left, at - 3.8 - place * 3.6, SIZE + 0.4)
        at -= 5.6 + 3.6 * len(lines)
    low = _declaration(canvas, (right, y + 3), half, block.date)
    _say(canvas, "Papers", left, at - 2, 3.0, BOLD)
    titles = ["Schematic", *(paper.title for paper in papers)]
    for place, title in enumerate(titles):
        _say(canvas, title, left + (place % 2) * half / 2, at - 7 - (place // 2) * 4.4, 2.5)
    for place, words in enumerate(cut_to(CAUTION, half, SIZE, BOLD)):
        _say(canvas, words, right, low - 6 - place * 3.4, SIZE, BOLD)
    if judged.circuit.assumed:
        for place, words in enumerate(cut_to(ASSUMED_FACE, half, SIZE, BOLD)):
            _say(canvas, words, right, low - 22 - place * 3.4, SIZE, BOLD, _FACE)
    canvas.showPage()


def _declaration(canvas: Any, corner: tuple[float, float], wide: float, date: str) -> float:
    """Fields for a pen; returns how far down they go."""
    x, y = corner
    fields = (*BLANK_FIELDS, "date", "place")
    canvas.setLineWidth(0.2 * MM)
    canvas.setStrokeColor(palette.INK)
    row = 8.6
    for place, name in enumerate(fields):
        low = y - row * (place + 1)
        canvas.rect(x * MM, low * MM, wide * MM, row * MM)
        _say(canvas, name, x + 1.2, low + row - 2.8, 2.0, PLAIN, palette.QUIET)
        if name == "date" and date:
            _say(canvas, date, x + 1.2, low + 1.6, 3.0)
    return y - row * len(fields)


# --- tables --------------------------------------------------------------------------------------------------------


def _table(pages: Pages, paper: str, table: Table) -> None:
    """A table, its head again on every page it goes on to."""
    table = without_empty(table)
    columns = widths(table, pages.wide, SIZE, PAD)
    head = [cut_to(name, width - 2 * PAD, SIZE, BOLD) for name, width in zip(table.columns, columns)]
    head_high = line_height(SIZE) * max(len(lines) for lines in head) + 2 * PAD
    rows = [[cut_to(cell, width - 2 * PAD, SIZE, PLAIN if place else BOLD)
             for place, (cell, width) in enumerate(zip(row, columns))] for row in table.rows]
    least = 5.5 if table.blank else 0.0
    heights = [max(least, line_height(SIZE) * max(len(lines) for lines in row) + 2 * PAD) for row in rows]
    caption = 6.0 + (4.0 if table.assumed else 0.0)
    if pages.left < caption + head_high + (heights[0] if heights else 5) + 4:
        pages.turn(paper)
    _caption(pages, table)
    if rows:
        _head(pages, head, columns, head_high)
    for row, high in zip(rows, heights):
        if pages.left < min(high, 120):
            pages.turn(paper)
            _head(pages, head, columns, head_high)
        _row(pages, table, row, columns, high)
    for note in table.notes:
        _note(pages, paper, note)
    pages.y -= 5


def _caption(pages: Pages, table: Table) -> None:
    y = pages.y

    def draw(canvas: Any) -> None:
        _say(canvas, table.title, EDGE, y - 3.4, 3.0, BOLD)
        if table.assumed:
            _say(canvas, ASSUMED_FACE, EDGE, y - 7.6, 2.3, BOLD, _FACE)

    pages.put(draw)
    pages.y -= 5.2 + (4.4 if table.assumed else 0.0)


def _head(pages: Pages, head: list[list[str]], columns: list[float], high: float) -> None:
    y = pages.y

    def draw(canvas: Any) -> None:
        canvas.setFillColor("#eef1f3")
        canvas.rect(EDGE * MM, (y - high) * MM, sum(columns) * MM, high * MM, stroke=0, fill=1)
        _rule(canvas, y - high, sum(columns), 0.3)
        x = EDGE
        for lines, width in zip(head, columns):
            for place, words in enumerate(lines):
                _say(canvas, words, x + PAD, y - PAD - 0.8 * SIZE - place * line_height(SIZE), SIZE, BOLD)
            x += width

    pages.put(draw)
    pages.y -= high


def _row(pages: Pages, table: Table, row: list[list[str]], columns: list[float], high: float) -> None:
    y = pages.y

    def draw(canvas: Any) -> None:
        x = EDGE
        for name, lines, width in zip(table.columns, row, columns):
            if name in table.blank:
                canvas.setStrokeColor("#8a9199")
                canvas.setLineWidth(0.15 * MM)
                canvas.rect((x + 0.3) * MM, (y - high + 0.4) * MM, (width - 0.6) * MM, (high - 0.8) * MM)
            for place, words in enumerate(lines):
                base = y - PAD - 0.8 * SIZE - place * line_height(SIZE)
                if name in table.numbers:
                    _right(canvas, words, x + width - PAD, base)
                else:
                    _say(canvas, words, x + PAD, base, SIZE, BOLD if x == EDGE else PLAIN)
            x += width
        _rule(canvas, y - high, sum(columns), 0.12)

    pages.put(draw)
    pages.y -= high


def _note(pages: Pages, paper: str, note: str) -> None:
    lines = cut_to(note, min(pages.wide, 200.0), SMALL + 0.15, PLAIN)
    high = line_height(SMALL + 0.15) * len(lines) + 0.9
    if pages.left < high:
        pages.turn(paper)
    y = pages.y

    def draw(canvas: Any) -> None:
        for place, words in enumerate(lines):
            _say(canvas, words, EDGE, y - 2.6 - place * line_height(SMALL + 0.15), SMALL + 0.15, PLAIN, palette.QUIET)

    pages.put(draw)
    pages.y -= high


# --- what is round a page ------------------------------------------------------------------------------------------


def _around(canvas: Any, block: TitleBlock, title: str, size: tuple[float, float], page: str) -> None:
    wide, high = size
    _say(canvas, title, EDGE, high - EDGE - 4.5, TITLE, BOLD)
    _right(canvas, block.title, wide - EDGE, high - EDGE - 2.6, 2.6, BOLD)
    _right(canvas, f"{block.source}, {block.fingerprint}", wide - EDGE, high - EDGE - 6.2, SMALL)
    _rule(canvas, high - EDGE - 8.5, wide - 2 * EDGE, 0.4)
    _rule(canvas, EDGE + 6.5, wide - 2 * EDGE, 0.2)
    _say(canvas, "Predicted or declared as each entry says; not an approval and not a measurement. Local codes and licensed "
         "practice come first.", EDGE, EDGE + 2.8, SMALL)
    _right(canvas, ", ".join(filter(None, (block.tool, page))), wide - EDGE, EDGE + 2.8, SMALL)


def _rule(canvas: Any, y: float, wide: float, weight: float) -> None:
    canvas.setStrokeColor(palette.INK)
    canvas.setLineWidth(weight * MM)
    canvas.line(EDGE * MM, y * MM, (EDGE + wide) * MM, y * MM)


def _say(canvas: Any, words: str, x: float, y: float, size: float, font: str = PLAIN, ink: str = palette.INK) -> None:
    canvas.setFillColor(ink)
    canvas.setFont(font, size * MM)
    canvas.drawString(x * MM, y * MM, words)


def _right(canvas: Any, words: str, x: float, y: float, size: float = SIZE, font: str = PLAIN) -> None:
    canvas.setFillColor(palette.INK)
    canvas.setFont(font, size * MM)
    canvas.drawRightString(x * MM, y * MM, words)
