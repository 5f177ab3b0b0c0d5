"""PDF and PNG from the finished SVG, with fonts that come with a dependency, so that text never goes missing."""

import io
from pathlib import Path
from typing import Any

from circuit.draw import CannotDraw

_FAMILY = "Bitstream Vera Sans"


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
    return bytes(resvg_py.svg_to_bytes(svg_string=picture, font_files=[str(plain), str(bold)], zoom=zoom,
                                       sans_serif_family=_FAMILY, background="#ffffff"))


def pdf(picture: str) -> bytes:
    """A PDF of one page as large as the sheet; the same picture gives the same bytes."""
    drawing = drawing_of(picture)
    from reportlab.graphics import renderPDF
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(drawing.width, drawing.height), invariant=1)
    renderPDF.draw(drawing, canvas, 0, 0)
    canvas.save()
    return out.getvalue()


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
