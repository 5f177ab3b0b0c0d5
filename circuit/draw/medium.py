"""What a drawing is for, and so how much room it has when its letters are as small as that allows. Lengths in U or mm."""

from typing import NamedTuple

from circuit.draw.text import CAPITAL, LETTER

LEAST_MM = 1.8
"""The least height of a capital on paper: the smallest of ISO 3098."""
LEAST_PX = 9.0
"""The least size of a letter on a screen that is SCREEN_PX wide."""
SCREEN_PX = 1440.0

SIZES = {"A4": (297.0, 210.0), "A3": (420.0, 297.0), "Letter": (279.4, 215.9), "Tabloid": (431.8, 279.4)}
"""Width and height of a sheet, lying, mm."""
STRIP = 46.0
"""The height of the strip with title block and legend, mm."""
LARGE = 350.0
"""From this width on a sheet is a large one, mm."""
EDGE, ZONE = 8.0, 4.0
"""From the sheet's edge to the outer line, and from that to the inner one, mm."""
AROUND = 1.5
"""From the inner line to the drawing, mm."""

SMALLEST = LEAST_MM / (CAPITAL * LETTER / 10)
"""mm for each U at which letters have the least height."""
PAD = 3.0
"""Round the drawing on a screen, U."""


class Medium(NamedTuple):
    """wide, high: the room of a sheet, U, where letters are smallest. sheets: whether there are several, of paper."""

    wide: float
    high: float
    sheets: bool = True


def room(size: str) -> tuple[float, float, float, float]:
    """Where the drawing goes: left, bottom, width, height in mm, from the lower left corner of the sheet."""
    wide, high = SIZES[size]
    edge, strip = EDGE + ZONE, STRIP
    return edge + AROUND, edge + strip + AROUND, wide - 2 * edge - 2 * AROUND, high - 2 * edge - strip - 2 * AROUND


def paper(size: str) -> Medium:
    """A sheet of a size. Raises KeyError for an unknown one."""
    _, _, wide, high = room(size)
    return Medium(wide / SMALLEST, high / SMALLEST)


SCREEN = Medium(SCREEN_PX / (LEAST_PX / (LETTER / 10)) - 2 * PAD, 90.0, sheets=False)
"""A page that is looked at by its width and rolled on."""
