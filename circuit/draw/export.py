"""PDF and PNG from the finished SVG, with fonts that come with a dependency, so that text never goes missing."""

import io
from pathlib import Path
from typing import Any

from circuit.draw.cannot import CannotDraw

_FAMILY = "Bitstream Vera Sans"
PLAIN, BOLD = "Sheet", "Sheet-Bold"
"""The two typefaces by the names they have in a PDF's making."""


def fonts() -> tuple[Path, Path]:
    """The two font files, plain and bold."""
    try:
        import reportlab
    except ImportError:
        raise CannotDraw("PDF and PNG need the package reportlab: pip install reportlab") from None
    folder = Path(reportlab.__file__).parent / "fonts"
    plain, bold = folder / "Vera.ttf", folder / "VeraBd.ttf"
    if not plain.is_file() or not bold.is_file():
        raise CannotDraw("the fonts that come with reportlab are missing: pip install --force-reinstall reportlab")
    return plain, bold


def png(picture: str, zoom: float = 2.0) -> bytes:
    """A PNG. zoom: dots for each px of the SVG."""
    plain, bold = fonts()
    try:
        import resvg_py
    except ImportError:
        raise CannotDraw("PNG needs the package resvg-py: pip install resvg-py") from None
    return bytes(resvg_py.svg_to_bytes(svg_string=picture, font_files=[str(plain), str(bold)], zoom=zoom, dpi=96,
                                       sans_serif_family=_FAMILY, background="#ffffff"))


def pdf(picture: str) -> bytes:
    """A PDF of one page as large as the sheet; the same picture gives the same bytes."""
    drawing = drawing_of(picture)
    know_fonts()
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(drawing.width, drawing.height), invariant=1, initialFontName=PLAIN)
    draw_on(canvas, drawing)
    canvas.save()
    return out.getvalue()


def know_fonts() -> None:
    """Make the two typefaces known to reportlab as PLAIN and BOLD. Raises CannotDraw without them."""
    plain, bold = fonts()
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    pdfmetrics.registerFont(TTFont(PLAIN, str(plain)))
    pdfmetrics.registerFont(TTFont(BOLD, str(bold)))


def draw_on(canvas: Any, drawing: Any) -> None:
    """A drawing at the canvas's origin. The renderer names a typeface of its own before any text, which no reader may
    have and which a file with embedded faces must not name: for this while it is ours."""
    from reportlab.graphics import renderbase, renderPDF

    before = renderbase.STATE_DEFAULTS["fontName"]
    renderbase.STATE_DEFAULTS["fontName"] = PLAIN
    try:
        renderPDF.draw(drawing, canvas, 0, 0)
    finally:
        renderbase.STATE_DEFAULTS["fontName"] = before


def drawing_of(picture: str) -> Any:
    """SVG text as a drawing of reportlab's, with the two fonts known to it."""
    plain, bold = fonts()
    try:
        from svglib.fonts import register_font
        from svglib.svglib import svg2rlg
    except ImportError:
        raise CannotDraw("PDF needs the packages svglib and reportlab: pip install svglib reportlab") from None
    register_font(_FAMILY, str(plain))
    register_font(_FAMILY, str(bold), weight="bold")
    drawing = svg2rlg(io.StringIO(picture))
    if drawing is None:
        raise CannotDraw("svglib could not read the drawing: pip install --upgrade svglib")
    return drawing
