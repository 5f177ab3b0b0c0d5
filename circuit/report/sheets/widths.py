"""How wide a table's columns are on paper, and text cut into lines. Lengths in mm."""

from functools import cache

from circuit.draw.export import BOLD, PLAIN
from circuit.report.table import Table

BLANK_LEAST = 19.0
"""A field for a pen."""
PAD = 0.8
"""Beside a cell's words."""
AFTER = 1.2
"""Behind a figure, so that it does not run into the next column."""


def line_height(size: float) -> float:
    return 1.22 * size


@cache
def long(words: str, size: float, font: str) -> float:
    """How long a text is."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(words, font, size))


def cut_to(text: str, wide: float, size: float, font: str) -> list[str]:
    """A text in lines no longer than `wide`; a word that is longer is broken after a dot or hyphen, or anywhere."""
    lines: list[str] = []
    row = ""
    for word in _pieces(text, wide, size, font):
        longer = row + word
        if row and long(longer.rstrip(), size, font) > wide:
            lines.append(row.rstrip())
            row = word.lstrip()
        else:
            row = longer
    return [*lines, row.rstrip()]


def _pieces(text: str, wide: float, size: float, font: str) -> list[str]:
    """Words with the space behind them; long ones in parts."""
    found = []
    for word in text.split(" "):
        while long(word, size, font) > wide and len(word) > 1:
            end = len(word) - 1
            while end > 1 and long(word[:end], size, font) > wide:
                end -= 1
            soft = max(word.rfind(mark, 1, end) for mark in ".-_/")
            end = soft + 1 if soft > 0 else end
            found.append(word[:end])
            word = word[end:]
        found.append(word + " ")
    return found


def _in_two(name: str, size: float) -> float:
    """How wide a head is over two lines at most."""
    words = name.split(" ")
    return min(max(long(" ".join(part), size, BOLD) for part in (words[:cut], words[cut:]))
               for cut in range(len(words) // 2 + len(words) % 2, len(words) + 1))


def widths(table: Table, room: float, size: float) -> list[float]:
    """The columns' widths: what they want where there is room, else their longest word and a share of the rest."""
    least, wanted = [], []
    for place, name in enumerate(table.columns):
        cells = [row[place] for row in table.rows]
        words = {word for cell in cells for word in cell.split(" ")}
        head = _in_two(name, size)
        font = PLAIN if place or name in table.wide else BOLD
        longest = max([head, *(min(long(word, size, font), 30.0) for word in words)])
        whole = max([long(name, size, BOLD) if name not in table.numbers else head,
                     *(long(cell, size, font) for cell in cells)])
        if name in table.blank:
            longest, whole = max(longest, BLANK_LEAST), max(whole, BLANK_LEAST)
        beside = 2 * PAD + (AFTER if name in table.numbers else 0.0)
        least.append(longest + beside + 0.2)
        wanted.append(max(whole, longest) + beside + 0.6)
    if sum(wanted) <= room:
        growing = [name in table.blank or name in table.wide for name in table.columns]
        spare = min((room - sum(wanted)) / max(1, sum(growing)), 25.0)
        return [width + spare * grows for width, grows in zip(wanted, growing)]
    if sum(least) >= room:
        return [width * room / sum(least) for width in least]
    over = [(want - low) ** 0.6 for want, low in zip(wanted, least)]
    spare = room - sum(least)
    given = [min(want, low + spare * share / sum(over)) for want, low, share in zip(wanted, least, over)]
    rest = room - sum(given)
    hungry = [max(0.0, want - width) for want, width in zip(wanted, given)]
    return [width + rest * need / max(sum(hungry), 1e-9) for width, need in zip(given, hungry)]

