"""The title block and the table of revisions of a sheet. Lengths in mm."""

from typing import Any

from circuit.draw import palette
from circuit.draw.export import BOLD, PLAIN
from circuit.draw.sheet import BLANK_FIELDS, MM, TitleBlock

Box = tuple[float, float, float, float]
"""Left, bottom, width, height."""


def revisions(canvas: Any, box: Box) -> None:
    """Blank rows for what is changed later."""
    left, bottom, wide, high = box
    head, row = 4.0, (high - 4.0) / 6
    _words(canvas, "revisions", left + 1, bottom + high - 2.9, 1.9, BOLD)
    canvas.setLineWidth(0.18 * MM)
    shares = ((0.0, "no."), (0.16, "what"), (0.62, "date"), (0.82, "by"))
    for number in range(6):
        y = bottom + high - head - row * number
        canvas.line(left * MM, y * MM, (left + wide) * MM, y * MM)
    for share, words in shares:
        x = left + wide * share
        if share:
            canvas.line(x * MM, bottom * MM, x * MM, (bottom + high - head) * MM)
        _words(canvas, words, x + 0.8, bottom + high - head - 2.4, 1.6)


def title_block(canvas: Any, block: TitleBlock, box: Box, number: int, of: int, state: str) -> None:
    """Title, where it is from, what it was held to, and blank fields for a pen."""
    left, bottom, wide, high = box
    title_high, foot = 9.0, 4.2
    rows = 4
    row = (high - title_high - foot) / rows
    _fit(canvas, block.title, (left + 1.5, bottom + high - 4.6, wide * 0.78 - 3, 3.6), BOLD)
    _fit(canvas, f"compressed-air circuit, {block.vehicle_class}" + (f"; {state}" if state else ""),
         (left + 1.5, bottom + high - 7.9, wide * 0.78 - 3, 2.1), PLAIN)
    canvas.setLineWidth(0.18 * MM)
    canvas.line((left + wide * 0.8) * MM, (bottom + high - title_high) * MM, (left + wide * 0.8) * MM, (bottom + high) * MM)
    _field(canvas, "sheet", f"{number} of {of}", (left + wide * 0.8, bottom + high - title_high, wide * 0.2, title_high), 3.2)
    vin, builder, modification, drawn, checked, licence, signature = BLANK_FIELDS
    grid: tuple[tuple[tuple[str, str, float], ...], ...] = (
        ((vin, "", 0.36), (builder, "", 0.36), ("date", block.date, 0.28)),
        (("standard and edition", block.standard, 0.64), (modification, "", 0.36)),
        ((drawn, "", 0.25), (checked, "", 0.25), (licence, "", 0.2), (signature, "", 0.3)),
        (("design file", block.source, 0.36), ("SHA-256 begins", block.fingerprint, 0.26), ("tool", block.tool, 0.18),
         ("scale", "none", 0.2)),
    )
    y = bottom + high - title_high
    for fields in grid:
        canvas.setLineWidth(0.18 * MM)
        canvas.line(left * MM, y * MM, (left + wide) * MM, y * MM)
        y -= row
        x = left
        for name, value, share in fields:
            if x > left:
                canvas.line(x * MM, y * MM, x * MM, (y + row) * MM)
            _field(canvas, name, value, (x, y, wide * share, row))
            x += wide * share
    canvas.line(left * MM, y * MM, (left + wide) * MM, y * MM)
    standing = f"{block.standing}; " if block.standing else ""
    _fit(canvas, f"{standing}predicted from a drawing: not an approval and not a measurement",
         (left + 1.5, bottom + 1.3, wide - 3, 1.9), BOLD)


def _field(canvas: Any, name: str, value: str, box: Box, size: float = 2.2) -> None:
    """A small heading and under it what is known, on as many lines as fit."""
    left, bottom, wide, high = box
    _words(canvas, name, left + 1, bottom + high - 2.2, 1.5, PLAIN, palette.QUIET)
    if not value:
        return
    from reportlab.pdfbase.pdfmetrics import stringWidth

    while size > 1.3:
        lines = _wrapped(value, lambda words: stringWidth(words, PLAIN, size) <= wide - 2)
        if len(lines) * size * 1.15 <= high - 2.6 and all(stringWidth(w, PLAIN, size) <= wide - 2 for w in lines):
            break
        size -= 0.1
    for place, words in enumerate(lines):
        _words(canvas, words, left + 1, bottom + high - 2.6 - size * (0.9 + 1.15 * place), size)


def _wrapped(text: str, fits: Any) -> list[str]:
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and not fits(longer):
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _fit(canvas: Any, words: str, box: Box, font: str) -> None:
    """One line of text, smaller where it would be too long; box: left, base line, width, size."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    left, base, wide, size = box
    size = max(1.2, min(size, size * wide / max(stringWidth(words, font, size), 0.1)))
    while words and stringWidth(words, font, size) > wide * 1.001:
        words = words[:-4] + "..." if len(words) > 4 else ""
    _words(canvas, words, left, base, size, font)


def _words(canvas: Any, words: str, x: float, y: float, size: float, font: str = PLAIN, ink: str = palette.INK) -> None:
    canvas.setFillColor(ink)
    canvas.setFont(font, size * MM)
    canvas.drawString(x * MM, y * MM, words)
