"""The rows of the tables in an output: of CSV, of a page, of a terminal's text. Cells that hold nothing are left out, for a
terminal's text does not show where they are."""

import csv
import io
import re
from html.parser import HTMLParser
from itertools import takewhile

Rows = list[tuple[str, ...]]
_CELLS = re.compile(r"\S+(?: \S+)*")
_DASHES = re.compile(r"-{8,}$")


def csv_records(text: str) -> dict[str, list[dict[str, str]]]:
    """By the key of a table, of CSV with a first column `table`, its rows by column."""
    found: dict[str, list[dict[str, str]]] = {}
    heads: list[str] = []
    for row in csv.reader(io.StringIO(text)):
        if row[:1] == ["table"]:
            heads = row
        elif row:
            found.setdefault(row[0], []).append(dict(zip(heads[1:], map(_plain, row[1:]))))
    return found


def records(text: str) -> list[dict[str, str]]:
    """The rows, by column, of a CSV file of one table."""
    return [{name: _plain(cell) for name, cell in row.items()} for row in csv.DictReader(io.StringIO(text))]


def _plain(cell: str) -> str:
    """A cell without the apostrophe that keeps a spreadsheet from reading it as a formula."""
    return cell[1:] if cell[:2] in ("'=", "'+", "'-", "'@") else cell


def filled(rows: list[dict[str, str]]) -> Rows:
    """The cells of rows that hold something."""
    return [tuple(cell for cell in row.values() if cell) for row in rows]


class _Page(HTMLParser):
    """Tables by their caption; a row that several share is put before each of them, as a file has it."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, Rows] = {}
        self.heads: dict[str, list[str]] = {}
        self._caption, self._row, self._cell, self._band = "", [], None, ()
        self._silent = self._is_band = False
        self._where = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "table":
            self._caption, self._band = "", ()
        elif tag in ("caption", "td", "th"):
            self._cell = ""
        elif tag == "tr":
            self._row, self._is_band = [], given.get("class") == "band"
        elif tag in ("thead", "tbody"):
            self._where = tag
        elif tag == "span" and given.get("class") == "sign":
            self._silent = True

    def handle_data(self, data: str) -> None:
        if self._cell is not None and not self._silent:
            self._cell += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "span":
            self._silent = False
        elif tag == "caption":
            self._caption = (self._cell or "").strip()
            self._cell = None
        elif tag in ("td", "th"):
            self._row.append((self._cell or "").strip())
            self._cell = None
        elif tag == "tr" and self._where == "thead":
            self.heads[self._caption] = self._row
        elif tag == "tr" and self._is_band:
            self._band = tuple(self._row[0].split(" \u00b7 "))
        elif tag == "tr":
            self.found.setdefault(self._caption, []).append((*self._band, *filter(None, self._row)))


def page_tables(html: str) -> tuple[dict[str, Rows], dict[str, list[str]]]:
    """Rows and heads of every table of a page, by its caption."""
    reader = _Page()
    reader.feed(re.sub(r"<script.*?</script>|<svg.*?</svg>", "", html, flags=re.S))
    return reader.found, reader.heads


def text_tables(text: str) -> list[Rows]:
    """The tables of a terminal's text in their order; what is said above a group of rows is put before each of them."""
    lines = text.split("\n")
    starts = [number for number, line in enumerate(lines) if _DASHES.match(line)]
    return [_rows(lines[start + 1: following + 1]) for start, following in zip(starts, [*starts[1:], len(lines)])]


def _rows(lines: list[str]) -> Rows:
    band: list[str] = []
    found: list[tuple[str, list[list[object]]]] = []
    begins = True
    for number, line in enumerate(lines):
        cells = [[match.start(), match.group()] for match in _CELLS.finditer(line)]
        if not cells:
            if not _begins_group(lines[number + 1:]):
                break
            begins, band = True, []
        elif begins and len(cells) == 1:
            band.append(line)
        elif _is_note(cells, found):
            break
        elif found and not begins and _goes_on(cells, found[-1][1]):
            for start, words in cells:
                known = next(cell for cell in found[-1][1] if cell[0] == start)
                known[1] = f"{known[1]} {words}"
        else:
            found.append((" ".join(band), cells))
            begins = False
    return [(*filter(None, band.split(" \u00b7 ")), *(str(words) for _, words in cells)) for band, cells in found]


def _is_note(cells: list[list[object]], found: list[tuple[str, list[list[object]]]]) -> bool:
    """Whether a line is a sentence below the table: by itself, from the edge on, a capital first or wider than a cell."""
    start, words = cells[0]
    if len(cells) > 1 or start != 0:
        return False
    room = found[-1][1][1][0] if found and len(found[-1][1]) > 1 else 0
    return str(words)[0].isupper() or len(str(words)) >= int(str(room)) - 1


def _is_wide(line: str) -> bool:
    return "  " in line.strip()


def _begins_group(lines: list[str]) -> bool:
    """Whether lines after a blank one are words over a group of rows, and a row; no title and no head of a table."""
    block = list(takewhile(bool, lines))
    if len(block) < 2 or _is_wide(block[0]) or block[0].startswith(("- ", "asked by", "Predicted")):
        return False
    return any(map(_is_wide, block)) and not any(map(_DASHES.match, block))


def _goes_on(cells: list[list[object]], row: list[list[object]]) -> bool:
    """Whether a line goes on with cells of the row above it."""
    places = {cell[0] for cell in row}
    if len(cells) == len(row) or any(start not in places for start, _ in cells):
        return False
    return (row[0][0] == 0 and cells[0][0] != 0) or not any(re.fullmatch(r"-?[\d.,]+", str(words)) for _, words in cells)
