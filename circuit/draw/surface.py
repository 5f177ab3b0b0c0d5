"""Sheets as SVG: what a PDF canvas is told, taken down as one SVG text for each page.

Takes the calls of a reportlab canvas that drawing a sheet needs: points from the lower left corner in; mm from the upper
left out. Units beyond that are never asked for.
"""

from typing import NamedTuple

from circuit.draw.export import BOLD
from circuit.draw.glyphs import escape, px
from circuit.draw.text import FAMILY

POINTS = 72 / 25.4
"""In a mm."""


class Rectangle(NamedTuple):
    """Lower left corner, width and height, points."""

    x: float
    y: float
    wide: float
    high: float


class Path:
    """A polygon, or one rectangle to clip by; points."""

    def __init__(self) -> None:
        self.points: list[tuple[float, float]] = []
        self.box: Rectangle | None = None

    def rect(self, x: float, y: float, wide: float, high: float) -> None:
        self.box = Rectangle(x, y, wide, high)

    def moveTo(self, x: float, y: float) -> None:  # noqa: N802 - the names of reportlab's canvas
        self.points = [(x, y)]

    def lineTo(self, x: float, y: float) -> None:  # noqa: N802
        self.points.append((x, y))

    def close(self) -> None:
        """A polygon closes by itself."""


class Surface:
    """Pages of SVG. title: for each page's `<title>`. done: the finished pages."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.done: list[str] = []
        self.rows: list[str] = []
        self.size = (0.0, 0.0)
        self.ink, self.fill, self.weight = "#000000", "#000000", 1.0
        self.font, self.letters = "", 10.0
        self.open: list[int] = []
        self.clips = 0

    # --- the page ---

    def setPageSize(self, size: tuple[float, float]) -> None:  # noqa: N802
        self.size = size

    def showPage(self) -> None:  # noqa: N802
        """Finish a page."""
        wide, high = (_mm(side) for side in self.size)
        self.done.append(
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{wide}mm" '
            f'height="{high}mm" viewBox="0 0 {wide} {high}" font-family="{FAMILY}">\n<title>{escape(self.title)}</title>\n'
            f'<rect width="{wide}" height="{high}" fill="#ffffff"/>\n' + "\n".join(self.rows) + "\n</svg>\n")
        self.rows = []

    def saveState(self) -> None:  # noqa: N802
        self.open.append(0)

    def restoreState(self) -> None:  # noqa: N802
        self.rows.append("</g>" * self.open.pop())

    # --- how it is drawn ---

    def setStrokeColor(self, ink: str) -> None:  # noqa: N802
        self.ink = ink

    def setFillColor(self, ink: str) -> None:  # noqa: N802
        self.fill = ink

    def setLineWidth(self, weight: float) -> None:  # noqa: N802
        self.weight = weight

    def setDash(self) -> None:  # noqa: N802
        """Lines of a sheet's own are whole."""

    def setFont(self, font: str, size: float) -> None:  # noqa: N802
        self.font, self.letters = font, size

    # --- what is drawn ---

    def line(self, x0: float, y0: float, x1: float, y1: float) -> None:
        self.rows.append(f'<path d="M{_mm(x0)} {self._y(y0)}L{_mm(x1)} {self._y(y1)}" fill="none" {self._stroke()}/>')

    def rect(self, x: float, y: float, wide: float, high: float) -> None:
        self.rows.append(f'<rect {self._box(Rectangle(x, y, wide, high))} fill="none" {self._stroke()}/>')

    def beginPath(self) -> Path:  # noqa: N802
        return Path()

    def drawPath(self, path: Path, stroke: int = 0, fill: int = 1) -> None:  # noqa: N802
        points = " ".join(f"{_mm(x)},{self._y(y)}" for x, y in path.points)
        self.rows.append(f'<polygon points="{points}" fill="{self.fill if fill else "none"}"/>')

    def clipPath(self, path: Path, stroke: int = 0, fill: int = 0) -> None:  # noqa: N802
        """What follows is cut to a rectangle, until the state is restored."""
        assert path.box is not None
        self.clips += 1
        name = f"window-{self.clips}"
        self.rows.append(f'<clipPath id="{name}"><rect {self._box(path.box)}/></clipPath><g clip-path="url(#{name})">')
        self.open[-1] += 1

    def drawString(self, x: float, y: float, words: str) -> None:  # noqa: N802
        self._words(x, y, words, "start")

    def drawRightString(self, x: float, y: float, words: str) -> None:  # noqa: N802
        self._words(x, y, words, "end")

    def drawCentredString(self, x: float, y: float, words: str) -> None:  # noqa: N802
        self._words(x, y, words, "middle")

    def embed(self, symbols: list[str], rows: list[str], move: tuple[float, float], extent: tuple[float, float],
              at: tuple[float, float, float], ink: str) -> None:
        """Rows of SVG as they are. move, extent: U. at: left and bottom in mm, and mm for each U; a U is 10 px."""
        left, bottom, scale = at
        top = self.size[1] / POINTS - bottom - extent[1] * scale
        self.rows.append(
            f'<defs>{"".join(symbols)}</defs><g fill="{ink}" transform="translate({left:.3f} {top:.3f}) '
            f'scale({scale / 10:.5f}) translate({px(move[0])} {px(move[1])})">{"".join(filter(None, rows))}</g>')

    def _words(self, x: float, y: float, words: str, anchor: str) -> None:
        weight = ' font-weight="bold"' if self.font == BOLD else ""
        self.rows.append(f'<text x="{_mm(x)}" y="{self._y(y)}" font-size="{_mm(self.letters)}" fill="{self.fill}" '
                         f'text-anchor="{anchor}"{weight}>{escape(words)}</text>')

    def _y(self, y: float) -> str:
        return _mm(self.size[1] - y)

    def _box(self, box: Rectangle) -> str:
        return f'x="{_mm(box.x)}" y="{self._y(box.y + box.high)}" width="{_mm(box.wide)}" height="{_mm(box.high)}"'

    def _stroke(self) -> str:
        return f'stroke="{self.ink}" stroke-width="{_mm(self.weight)}"'


def _mm(points: float) -> str:
    return f"{points / POINTS:.3f}".rstrip("0").rstrip(".")
