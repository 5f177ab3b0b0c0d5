"""A page of a course as PDF: headings, sentences, lists, rows of a design or a terminal, one picture."""

import io
import re
from collections.abc import Iterator
from typing import Any

from circuit.draw.export import BOLD, PLAIN, drawing_of, know_fonts

MM = 72 / 25.4
EDGE = 18 * MM
WIDE, HIGH = 210 * MM, 297 * MM
FIXED = "Courier"
LEAST = 6.8
"""Points of the smallest row of a terminal; a longer row is broken."""


def printed(page: str, picture: str = "") -> bytes:
    """The PDF of a Markdown page. picture: the SVG that stands where the page has one."""
    from reportlab.platypus import SimpleDocTemplate

    know_fonts()
    out = io.BytesIO()
    title = page.split("\n", 1)[0].lstrip("# ")
    paper = SimpleDocTemplate(out, pagesize=(WIDE, HIGH), leftMargin=EDGE, rightMargin=EDGE, topMargin=EDGE, bottomMargin=EDGE,
                              title=title, author="Airwright", invariant=1)

    def foot(canvas: Any, _: Any) -> None:
        canvas.setFont(PLAIN, 7)
        canvas.drawString(EDGE, 10 * MM, f"{title}. Predicted; no approval. Local code and licensed practice come first.")
        canvas.drawRightString(WIDE - EDGE, 10 * MM, f"page {canvas.getPageNumber()}")

    paper.build(list(_flow(page, picture)), onFirstPage=foot, onLaterPages=foot)
    return out.getvalue()


def _flow(page: str, picture: str) -> Iterator[Any]:
    """What stands below each other."""
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import HRFlowable, KeepTogether, PageBreak, Paragraph, Preformatted, Spacer

    text = ParagraphStyle("text", fontName=PLAIN, fontSize=10, leading=13.5, spaceAfter=4)
    before = ParagraphStyle("before", text, keepWithNext=1)
    heads = {"# ": ParagraphStyle("title", text, fontName=BOLD, fontSize=17, leading=21, spaceAfter=8),
             "## ": ParagraphStyle("head", text, fontName=BOLD, fontSize=12, leading=15, spaceBefore=9, spaceAfter=4,
                                   keepWithNext=1)}
    item = ParagraphStyle("item", text, leftIndent=14, bulletIndent=2, spaceAfter=2)
    parts = blocks(page)
    for block, after in zip(parts, [*parts[1:], [""]]):
        first = block[0]
        mark = next((m for m in heads if first.startswith(m)), "")
        if mark:
            if mark == "# " and block is not parts[0]:
                yield PageBreak()
            yield Paragraph(_rich(first[len(mark):]), heads[mark])
        elif first.startswith("```"):
            rows = [part for row in block[1:-1] for part in broken(row)]
            longest = max(map(len, rows), default=1)
            size = min(8.5, (WIDE - 2 * EDGE - 12) / (0.6 * longest))
            style = ParagraphStyle("rows", fontName=FIXED, fontSize=size, leading=size * 1.22, backColor="#f0f2f5",
                                   borderPadding=4, spaceBefore=3, spaceAfter=8, leftIndent=4)
            yield KeepTogether([Preformatted("\n".join(map(_latin, rows)), style)])
        elif first.startswith("!["):
            if picture:
                yield _fitted(picture)
                yield Spacer(1, 4)
        elif first == "---":
            yield HRFlowable(width="100%", thickness=0.4, spaceBefore=8, spaceAfter=4)
        elif re.match(r"- |\d+\. ", first):
            bullet, _, words = first.partition(" ")
            yield Paragraph(_rich(" ".join([words, *block[1:]])), item, bulletText="\u2022" if bullet == "-" else bullet)
        else:
            yield Paragraph(_rich(" ".join(block)), before if after[0].startswith("```") else text)


def blocks(page: str) -> list[list[str]]:
    """The page's parts, each with its rows; those of a terminal keep theirs.

    >>> blocks("# A\\n\\nb\\nc\\n\\n- d\\n- e\\n")
    [['# A'], ['b', 'c'], ['- d'], ['- e']]
    """
    found: list[list[str]] = []
    fenced = opened = False
    for row in page.rstrip("\n").split("\n"):
        if row.startswith("```"):
            fenced = not fenced
            if fenced:
                found.append([row])
            else:
                found[-1].append(row)
            opened = False
        elif fenced:
            found[-1].append(row)
        elif not row.strip():
            opened = False
        elif opened and not re.match(r"- |\d+\. |#|!\[", row):
            found[-1].append(row.strip())
        else:
            found.append([row])
            opened = True
    return found


def broken(row: str, most: int = 0) -> list[str]:
    """A row of a terminal in pieces that fit the page at the smallest letter."""
    most = most or int((WIDE - 2 * EDGE - 12) / (0.6 * LEAST))
    if len(row) <= most:
        return [row]
    place = row.rfind(" ", 0, most)
    place = place if place > most // 2 else most
    return [row[:place], *broken("    " + row[place:].strip(), most)]


def _latin(row: str) -> str:
    """Letters that the fixed face has."""
    return row.replace("\u00b7", "-").encode("latin-1", "replace").decode("latin-1")


def _rich(words: str) -> str:
    """Bold and code of Markdown as the paper's own marks."""
    words = words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    words = re.sub(r"`([^`]*)`", rf'<font face="{FIXED}">\1</font>', words)
    return re.sub(r"\*\*([^*]*)\*\*", rf'<font face="{BOLD}">\1</font>', words)


def _fitted(picture: str) -> Any:
    """The picture as wide as the page, and no higher than two fifths of it."""
    drawing = drawing_of(picture)
    share = min((WIDE - 2 * EDGE) / drawing.width, 0.42 * HIGH / drawing.height, 1.0)
    drawing.scale(share, share)
    drawing.width, drawing.height = drawing.width * share, drawing.height * share
    return drawing
