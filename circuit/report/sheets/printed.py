"""The papers as one PDF: cover, contents, the schematic on its sheets, then every table on pages. Lengths in mm."""

import io
import re
from collections.abc import Callable
from typing import Any

from circuit.draw.block import MM, TitleBlock
from circuit.draw.export import BOLD, know_fonts
from circuit.draw.marks import Mark
from circuit.draw.medium import SIZES
from circuit.draw.sheet import canvas_for, draw_sheets, fold_onto, how_many
from circuit.report.marked import marks_of
from circuit.report.sheets.cover import CONTENTS, COVER, contents, cover
from circuit.report.sheets.origin import block_of
from circuit.report.sheets.pages import EDGE, Pages, put_table, right, rule, say
from circuit.report.sheets.papers import Paper, papers
from circuit.report.sheets.widths import long
from circuit.report.table import as_csv
from circuit.verdict.judge import Verdict

_TITLE, _WHOSE, _FINE = 4.6, 2.6, 2.0
_BEFORE = 2
"""Pages before the schematic."""
SCHEMATIC = "Schematic"
_KEYWORDS = re.compile(rb"/Keywords \(([ -~]*?)\)")


def printed(judged: Verdict, found: tuple[Paper, ...], marks: tuple[Mark, ...] = (), size: str = "A3",
            date: str = "") -> bytes:
    """One PDF with everything. size: of the schematic's sheets; tables are on A4, or Letter beside its sizes."""
    know_fonts()
    block = block_of(judged, date)
    plain = SIZES["A4" if size in ("A4", "A3") else "Letter"]
    pages = Pages(plain)
    for paper in found:
        pages.turn(paper.title)
        for table in paper.tables:
            put_table(pages, paper.title, table)
    folded = fold_onto(judged.circuit, size)
    ahead = _BEFORE + how_many(folded)
    titles = [title for title, _ in pages.done]
    begins = {title: ahead + titles.index(title) + 1 for title in dict.fromkeys(titles)}
    out = io.BytesIO()
    canvas = canvas_for(out, plain, f"{block.title}: papers")
    canvas.setKeywords(" ".join(_names(found)))
    press = _Press(canvas, block, plain, ahead + len(titles))
    press.begin(COVER, 1)
    cover(canvas, judged, block, plain)
    canvas.showPage()
    press.begin(CONTENTS, 2)
    contents(canvas, ((COVER, 1), (SCHEMATIC, _BEFORE + 1), *begins.items()), plain)
    canvas.showPage()
    press.mark(SCHEMATIC)
    draw_sheets(canvas, folded, block, size, marks)
    for number, (title, draws) in enumerate(pages.done, ahead + 1):
        press.begin(title, number, begins[title] != number)
        for draw in draws:
            draw(canvas)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def files(judged: Verdict, size: str = "A3", date: str = "", tell: Callable[[str], None] = lambda words: None
          ) -> dict[str, bytes]:
    """Everything that is handed in: file name to content, one PDF and a CSV file for each table.

    size: of the schematic's sheets. tell: is told what is worked on. Raises draw.CannotDraw where a library is missing.
    """
    found = papers(judged, tell)
    tables = dict(zip(_names(found), (as_csv(table).encode("utf-8") for paper in found for table in paper.tables), strict=True))
    tell("drawing the schematic")
    return {"papers.pdf": printed(judged, found, marks_of(judged), size, date), **tables}


def _names(found: tuple[Paper, ...]) -> list[str]:
    """The CSV files of a set, in their order."""
    return [f"{table.key}.csv" for paper in found for table in paper.tables]


def names_in(pdf: bytes) -> frozenset[str]:
    """The CSV files that were written beside a PDF of papers, as its keywords list them; none of one that lists none."""
    found = _KEYWORDS.search(pdf)
    words = found[1].decode("ascii").split() if found else ()
    return frozenset(word for word in words if word.endswith(".csv") and "/" not in word)


class _Press:
    """What is round every page but the schematic's. of: how many pages there are."""

    def __init__(self, canvas: Any, block: TitleBlock, size: tuple[float, float], of: int) -> None:
        self.canvas, self.block, self.size, self.of = canvas, block, size, of

    def mark(self, title: str) -> None:
        """A place to jump to."""
        self.canvas.bookmarkPage(title)
        self.canvas.addOutlineEntry(title, title)

    def begin(self, title: str, number: int, again: bool = False) -> None:
        """A page with its title, what it is of, and its number. again: it goes on from the page before."""
        canvas, block, (wide, high) = self.canvas, self.block, self.size
        canvas.setPageSize((wide * MM, high * MM))
        if not again:
            self.mark(title)
        say(canvas, title + (", continued" if again else ""), EDGE, high - EDGE - 4.5, _TITLE, BOLD)
        whose = block.title
        room = wide - 2 * EDGE - long(title + ", continued", _TITLE, BOLD) - 6
        while len(whose) > 4 and long(whose, _WHOSE, BOLD) > room:
            whose = whose[:-4] + "..."
        right(canvas, whose, wide - EDGE, high - EDGE - 2.6, _WHOSE, BOLD)
        about = ", ".join(filter(None, (block.source, block.fingerprint, block.date)))
        right(canvas, about, wide - EDGE, high - EDGE - 6.2, _FINE)
        rule(canvas, high - EDGE - 8.5, wide - 2 * EDGE, 0.4)
        rule(canvas, EDGE + 6.5, wide - 2 * EDGE, 0.2)
        say(canvas, "Predicted or declared as each entry says; not an approval and not a measurement. Local codes and "
            "licensed practice come first.", EDGE, EDGE + 2.8, _FINE)
        right(canvas, f"{block.tool}, page {number} of {self.of}", wide - EDGE, EDGE + 2.8, _FINE)
