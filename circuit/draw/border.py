"""The frame of a sheet of paper: two lines with fields between them, and centring marks (ISO 5457). Lengths in mm."""

from typing import Any

from circuit.draw import palette
from circuit.draw.block import LEAST, MM
from circuit.draw.export import PLAIN
from circuit.draw.medium import EDGE, LARGE, SIZES, ZONE

_LETTERS = "ABCDEFGHJK"
_CENTRING = 3.0
"""How far a centring mark reaches past the inner line."""


def paper_frame(canvas: Any, size: str) -> None:
    """Two lines round the sheet with zones between them: figures along, letters up."""
    wide, high = SIZES[size]
    inner = EDGE + ZONE
    canvas.setStrokeColor(palette.INK)
    canvas.setFillColor(palette.INK)
    canvas.setLineWidth(0.18 * MM)
    canvas.rect(EDGE * MM, EDGE * MM, (wide - 2 * EDGE) * MM, (high - 2 * EDGE) * MM)
    canvas.setLineWidth(0.5 * MM)
    canvas.rect(inner * MM, inner * MM, (wide - 2 * inner) * MM, (high - 2 * inner) * MM)
    canvas.setLineWidth(0.18 * MM)
    canvas.setFont(PLAIN, LEAST * MM)
    along, up = _fields(size)
    for number in range(along):
        x = inner + (wide - 2 * inner) * number / along
        middle = inner + (wide - 2 * inner) * (number + 0.5) / along
        for y, sign in ((EDGE, 1), (high - EDGE, -1)):
            if number:
                canvas.line(x * MM, y * MM, x * MM, (y + sign * ZONE) * MM)
            canvas.drawCentredString(middle * MM, (y + sign * ZONE / 2 - 0.9) * MM, str(number + 1))
    for number in range(up):
        y = high - inner - (high - 2 * inner) * number / up
        middle = high - inner - (high - 2 * inner) * (number + 0.5) / up
        for x, sign in ((EDGE, 1), (wide - EDGE, -1)):
            if number:
                canvas.line(x * MM, y * MM, (x + sign * ZONE) * MM, y * MM)
            canvas.drawCentredString((x + sign * ZONE / 2) * MM, (middle - 0.9) * MM, _LETTERS[number])
    canvas.setLineWidth(0.7 * MM)
    for x, sign in ((EDGE, 1), (wide - EDGE, -1)):
        canvas.line(x * MM, high / 2 * MM, (x + sign * (ZONE + _CENTRING)) * MM, high / 2 * MM)
    for y, end in ((EDGE, EDGE + ZONE), (high - EDGE, high - EDGE - ZONE - _CENTRING)):  # below is the title block
        canvas.line(wide / 2 * MM, y * MM, wide / 2 * MM, end * MM)


def field_at(size: str, x: float, y: float) -> str:
    """The field of the frame a place is in. x, y: mm from the lower left corner."""
    wide, high = SIZES[size]
    inner = EDGE + ZONE
    along, up = _fields(size)
    column = min(along - 1, max(0, int((x - inner) / (wide - 2 * inner) * along)))
    row = min(up - 1, max(0, int((high - inner - y) / (high - 2 * inner) * up)))
    return f"{_LETTERS[row]}{column + 1}"


def _fields(size: str) -> tuple[int, int]:
    return (8, 6) if SIZES[size][0] > LARGE else (6, 4)
