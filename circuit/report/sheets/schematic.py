"""The schematic on sheets, with frame and title block, as files."""

from circuit.draw.export import png
from circuit.draw.marks import Mark
from circuit.draw.pressure import Reading
from circuit.draw.sheet import fold_onto, sheets, sheets_as_svg
from circuit.report.sheets.origin import block_of
from circuit.report.sheets.revisions import revisions
from circuit.verdict.judge import Verdict


def schematic(verdict: Verdict, target: str, size: str, marks: tuple[Mark, ...] = (), reading: Reading | None = None,
              date: str = "", search: int = 1, earlier: tuple[tuple[str, Verdict], ...] = ()) -> dict[str, bytes]:
    """File name to content. size: A4, A3, Letter or Tabloid. search: see draw.svg. earlier: versions by name, oldest first.

    One .pdf holds all sheets; of .svg and .png further ones have their number before the ending.
    """
    block = block_of(verdict, date)
    if earlier:
        block = block._replace(revisions=revisions((*earlier, ("this", verdict))))
    asked = (fold_onto(verdict.circuit, size, search), block, size, marks, reading)
    stem, _, ending = target.rpartition(".")
    if ending.lower() == "pdf":
        return {target: sheets(*asked)}
    pages = sheets_as_svg(*asked)
    names = (target, *(f"{stem}-{number}.{ending}" for number in range(2, len(pages) + 1)))
    return {name: page.encode() if ending.lower() == "svg" else png(page) for name, page in zip(names, pages)}
