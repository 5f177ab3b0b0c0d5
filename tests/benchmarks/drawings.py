"""How legible the drawings are, and how long they take: `python tests/benchmarks/drawings.py [EXAMPLE ...]`.

Measured on what is written: letters and aspects in the SVG of the screen and of every sheet, ink on a picture of each
sheet (the share of squares of 10 mm of its drawing field that hold any), crossings and parts as laid out. Times are
ratios within this process: drawing a design to checking it, each after one that was not counted. The last line printed
is a JSON object.
"""

import io
import json
import re
import sys
import time
import xml.etree.ElementTree as ET
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from circuit.draw import export, measure
from circuit.draw.fold import lay_out_circuit
from circuit.draw.labels import letter
from circuit.draw.layout import Layout
from circuit.draw.medium import SIZES, room
from circuit.draw.paint import picture
from circuit.draw.sheet import fold_onto, sheets_as_svg
from circuit.draw.text import CAPITAL
from circuit.model.circuit import Circuit
from circuit.pipeline import judged, load
from circuit.report.sheets.origin import block_of

SVG = "{http://www.w3.org/2000/svg}"
SCREEN_PX, LEAST_PX, LEAST_MM = 1440, 9.0, 1.8
SQUARE = 10.0
GROWTH = (100, 300, 1000)
"""Parts of the made-up circuits that the growth of the time is read from."""


def heights(text: str) -> list[float]:
    """The heights of the capitals of all words of a sheet, mm."""
    found: list[float] = []

    def visit(element: ET.Element, scale: float) -> None:
        for factor in re.findall(r"scale\(([\d.]+)\)", element.get("transform") or ""):
            scale *= float(factor)
        if element.tag == f"{SVG}text" and (element.text or "").strip():
            found.append(float(element.get("font-size") or 0) * scale * CAPITAL)
        for inner in element:
            visit(inner, scale)

    visit(ET.fromstring(text), 1.0)
    return found


def ink(text: str, size: str) -> float:
    """The share of squares of a sheet's drawing field that hold ink."""
    import numpy
    from PIL import Image

    per_mm = 2.0
    pixels = numpy.asarray(Image.open(io.BytesIO(export.png(text, zoom=25.4 / 96 * per_mm))).convert("L"))
    scale = pixels.shape[1] / SIZES[size][0]
    left, bottom, wide, high = (side * scale for side in room(size))
    top = pixels.shape[0] - bottom - high
    field = pixels[int(top):int(top + high), int(left):int(left + wide)]
    step = int(SQUARE * scale)
    squares = [field[y:y + step, x:x + step].min() < 200
               for y in range(0, field.shape[0] - step + 1, step) for x in range(0, field.shape[1] - step + 1, step)]
    return sum(map(bool, squares)) / len(squares)


def whole(sheets: list[Layout]) -> int:
    """How many parts stand on more than one sheet, or outside of every band."""
    names = [body.device.name for sheet in sheets for body in sheet.bodies if body.flag is None]
    return len(names) - len(set(names))


def on_paper(circuit: Circuit, size: str, figures: dict[str, float]) -> None:
    """Add what a circuit's sheets of a size show to the figures."""
    folded = fold_onto(circuit, size)
    pages = sheets_as_svg(folded, block_of(judged(circuit)), size)
    figures["sheets"] += len(pages)
    figures["split_symbols"] += whole(folded)
    figures["listed_sizes"] += sum(len(letter(sheet).unplaced) for sheet in folded)
    for page in pages:
        found = heights(page)
        figures["letters"] += len(found)
        figures["letters_under_1_8mm"] += sum(high < LEAST_MM - 0.005 for high in found)
        figures["least_mm"] = min(figures["least_mm"], *found)
        if len(pages) > 1:
            figures["least_ink_share"] = min(figures["least_ink_share"], ink(page, size))


def on_screen(circuit: Circuit, figures: dict[str, float]) -> int:
    """The same for the drawing of a screen; returns its crossings."""
    sheet = lay_out_circuit(circuit)
    root = ET.fromstring(picture(sheet))
    _, _, wide, high = map(float, (root.get("viewBox") or "").split())
    sizes = [float(text.get("font-size") or 0) * SCREEN_PX / wide for text in root.iter(f"{SVG}text") if text.text]
    figures["letters_under_9px"] += sum(size < LEAST_PX - 1e-6 for size in sizes)
    figures["least_px"] = min(figures["least_px"], *sizes)
    figures["aspect"] = max(figures["aspect"], wide / high)
    figures["cut_lines"] += sum(body.flag is not None for body in sheet.bodies) // 2
    return measure.crossings(sheet.wires)


def seconds(work: object, times: int = 1) -> float:
    """The processor time of something, the least of some rounds."""
    least = float("inf")
    for _ in range(times):
        start = time.process_time()
        work()  # type: ignore[operator]
        least = min(least, time.process_time() - start)
    return least


def ratio(name: str) -> float:
    """Drawing an example to checking it."""
    path = str(ROOT / "examples" / name / "design.air")
    circuit = load(path)
    judged(circuit)
    check = seconds(lambda: judged(load(path)), 3)
    return seconds(lambda: picture(lay_out_circuit(circuit)), 2) / check


def growth() -> float:
    """The exponent of the time over the number of parts, from the smallest to the largest made-up circuit."""
    from math import log

    from tests.designs import loaded
    from tests.draw.test_kinds_drawn import made_up

    points = []
    for size in GROWTH:
        circuit = loaded(made_up(3, size))
        parts = sum(not device.is_line for device in circuit.devices)
        points.append((parts, seconds(lambda circuit=circuit: lay_out_circuit(circuit))))
        print(f"{parts} parts: {points[-1][1]:.1f} s", file=sys.stderr)
    (n, first), (m, last) = points[0], points[-1]
    return log(last / first) / log(m / n)


def main() -> int:
    names = sys.argv[1:] or sorted(path.parent.name for path in (ROOT / "examples").glob("*/design.air"))
    figures: dict[str, float] = dict.fromkeys(
        ("sheets", "letters", "letters_under_1_8mm", "letters_under_9px", "listed_sizes", "split_symbols", "cut_lines",
         "aspect"), 0)
    figures |= {"least_mm": 99.0, "least_px": 99.0, "least_ink_share": 1.0}
    crossings = {}
    for name in names:
        circuit = load(str(ROOT / "examples" / name / "design.air"))
        crossings[name] = on_screen(circuit, figures)
        for size in SIZES:
            on_paper(circuit, size, figures)
        print(f"{name}: {crossings[name]} crossings", file=sys.stderr)
    result: dict[str, object] = {key: round(value, 3) for key, value in figures.items()}
    result["crossings"] = crossings
    if not sys.argv[1:]:
        result |= {"truck_to_check": round(ratio("truck-6x4"), 2), "train_to_check": round(ratio("combination-train"), 2),
                   "growth_exponent": round(growth(), 2)}
    print(json.dumps(result))
    return 0


if __name__ == "__main__":
    sys.exit(main())
