"""The first two pages: the declaration to sign, and what the papers hold. Lengths in mm."""

from typing import Any

from circuit.draw import palette
from circuit.draw.block import BLANK_FIELDS, MM, TitleBlock
from circuit.draw.export import BOLD, PLAIN
from circuit.report.sheets.cautions import CAUTIONS
from circuit.report.sheets.clause_sheet import tally
from circuit.report.sheets.origin import standards
from circuit.report.sheets.pages import EDGE, FACE, HEAD, SIZE, right, rule, say
from circuit.report.sheets.widths import cut_to
from circuit.report.table import ASSUMED_FACE
from circuit.report.words import CAUTION
from circuit.verdict.judge import Verdict

COVER, CONTENTS = "Cover and declaration", "Contents and cautions"
_TEXT = SIZE + 0.4
_STEP = 3.6
_NAME = 8.0


def cover(canvas: Any, judged: Verdict, block: TitleBlock, size: tuple[float, float]) -> None:
    """What the design is and was held to, what came of it, and fields for a pen."""
    wide, high = size
    y = high - EDGE - HEAD - 9
    for words in cut_to(block.title, wide - 2 * EDGE, _NAME, BOLD):
        say(canvas, words, EDGE, y, _NAME, BOLD)
        y -= 1.2 * _NAME
    y += 1.2 * _NAME
    say(canvas, f"Compressed-air circuit, {block.vehicle_class}", EDGE, y - 6, 3.2)
    half = (wide - 2 * EDGE - 8) / 2
    y -= 16
    at = y
    for name, value in _known(judged, block):
        say(canvas, name, EDGE, at, 2.0, PLAIN, palette.QUIET)
        lines = [line for part in value.split("\n") for line in cut_to(part, half - 2, _TEXT, PLAIN)]
        for place, words in enumerate(lines):
            say(canvas, words, EDGE, at - 3.8 - place * _STEP, _TEXT)
        at -= 5.6 + _STEP * len(lines)
    x = EDGE + half + 8
    low = _declaration(canvas, (x, y + 3), half, block.date) - 6
    for text, ink in ((CAUTION, palette.INK), *(((ASSUMED_FACE, FACE),) if judged.circuit.assumed else ())):
        for words in cut_to(text, half, SIZE, BOLD):
            say(canvas, words, x, low, SIZE, BOLD, ink)
            low -= 3.4
        low -= 3


def _known(judged: Verdict, block: TitleBlock) -> tuple[tuple[str, str], ...]:
    more = len({source.name for source in judged.circuit.files} - {block.source})
    results = [_counts(judged)] if not judged.vehicles else [
        f"{name}: {_counts(own)}" for name, own in (("together", judged), *judged.vehicles)]
    return (
        ("standard and edition", standards(judged)),
        ("design file", block.source + (f", and {more} that it uses" if more else "")),
        ("SHA-256 of the design files begins", block.fingerprint), ("tool", block.tool), ("outcome", block.standing),
        ("rows of the clause coverage", "\n".join(results)),
        ("values assumed", f"{len(judged.circuit.assumed)}, listed on the paper of assumptions"),
    )


def _counts(judged: Verdict) -> str:
    return ", ".join(f"{outcome}: {number}" for outcome, number in tally(judged).items() if number)


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
        say(canvas, name, x + 1.2, low + row - 2.8, 2.0, PLAIN, palette.QUIET)
        if name == "date" and date:
            say(canvas, date, x + 1.2, low + 1.6, 3.0)
    return y - row * len(fields)


def contents(canvas: Any, papers: tuple[tuple[str, int], ...], size: tuple[float, float]) -> None:
    """Every paper with its page at the left, the cautions at the right."""
    wide, high = size
    y = high - EDGE - HEAD - 4
    column = 84.0
    say(canvas, "Papers", EDGE, y, 3.0, BOLD)
    for place, (title, page) in enumerate(papers, 1):
        line = y - 2 - place * 6.2
        say(canvas, title, EDGE, line, 2.8)
        right(canvas, str(page), EDGE + column, line, 2.8)
        rule(canvas, line - 1.6, column, 0.1, "#9aa1a9")
    x = EDGE + column + 14
    say(canvas, "Cautions", x, y, 3.0, BOLD)
    line = y - 8.2
    for number, caution in enumerate(CAUTIONS, 1):
        right(canvas, f"{number}", x + 4, line, 2.8, BOLD)
        for words in cut_to(caution, wide - EDGE - x - 8, 2.8, PLAIN):
            say(canvas, words, x + 7, line, 2.8)
            line -= 4.2
        line -= 2.2
