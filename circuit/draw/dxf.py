"""The drawing for a CAD program: DXF, made from the finished SVG, a layer for each circuit.

Only the few shapes that the SVG is made of are read. Lengths are in mm, y upwards; letters are 2.5 mm high.
"""

import io
import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from typing import Any, NamedTuple, cast

from circuit.draw import palette
from circuit.draw.cannot import CannotDraw
from circuit.draw.text import CAPITAL, LETTER

MM_PER_PX = 2.5 / (CAPITAL * LETTER)
PARTS, WORDS, BANDS, MARKS = "parts", "words", "bands", "tags and findings"
_SVG = "{http://www.w3.org/2000/svg}"
_ALIGN = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}
_WEIGHTS = (13, 18, 25, 35, 50, 70, 100)
"""Those of ISO 128 that DXF knows, hundredths of a mm."""
_LINE_TYPES = {palette.DASH["signal"]: "DASHED", palette.DASH["spring"]: "DASHDOT"}

Point = tuple[float, float]


class Pen(NamedTuple):
    """What an element has from those it stands in. at: px by which it is moved."""

    layer: str = PARTS
    stroke: str = "none"
    weight: float = 1.7
    at: Point = (0.0, 0.0)


def dxf(picture: str) -> bytes:
    """The SVG as DXF. Raises CannotDraw without the library."""
    try:
        import ezdxf
        from ezdxf import units
    except ImportError:
        raise CannotDraw("DXF needs the package ezdxf: pip install ezdxf") from None
    options = cast(Any, ezdxf).options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # else the moment of writing makes every file another
    try:
        return _written(cast(Any, ezdxf).new("R2010", setup=True), units, picture)
    finally:
        options.write_fixed_meta_data_for_testing = before


def _written(document: Any, units: Any, picture: str) -> bytes:
    root = ET.fromstring(picture)
    document.units = units.MM
    made = _Maker(document, {each.get("id") or "": each for each in root.iter(f"{_SVG}symbol")})
    for name in (PARTS, WORDS, BANDS, MARKS):
        made.layer(name)
    for group in root:
        if group.tag == f"{_SVG}g" and group.get("class") in ("circuit", "title", "legend"):
            made.element(group, Pen(layer=PARTS if group.get("class") == "circuit" else WORDS))
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


class _Maker:
    """symbols: by their ids."""

    def __init__(self, document: Any, symbols: Mapping[str, ET.Element]) -> None:
        self.document, self.space, self.symbols = document, document.modelspace(), symbols

    def layer(self, name: str) -> str:
        """A layer's name, made where there is none of that name."""
        name = " ".join(re.sub(r'[<>/\\":;?*|=`,]', " ", name).split())
        if name not in self.document.layers:
            self.document.layers.add(name)
        return name

    def element(self, element: ET.Element, pen: Pen) -> None:
        """An element and what is in it."""
        kind, tag = (element.get("class") or "").split(" ")[0], element.tag.removeprefix(_SVG)
        if kind == "layer":
            pen = pen._replace(layer=self.layer(element.get("aria-label") or "circuit"))
        elif kind in ("tags", "findings", "pills"):
            pen = pen._replace(layer=MARKS)
        elif kind == "band":
            pen = pen._replace(layer=BANDS)
        if element.get("stroke"):
            pen = pen._replace(stroke=element.get("stroke") or "none")
        if element.get("stroke-width"):
            pen = pen._replace(weight=float(element.get("stroke-width") or 1))
        moved = re.fullmatch(r"translate\(([-\d.]+)[, ]([-\d.]+)\)", element.get("transform") or "")
        if moved:
            pen = pen._replace(at=(pen.at[0] + float(moved[1]), pen.at[1] + float(moved[2])))
        if kind == "line" or tag in ("title", "desc"):
            return
        if tag == "use":
            x, y = float(element.get("x") or 0), float(element.get("y") or 0)
            for inner in self.symbols[(element.get("href") or "#")[1:]]:
                self.element(inner, pen._replace(at=(pen.at[0] + x, pen.at[1] + y)))
        elif tag in ("g", "a"):
            for inner in element:
                self.element(inner, pen)
        elif tag == "text":
            self.words(element, pen)
        elif pen.stroke not in ("none", palette.PAPER, "#fff") or element.get("fill", "none") not in ("none", palette.PAPER):
            self.shape(element, tag, pen)

    def shape(self, element: ET.Element, tag: str, pen: Pen) -> None:
        filled = element.get("fill", "none") not in ("none", palette.PAPER, "#fff")
        ink = pen.stroke if pen.stroke not in ("none", palette.PAPER, "#fff") else element.get("fill") or palette.INK
        looks = {"layer": pen.layer, "true_color": int(ink[1:], 16) if re.fullmatch("#[0-9a-f]{6}", ink) else 0,
                 "lineweight": min(_WEIGHTS, key=lambda w: abs(w - 100 * pen.weight * MM_PER_PX / 2))}
        dash = element.get("stroke-dasharray")
        if dash:
            looks |= {"linetype": _LINE_TYPES.get(dash, "DASHED"), "ltscale": 0.15}
        if tag == "circle":
            centre = self._place((float(element.get("cx") or 0), float(element.get("cy") or 0)), pen)
            radius = float(element.get("r") or 1) * MM_PER_PX
            self.space.add_circle(centre, radius, dxfattribs=looks)
            if filled:
                self._fill([(centre[0] + dx * radius, centre[1] + dy * radius)
                            for dx, dy in ((1, 0), (.7, .7), (0, 1), (-.7, .7), (-1, 0), (-.7, -.7), (0, -1), (.7, -.7))], looks)
        elif tag == "rect":
            x, y = float(element.get("x") or 0), float(element.get("y") or 0)
            wide, high = float(element.get("width") or 0), float(element.get("height") or 0)
            corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
            self._line([self._place(p, pen) for p in corners], True, filled, looks)
        elif tag == "path":
            for chain in re.findall(r"M[^M]+", element.get("d") or ""):
                self._line([self._place(p, pen) for p in _points(chain)], chain.endswith("Z"), filled, looks)

    def _line(self, points: list[Point], closed: bool, filled: bool, looks: dict[str, Any]) -> None:
        if filled and len(points) > 2:
            self._fill(points, looks)
        self.space.add_lwpolyline(points, close=closed, dxfattribs=looks)

    def _fill(self, points: list[Point], looks: dict[str, Any]) -> None:
        hatch = self.space.add_hatch(dxfattribs={"layer": looks["layer"], "true_color": looks["true_color"]})
        hatch.paths.add_polyline_path(points, is_closed=True)

    def words(self, element: ET.Element, pen: Pen) -> None:
        turned = re.match(r"translate\(([-\d.]+),([-\d.]+)\) rotate\(-90\)", element.get("transform") or "")
        x, y = ((float(turned[1]), float(turned[2])) if turned
                else (float(element.get("x") or 0), float(element.get("y") or 0)))
        high = float(element.get("font-size") or LETTER) * CAPITAL * MM_PER_PX
        from ezdxf.enums import TextEntityAlignment

        text = self.space.add_text(element.text or "", height=high, rotation=90 if turned else 0,
                                   dxfattribs={"layer": MARKS if pen.layer == MARKS else WORDS})
        text.set_placement(self._place((x, y), pen),
                           align=TextEntityAlignment[_ALIGN[element.get("text-anchor") or "start"]])

    def _place(self, point: Point, pen: Pen) -> Point:
        return (point[0] + pen.at[0]) * MM_PER_PX, -(point[1] + pen.at[1]) * MM_PER_PX


def _points(chain: str) -> list[Point]:
    """The places of one piece of a path; a curve as eight straight pieces, an H as what it is."""
    found: list[Point] = []
    for letter, rest in re.findall(r"([MLQHV])([^MLQHVZ]*)", chain):
        numbers = [float(each) for each in re.findall(r"-?[\d.]+", rest)]
        if letter == "H":
            found.append((numbers[0], found[-1][1]))
        elif letter == "V":
            found.append((found[-1][0], numbers[0]))
        elif letter == "Q":
            (x0, y0), (x1, y1, x2, y2) = found[-1], numbers
            shares = [((1 - t) ** 2, 2 * t * (1 - t), t * t) for t in (n / 8 for n in range(1, 9))]
            found += [(a * x0 + b * x1 + c * x2, a * y0 + b * y1 + c * y2) for a, b, c in shares]
        else:
            found += list(zip(numbers[::2], numbers[1::2]))
    return found
