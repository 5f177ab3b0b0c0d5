"""Tables laid out on pages: heads again on every page, no table torn that fits on one. Lengths in mm."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from circuit.draw import palette
from circuit.draw.block import MM
from circuit.draw.export import BOLD, PLAIN
from circuit.report.folded import folded
from circuit.report.sheets.widths import AFTER, PAD, cut_to, line_height, long, widths
from circuit.report.table import ASSUMED_FACE, Table

EDGE, HEAD, FOOT = 12.0, 15.0, 12.0
SIZE, SMALL, PROSE = 2.35, 2.15, 2.8
PEN_ROW = 5.5
"""Least height of a row with a field for a pen."""
FACE = "#7a5200"
_SHADE, _FAINT = "#eef1f3", "#9aa1a9"
_TALL = 120.0
"""A row that is higher may begin anywhere."""

Draw = Callable[[Any], None]


@dataclass
class Pages:
    """Pages being filled from the top. done: for each, its title and what is drawn on it."""

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

    @property
    def whole(self) -> float:
        """How much an empty page has."""
        return self.size[1] - 2 * EDGE - HEAD - FOOT

    def put(self, draw: Draw, high: float) -> None:
        """Draws at the top of what is left, and goes down."""
        self.done[-1][1].append(draw)
        self.y -= high


def put_table(pages: Pages, paper: str, table: Table) -> None:
    """A table below what is there; on a page of its own where it fits there and not here."""
    laid = _Laid(table, pages.wide)
    caption = _caption_height(table, paper)
    size = SMALL if table.rows else PROSE
    notes = [cut_to(note, min(pages.wide, 230.0), size, PLAIN) for note in table.notes]
    under = sum(_note_height(lines, size) for lines in notes)
    high = caption + laid.height + under
    first = caption + laid.head_high + (laid.groups[0].first if laid.groups else 5)
    if pages.left < first or pages.left < high <= pages.whole:
        pages.turn(paper)
    _caption(pages, table, paper, caption)
    if laid.groups:
        _put_head(pages, laid)
    for group in laid.groups:
        last = under if group is laid.groups[-1] and len(group.rows) == 1 else 0.0
        if pages.left < min(group.first + last, _TALL):
            pages.turn(paper)
            _put_head(pages, laid)
        _put_band(pages, laid, group, False)
        for row, row_high in zip(group.rows, group.heights):
            with_notes = under if row is group.rows[-1] and group is laid.groups[-1] else 0.0
            if pages.left < min(row_high + with_notes, _TALL):
                pages.turn(paper)
                _put_head(pages, laid)
                _put_band(pages, laid, group, True)
            _put_row(pages, laid, row, row_high)
    for lines in notes:
        if pages.left < _note_height(lines, size):
            pages.turn(paper)
        _put_note(pages, lines, size)
    pages.y -= 5


# --- measured ------------------------------------------------------------------------------------------------------

Lines = list[str]


@dataclass
class _Group:
    """What is said above some rows, and the rows, each cell in lines. label: the first cell above; rest: the others."""

    label: str
    rest: Lines
    rows: list[list[Lines]]
    heights: list[float]
    band_high: float

    @property
    def first(self) -> float:
        """Height of the band with its first row, which stay together."""
        return self.band_high + self.heights[0]


class _Laid:
    """A table with its columns and rows measured."""

    def __init__(self, table: Table, wide: float) -> None:
        shown, groups = folded(table)
        self.table = shown
        self.columns = widths(shown, wide, SIZE)
        self.fonts = [PLAIN if place or name in shown.wide else BOLD for place, name in enumerate(shown.columns)]
        self.head = [_cells(name, width, BOLD) for name, width in zip(shown.columns, self.columns)]
        self.cautions = [line for each in table.cautions for line in cut_to(f"! {each}", min(wide, 230.0), SIZE, BOLD)]
        self.cautions_high = line_height(SIZE) * len(self.cautions) + (2 * PAD if self.cautions else 0.0)
        self.head_high = line_height(SIZE) * max(map(len, self.head)) + 2 * PAD + self.cautions_high
        self.groups = [self._group(cells, rows, wide) for cells, rows in groups]

    def _group(self, cells: tuple[str, ...], rows: tuple[tuple[str, ...], ...], wide: float) -> _Group:
        label, rest, high = "", [""], 0.0
        if cells:
            label = cells[0]
            room = max(wide - long(label, SIZE, BOLD) - 4 - 2 * PAD, 60.0)
            rest = cut_to(" \u00b7 ".join(filter(None, cells[1:])), room, SIZE, PLAIN)
            high = line_height(SIZE) * len(rest) + 2 * PAD + 0.8
        laid = [[_cells(cell, width, font) for cell, width, font in zip(row, self.columns, self.fonts)] for row in rows]
        least = PEN_ROW if self.table.blank else 0.0
        heights = [max(least, line_height(SIZE) * max(map(len, row)) + 2 * PAD) for row in laid]
        return _Group(label, rest, laid, heights, high)

    @property
    def height(self) -> float:
        rows = sum(group.band_high + sum(group.heights) for group in self.groups)
        return (self.head_high if self.groups else 0.0) + rows


def _cells(words: str, width: float, font: str) -> Lines:
    return cut_to(words, width - 2 * PAD, SIZE, font)


def _title(table: Table, paper: str) -> str:
    """A table's title without what its paper's says already."""
    rest = table.title.removeprefix(paper).removeprefix(": ")
    return rest[:1].upper() + rest[1:]


def _caption_height(table: Table, paper: str) -> float:
    return (5.2 if _title(table, paper) else 0.0) + (4.4 if table.assumed else 0.0)


def _note_height(lines: Lines, size: float) -> float:
    return line_height(size) * len(lines) + 0.9


# --- drawn ---------------------------------------------------------------------------------------------------------


def _caption(pages: Pages, table: Table, paper: str, high: float) -> None:
    y = pages.y
    title = _title(table, paper)

    def draw(canvas: Any) -> None:
        say(canvas, title, EDGE, y - 3.4, 3.0, BOLD)
        if table.assumed:
            say(canvas, ASSUMED_FACE, EDGE, y - (7.6 if title else 2.6), 2.3, BOLD, FACE)

    pages.put(draw, high)


def _put_head(pages: Pages, laid: _Laid) -> None:
    above, high, wide = laid.cautions_high, laid.head_high - laid.cautions_high, sum(laid.columns)
    top, y = pages.y, pages.y - above

    def draw(canvas: Any) -> None:
        for place, words in enumerate(laid.cautions):
            say(canvas, words, EDGE, top - PAD - 0.8 * SIZE - place * line_height(SIZE), SIZE, BOLD)
        shade(canvas, y - high, wide, high)
        rule(canvas, y - high, wide, 0.3)
        x = EDGE
        for name, lines, width in zip(laid.table.columns, laid.head, laid.columns):
            _cell(canvas, lines, x, y, width, name in laid.table.numbers, BOLD)
            x += width

    pages.put(draw, above + high)


def _put_band(pages: Pages, laid: _Laid, group: _Group, again: bool) -> None:
    if not group.label:
        return
    y, wide = pages.y, sum(laid.columns)

    def draw(canvas: Any) -> None:
        base = y - PAD - 0.8 - 0.8 * SIZE
        say(canvas, group.label, EDGE + PAD, base, SIZE, BOLD)
        left = EDGE + PAD + long(group.label, SIZE, BOLD) + 4
        for place, words in enumerate(group.rest):
            more = ", continued" if again and place == len(group.rest) - 1 else ""
            said = words + more if words else more.removeprefix(", ")
            say(canvas, said, left, base - place * line_height(SIZE), SIZE)
        rule(canvas, y, wide, 0.25)

    pages.put(draw, group.band_high)


def _put_row(pages: Pages, laid: _Laid, row: list[Lines], high: float) -> None:
    y, table = pages.y, laid.table
    spare = (high - line_height(SIZE) * max(map(len, row)) - 2 * PAD) / 2

    def draw(canvas: Any) -> None:
        x = EDGE
        for name, lines, width, font in zip(table.columns, row, laid.columns, laid.fonts):
            if name in table.blank:
                canvas.setStrokeColor(palette.INK)
                canvas.setLineWidth(0.12 * MM)
                for side in (x, x + width):
                    canvas.line(side * MM, y * MM, side * MM, (y - high) * MM)
            _cell(canvas, lines, x, y - spare, width, name in table.numbers, font)
            x += width
        rule(canvas, y - high, sum(laid.columns), 0.12, _FAINT if not table.blank else palette.INK)

    pages.put(draw, high)


def _cell(canvas: Any, lines: Lines, x: float, y: float, width: float, number: bool, font: str) -> None:
    for place, words in enumerate(lines):
        base = y - PAD - 0.8 * SIZE - place * line_height(SIZE)
        if number:
            right(canvas, words, x + width - PAD - AFTER, base, SIZE, font)
        else:
            say(canvas, words, x + PAD, base, SIZE, font)


def _put_note(pages: Pages, lines: Lines, size: float) -> None:
    y, ink = pages.y, palette.QUIET if size == SMALL else palette.INK

    def draw(canvas: Any) -> None:
        for place, words in enumerate(lines):
            say(canvas, words, EDGE, y - 1.3 * size - place * line_height(size), size, PLAIN, ink)

    pages.put(draw, _note_height(lines, size))


def rule(canvas: Any, y: float, wide: float, weight: float, ink: str = palette.INK, x: float = EDGE) -> None:
    canvas.setStrokeColor(ink)
    canvas.setLineWidth(weight * MM)
    canvas.line(x * MM, y * MM, (x + wide) * MM, y * MM)


def shade(canvas: Any, y: float, wide: float, high: float) -> None:
    canvas.setFillColor(_SHADE)
    canvas.rect(EDGE * MM, y * MM, wide * MM, high * MM, stroke=0, fill=1)


def say(canvas: Any, words: str, x: float, y: float, size: float, font: str = PLAIN, ink: str = palette.INK) -> None:
    canvas.setFillColor(ink)
    canvas.setFont(font, size * MM)
    canvas.drawString(x * MM, y * MM, words)


def right(canvas: Any, words: str, x: float, y: float, size: float = SIZE, font: str = PLAIN) -> None:
    canvas.setFillColor(palette.INK)
    canvas.setFont(font, size * MM)
    canvas.drawRightString(x * MM, y * MM, words)
