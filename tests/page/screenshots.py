"""Takes the screenshots that README.md shows: `python -m tests.page.screenshots`.

Writes the reports of two examples to a temporary folder, opens them in a browser, and saves what it shows as `report.png`
beside each design, in a palette that keeps the file small.
"""

import subprocess
import sys
import tempfile
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

import numpy
from PIL import Image

from circuit.draw.pressure import BANDS
from tests.designs import EXAMPLES
from tests.page.browser import board_of, browser, play

WIDTH = 1360
COLOURS = 256


class Shot(NamedTuple):
    """What is shown. does: in words of the page's scripts, before `seconds` pass in frames of a fiftieth. part: told of.
    out: the picture's name. height: px of the page."""

    design: str
    does: str
    seconds: float
    part: str
    out: str
    height: int = 1150


SHOTS = (
    Shot("truck-6x4", "putTo(board.given.hands[0], 0.5)", 0.15, "rear-relay", "report", 1100),
    Shot("truck-6x4", "playScene(board.given.prepared.find((each) => each.key === 'charge'))", 0.0, "gov", "governor", 1000),
    Shot("combination-semi", "put(board.given.hands.find((hand) => hand.label === 'coupling'), 0)", 2.0, "semi.springs",
         "report", 1240),
)
SECTION_IN_SIGHT = """() => {
  const over = document.getElementById('strip').getBoundingClientRect().bottom;
  window.scrollBy({ top: document.querySelector('#section').getBoundingClientRect().top - over - 50, behavior: 'instant' });
}"""
"""Scrolls until the section of the part that is told of stands below the hands."""
CUT_OUT = "() => board.deeds.some((deed) => deed.says.endsWith('cuts out'))"


def main() -> int:
    """Every screenshot; prints what was written."""
    with tempfile.TemporaryDirectory() as folder, browser() as running:
        for shot in SHOTS:
            target = Path(folder) / f"{shot.design}.html"
            if not target.exists():
                subprocess.run([sys.executable, "-m", "circuit", "report", EXAMPLES / shot.design / "design.air", "-o", target],
                               check=True)
            page, trouble = board_of(running, target, viewport={"width": WIDTH, "height": shot.height})
            page.evaluate("(part) => choosePart(part)", shot.part)
            page.evaluate(shot.does)
            if shot.seconds:
                page.wait_for_function("() => !sending && board.deeds.length > 0")
                play(page, shot.seconds, round(shot.seconds * 50))
            else:
                page.wait_for_function(CUT_OUT, timeout=120_000)
                page.evaluate("halt()")
            page.evaluate("(part) => shapes.get(part).scrollIntoView({ block: 'center', behavior: 'instant' })", shot.part)
            page.evaluate("(part) => bringIntoSight(onSheet(shapes.get(part)))", shot.part)
            page.evaluate(SECTION_IN_SIGHT)
            picture = in_palette(Image.open(BytesIO(page.screenshot())).convert("RGB"))
            out = EXAMPLES / shot.design / f"{shot.out}.png"
            picture.save(out, optimize=True)
            assert not trouble, trouble
            print(f"{out}: {out.stat().st_size // 1024} KB")
    return 0


def in_palette(picture: Image.Image) -> Image.Image:
    """A picture in the colours that it has most of: areas keep theirs exactly, the edges of letters take the nearest."""
    pixels = numpy.asarray(picture).reshape(-1, 3)
    colours, where, counts = numpy.unique(pixels, axis=0, return_inverse=True, return_counts=True)
    bands = numpy.array([[int(band.colour[at:at + 2], 16) for at in (1, 3, 5)] for band in BANDS])
    most = numpy.concatenate([bands, colours[numpy.argsort(-counts)[:COLOURS - len(bands)]].astype(int)])
    nearest = ((colours[:, None, :].astype(int) - most) ** 2).sum(axis=2).argmin(axis=1).astype(numpy.uint8)
    found = Image.fromarray(nearest[where.reshape(-1)].reshape(picture.height, picture.width), "P")
    found.putpalette(most.astype(numpy.uint8).tobytes())
    return found


if __name__ == "__main__":
    sys.exit(main())
