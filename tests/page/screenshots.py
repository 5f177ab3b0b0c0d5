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

from tests.designs import EXAMPLES
from tests.page.browser import browser, opened, show, slide_to

WIDTH = 1360
COLOURS = 256


class Shot(NamedTuple):
    """What is shown. title: of the scene or fault. time: s. part: to be told of. height: px of the page."""

    design: str
    mode: str
    title: str
    time: float
    part: str
    height: int


SHOTS = (
    Shot("truck-6x4", "fault", "pri: burst", 22.0, "modulator", 1180),
    Shot("combination-semi", "play", "Apply and release", 0.9, "semi.relay", 1100),
)


def main() -> int:
    """Every screenshot; prints what was written."""
    with tempfile.TemporaryDirectory() as folder, browser() as running:
        for shot in SHOTS:
            target = Path(folder) / f"{shot.design}.html"
            source = EXAMPLES / shot.design / "design.air"
            subprocess.run([sys.executable, "-m", "circuit", "report", source, "-o", target], check=True)
            page, trouble = opened(running, target, viewport={"width": WIDTH, "height": shot.height})
            show(page, shot.mode)
            key = page.evaluate("(title) => [...choice.options].find((each) => each.textContent === title).value",
                                shot.title)
            show(page, shot.mode, key)
            slide_to(page, shot.time)
            page.evaluate("(part) => tell(part)", shot.part)
            picture = in_palette(Image.open(BytesIO(page.screenshot())).convert("RGB"))
            out = EXAMPLES / shot.design / "report.png"
            picture.save(out, optimize=True)
            assert not trouble, trouble
            print(f"{out}: {out.stat().st_size // 1024} KB")
    return 0


def in_palette(picture: Image.Image) -> Image.Image:
    """A picture in the colours that it has most of: areas keep theirs exactly, the edges of letters take the nearest."""
    pixels = numpy.asarray(picture).reshape(-1, 3)
    colours, where, counts = numpy.unique(pixels, axis=0, return_inverse=True, return_counts=True)
    most = colours[numpy.argsort(-counts)[:COLOURS]].astype(int)
    nearest = ((colours[:, None, :].astype(int) - most) ** 2).sum(axis=2).argmin(axis=1).astype(numpy.uint8)
    found = Image.fromarray(nearest[where.reshape(-1)].reshape(picture.height, picture.width), "P")
    found.putpalette(most.astype(numpy.uint8).tobytes())
    return found


if __name__ == "__main__":
    sys.exit(main())
