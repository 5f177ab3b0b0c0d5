"""The title block and the table of revisions of a sheet. Lengths in mm."""

from typing import Any, NamedTuple

from circuit.draw import palette
from circuit.draw.export import BOLD, PLAIN
from circuit.draw.medium import LEAST_MM
from circuit.draw.text import CAPITAL

Box = tuple[float, float, float, float]
"""Left, bottom, width, height."""
MM = 72 / 25.4
LEAST = LEAST_MM / CAPITAL
"""The least size of a letter, mm."""
_TITLE, _FOOT = 10.2, 7.8
"""Heights of the title and of the two rows at the foot."""


class TitleBlock(NamedTuple):
    """What the title block says; what is "" stays a blank field for a pen. standing: of the findings, in words.

    revisions: number, what, date and by of each change known.
    """

    title: str
    vehicle_class: str
    source: str
    standard: str
    tool: str
    fingerprint: str
    standing: str = ""
    date: str = ""
    revisions: tuple[tuple[str, ...], ...] = ()


BLANK_FIELDS = ("vehicle id (VIN)", "builder", "modification", "drawn by", "checked by", "licence no.", "signature")
"""What nobody but a person can fill in."""


def revisions(canvas: Any, box: Box, rows: tuple[tuple[str, ...], ...] = ()) -> None:
    """What was changed, then blank rows for a pen. rows: number, what, date, by."""
    left, bottom, wide, high = box
    head = 4.4
    count = int((high - head) / 5.6)
    row = (high - head) / count
    _words(canvas, "revisions", left + 1, bottom + high - 3.3, LEAST, BOLD)
    canvas.setLineWidth(0.18 * MM)
    shares = ((0.0, "no."), (0.14, "what"), (0.62, "date"), (0.84, "by"))
    for number in range(count):
        y = bottom + high - head - row * number
        canvas.line(left * MM, y * MM, (left + wide) * MM, y * MM)
    for (share, words), (end, _) in zip(shares, (*shares[1:], (1.0, ""))):
        x = left + wide * share
        if share:
            canvas.line(x * MM, bottom * MM, x * MM, (bottom + high - head) * MM)
        _fit(canvas, words, (x + 0.8, bottom + high - head - 3.4, wide * (end - share) - 1.2, LEAST), PLAIN)
    for place, cells in enumerate(rows[-(count - 1):], 1):
        for (share, _), (end, _), cell in zip(shares, (*shares[1:], (1.0, "")), cells):
            _fit(canvas, cell, (left + wide * share + 0.8, bottom + high - head - row * place - 3.4,
                                wide * (end - share) - 1.2, LEAST), PLAIN)


def title_block(canvas: Any, block: TitleBlock, box: Box, number: int, of: int, state: str) -> None:
    """Title, where it is from, what it was held to, and blank fields for a pen: those of ISO 7200 that a design fills."""
    left, bottom, wide, high = box
    _fit(canvas, block.title, (left + 1.5, bottom + high - 5.0, wide * 0.8 - 3, 4.2), BOLD)
    _fit(canvas, f"compressed-air circuit, {block.vehicle_class}" + (f"; {state}" if state else ""),
         (left + 1.5, bottom + high - 9.0, wide * 0.82 - 3, LEAST), PLAIN)
    canvas.setLineWidth(0.18 * MM)
    canvas.line((left + wide * 0.82) * MM, (bottom + high - _TITLE) * MM, (left + wide * 0.82) * MM, (bottom + high) * MM)
    _field(canvas, "sheet", f"{number} of {of}", (left + wide * 0.82, bottom + high - _TITLE, wide * 0.18, _TITLE), 4.0)
    vin, builder, modification, drawn, checked, licence, signature = BLANK_FIELDS
    rows: tuple[tuple[float, tuple[tuple[str, str, float], ...]], ...] = (
        (1.0, ((vin, "", 0.3), (builder, "", 0.26), (modification, "", 0.24), ("date", block.date, 0.2))),
        (1.45, (("standard and edition", block.standard, 1.0),)),
        (1.0, ((drawn, "", 0.24), (checked, "", 0.24), (licence, "", 0.22), (signature, "", 0.3))),
        (1.0, (("design file", block.source, 0.34), ("SHA-256 begins", block.fingerprint, 0.26), ("tool", block.tool, 0.25),
               ("scale", "none", 0.15))),
    )
    unit = (high - _TITLE - _FOOT) / sum(share for share, _ in rows)
    y = bottom + high - _TITLE
    for share_high, fields in rows:
        row = unit * share_high
        canvas.setLineWidth(0.18 * MM)
        canvas.line(left * MM, y * MM, (left + wide) * MM, y * MM)
        y -= row
        x = left
        for name, value, share in fields:
            if x > left:
                canvas.line(x * MM, y * MM, x * MM, (y + row) * MM)
            _field(canvas, name, value, (x, y, wide * share, row), LEAST)
            x += wide * share
    canvas.line(left * MM, y * MM, (left + wide) * MM, y * MM)
    _fit(canvas, block.standing, (left + 1.5, bottom + 4.6, wide - 3, LEAST), BOLD)
    _fit(canvas, "predicted from a drawing: not an approval and not a measurement", (left + 1.5, bottom + 1.3, wide - 3, LEAST),
         BOLD)


def _field(canvas: Any, name: str, value: str, box: Box, size: float) -> None:
    """A heading and under it what is known, on as many lines as there is room for."""
    left, bottom, wide, high = box
    _words(canvas, name, left + 1, bottom + high - 2.75, LEAST, PLAIN, palette.QUIET)
    if not value:
        return
    from reportlab.pdfbase.pdfmetrics import stringWidth

    room = int((high - 3.2) / (1.1 * size)) or 1
    lines = _wrapped(value, lambda words: stringWidth(words, PLAIN, size) <= wide - 1.5)
    lines = [*lines[:room - 1], " ".join(lines[room - 1:])]
    for place, words in enumerate(lines):
        _fit(canvas, words, (left + 1, bottom + high - 3.2 - size * (0.85 + 1.1 * place), wide - 1.5, size), PLAIN)


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
    """One line of text, smaller where it would be too long, and cut where its letters would be too small.

    box: left, base line, width, size.
    """
    from reportlab.pdfbase.pdfmetrics import stringWidth

    left, base, wide, size = box
    size = max(LEAST, min(size, size * wide / max(stringWidth(words, font, size), 0.1)))
    while words and stringWidth(words, font, size) > wide * 1.001:
        words = words[:-4] + "..." if len(words) > 4 else ""
    _words(canvas, words, left, base, size, font)


def _words(canvas: Any, words: str, x: float, y: float, size: float, font: str = PLAIN, ink: str = palette.INK) -> None:
    canvas.setFillColor(ink)
    canvas.setFont(font, size * MM)
    canvas.drawString(x * MM, y * MM, words)
