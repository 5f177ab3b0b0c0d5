"""Words on the sheet, and what room is taken: boxes, and lines as thin boxes. All in U."""

from dataclasses import dataclass, field

from circuit.draw import text
from circuit.draw.measure import Box, boxes_meet, line_meets
from circuit.draw.tree import Stretch
from circuit.declaring.symbol import Point


@dataclass(slots=True)
class Text:
    """Words with the start of their base line. anchor: start, middle or end. upright: turned a quarter left.

    owner: the device or line it names. what: "name", "figure", "small", "port", "tube", "tee" or "axle".
    """

    x: float
    y: float
    words: str
    size: float
    what: str
    owner: str = ""
    bold: bool = False
    anchor: str = "start"
    upright: bool = False

    @property
    def box(self) -> Box:
        wide = text.width(self.words, self.size, self.bold) / 10
        up, down = 0.078 * self.size, 0.022 * self.size
        back = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        if self.upright:
            return self.x - up, self.y - wide + back, self.x + down, self.y + back
        return self.x - back, self.y - up, self.x - back + wide, self.y + down


@dataclass(slots=True)
class Spot:
    """A tag or a flag. of: index of the wire, or of the mark."""

    x: float
    y: float
    of: int


@dataclass(slots=True)
class Space:
    """What is taken: boxes, and lines as thin boxes, in buckets by x so that a question looks at few."""

    boxes: dict[int, list[Box]] = field(default_factory=dict)
    lines: dict[int, list[Stretch]] = field(default_factory=dict)

    def take(self, box: Box) -> None:
        for cell in _cells(box[0], box[2]):
            self.boxes.setdefault(cell, []).append(box)

    def copy(self) -> "Space":
        """The same, to be filled on its own."""
        return Space({cell: list(row) for cell, row in self.boxes.items()},
                     {cell: list(row) for cell, row in self.lines.items()})

    def run(self, stretch: Stretch) -> None:
        for cell in _cells(stretch.start[0], stretch.end[0]):
            self.lines.setdefault(cell, []).append(stretch)

    def is_free(self, box: Box, pad: float = 0.25, over: tuple[Stretch, ...] = ()) -> bool:
        """Whether a box with a margin meets nothing. over: lines it may lie on."""
        wide = (box[0] - pad, box[1] - pad / 2, box[2] + pad, box[3] + pad / 2)
        for cell in _cells(wide[0], wide[2]):
            if any(boxes_meet(wide, other) for other in self.boxes.get(cell, ())):
                return False
            if any(line_meets(line, wide) for line in self.lines.get(cell, ()) if not any(line is o for o in over)):
                return False
        return True


def _cells(left: float, right: float) -> range:
    return range(int(left // 8), int(right // 8) + 1)


@dataclass(slots=True)
class Lettering:
    """texts: all words. tags: wire index and place. flags: mark index and place. unplaced: lines without a label.

    leaders: from a tee to its name where that stands further off. pills: space and place of a written pressure.
    arrows: tip, direction and circuit, where air only goes one way.
    """

    texts: list[Text] = field(default_factory=list)
    tags: list[Spot] = field(default_factory=list)
    flags: list[Spot] = field(default_factory=list)
    unplaced: list[str] = field(default_factory=list)
    leaders: list[tuple[Point, Point]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    pills: list[Spot] = field(default_factory=list)
    arrows: list[tuple[Point, Point, int]] = field(default_factory=list)
