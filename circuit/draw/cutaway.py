"""A section picture as SVG: a part cut open in one state, its air in tint and dots by pressure.

A page moves the same picture: what travels carries its spots (`data-spots`), what is air its port, what tells a seat its
ways. Sizes are px; letters are 12 and 14 px, so that one picture as wide as a phone still has none under 9 px.
"""

from collections.abc import Mapping
from math import cos, radians, sin
from typing import NamedTuple

from circuit.declaring.section import Hole, Mark, Move, Outline, Seat, Section, Spot
from circuit.draw.cutaway_looks import definitions
from circuit.draw.glyphs import escape
from circuit.draw.pressure import BANDS, written
from circuit.draw.text import FAMILY, in_lines, width
from circuit.units import ATMOSPHERE

SHUT, LEAST = 0.02, 0.3
"""Up to this share a seat is drawn shut; from there on it is drawn at least so far open, that the gap is seen; our choice."""
LEVEL = 2e3
"""Pa between two ends up to which nothing flows that is worth an arrow; our choice."""
SMALL, LARGE = 12.0, 14.0
STUB = 1.2
"""U by which a port stands out of the body."""



class Shown(NamedTuple):
    """What a picture shows. shares: how far each way is open, 0 to 1. values: further named values. pressures: absolute
    Pa by port. running: 1 for each way in which air passes, -1 where it passes backwards.
    sentence: what is said below. unit: psi or bar. title: above. live: for a page, with what it moves by."""

    shares: Mapping[str, float]
    values: Mapping[str, float]
    pressures: Mapping[str, float]
    running: Mapping[str, int]
    sentence: str = ""
    unit: str = "bar"
    title: str = ""
    theme: str = "light"
    live: bool = False


def drawn(share: float) -> float:
    """How far a share is drawn open.

    >>> drawn(0.01), round(drawn(0.5), 2), drawn(1.0)
    (0.0, 0.65, 1.0)
    """
    return 0.0 if share <= SHUT else LEAST + (1 - LEAST) * min(share, 1.0)


def amounts(section: Section, shown: Shown) -> dict[str, float]:
    """How far each move has gone."""
    values = {**shown.values, **{way: drawn(share) for way, share in shown.shares.items()}}
    values |= {name: _along(course.knots, (shown.pressures.get(course.port, ATMOSPHERE) - ATMOSPHERE) / 1e5)
               for name, course in section.courses.items()}
    return {name: min(max(sum(weight * values.get(value, 0.0) for value, weight in move.by.items()), move.low), move.high)
            for name, move in section.moves.items()}


def _along(knots: tuple[tuple[float, float], ...], at: float) -> float:
    if at <= knots[0][0]:
        return knots[0][1]
    for (x0, y0), (x1, y1) in zip(knots, knots[1:]):
        if at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    return knots[-1][1]


def placed(spot: Spot, moves: Mapping[str, Move], amount: Mapping[str, float]) -> tuple[float, float]:
    """Where a spot stands, U."""
    x, y = spot.x, spot.y
    for name, weight in spot.moves:
        move, far = moves[name], weight * amount[name]
        if move.turn is not None:
            cx, cy, degrees = move.turn
            c, s = cos(radians(degrees * far)), sin(radians(degrees * far))
            x, y = cx + (x - cx) * c - (y - cy) * s, cy + (x - cx) * s + (y - cy) * c
        else:
            x, y = x + move.dx * far, y + move.dy * far
    return x, y


def _number(value: float) -> str:
    text = f"{value * 10:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def band(pressure: float) -> int:
    """The number of the band of an absolute pressure."""
    return max(place for place, each in enumerate(BANDS) if pressure - ATMOSPHERE >= each.above or place == 0)


class Label(NamedTuple):
    """Words beside a picture, px. anchor: start, middle or end. attributes: for a page. box: left, top, right, bottom."""

    x: float
    y: float
    words: str
    anchor: str
    size: float
    bold: bool = False
    attributes: str = ""
    kind: str = "ink"

    @property
    def box(self) -> tuple[float, float, float, float]:
        wide = width(self.words, self.size, self.bold)
        left = self.x - {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        return left, self.y - 0.8 * self.size, left + wide, self.y + 0.22 * self.size


class Drawing:
    """One picture being made. moved: how far each move has gone. left to bottom: the extent of all shapes, px."""

    def __init__(self, section: Section, shown: Shown, prefix: str):
        self.section, self.shown, self.prefix = section, shown, prefix
        self.moved = amounts(section, shown)
        spots = [spot for mark in section.marks for spot in mark.spots]
        self.left, self.top, self.right, self.bottom = self._extent(spots)

    def _extent(self, spots: list[Spot]) -> tuple[float, float, float, float]:
        """The room that shapes take wherever they travel, with the ports' stubs."""
        xs, ys = [], []
        for spot in spots:
            for far in (-1.0, 0.0, 1.0):
                ends = {name: min(max(far, move.low), move.high) for name, move in self.section.moves.items()}
                x, y = placed(spot, self.section.moves, ends)
                xs.append(10 * x)
                ys.append(10 * y)
        if self.section.body is not None:
            x0, y0, x1, y1 = self.section.body
            xs += [10 * x0, 10 * x1]
            ys += [10 * y0, 10 * y1]
        for hole in self.section.holes:
            (x0, y0, x1, y1) = self.channel(hole)
            xs += [10 * x0, 10 * x1]
            ys += [10 * y0, 10 * y1]
        return min(xs), min(ys), max(xs), max(ys)

    def channel(self, hole: Hole) -> tuple[float, float, float, float]:
        """A port's channel, from inside to its stub, U."""
        x0, y0, x1, y1 = self.section.body or self._edges()
        if hole.side == "left":
            return x0 - STUB, hole.at - hole.half, hole.depth, hole.at + hole.half
        if hole.side == "right":
            return hole.depth, hole.at - hole.half, x1 + STUB, hole.at + hole.half
        if hole.side == "top":
            return hole.at - hole.half, y0 - STUB, hole.at + hole.half, hole.depth
        return hole.at - hole.half, hole.depth, hole.at + hole.half, y1 + STUB

    def _edges(self) -> tuple[float, float, float, float]:
        metal = [spot for mark in self.section.marks if mark.look == "metal" for spot in mark.spots]
        return (min(s.x for s in metal), min(s.y for s in metal), max(s.x for s in metal), max(s.y for s in metal))

    def d(self, spots: Outline, closed: bool) -> str:
        """The `d` of an outline as it stands."""
        at = (placed(spot, self.section.moves, self.moved) for spot in spots)
        return "M" + "L".join(f"{_number(x)} {_number(y)}" for x, y in at) + ("Z" if closed else "")

    def shape(self, spots: Outline, closed: bool) -> str:
        """The attributes of an outline: what a page moves comes without a form of its own."""
        moved = self.travelling(spots)
        return moved + (' data-closed=""' if closed else "") if moved else f'd="{self.d(spots, closed)}"'

    def travelling(self, spots: Outline) -> str:
        """The attribute by which a page moves an outline, or nothing."""
        if not self.shown.live or not any(spot.moves for spot in spots):
            return ""
        return ' data-spots="' + ";".join(" ".join((f"{spot.x:g}", f"{spot.y:g}", *(f"{m} {w:g}" for m, w in spot.moves)))
                                          for spot in spots) + '"'

    def air_of(self, port: str) -> str:
        """The fill of a port's air, and what a page finds it by."""
        number = band(self.shown.pressures.get(port, ATMOSPHERE))
        live = f' data-air="{escape(port)}"' if self.shown.live else ""
        return f' fill="url(#{self.prefix}a{number})"{live}'

    def mark(self, mark: Mark) -> str:
        d = f"<path {self.shape(mark.spots, mark.closed)}"
        if mark.look == "space":
            return f"{d}{self.air_of(mark.port)}/>"
        return f'{d} class="{mark.look}"/>'

    def rows(self) -> list[str]:
        """The shapes, from the body outwards."""
        section = self.section
        rows = []
        if section.body is not None:
            x0, y0, x1, y1 = (10 * edge for edge in section.body)
            rows.append(f'<rect x="{x0:g}" y="{y0:g}" width="{x1 - x0:g}" height="{y1 - y0:g}" class="metal"/>')
        rows += [self.mark(mark) for mark in section.marks if mark.look == "metal"]
        holes = [self._rectangle(hole) for hole in section.holes]
        spaces = [mark for mark in section.marks if mark.look == "air"]
        rows += [f'<path d="{d}" class="wall"/>' for _, d in holes]
        shapes = [(f"<path {self.shape(mark.spots, True)}", mark.port) for mark in spaces]
        rows += [f'{shape} class="wall"/>' for shape, _ in shapes]
        rows += [f"{shape}{self.air_of(port)}/>" for shape, port in shapes]
        rows += [f'<path d="{d}"{self.air_of(port)}/>' for port, d in holes]
        rows += [self.mark(mark) for mark in section.marks if mark.look not in ("metal", "air")]
        return rows

    def _rectangle(self, hole: Hole) -> tuple[str, str]:
        x0, y0, x1, y1 = self.channel(hole)
        return hole.port, self.d((Spot(x0, y0), Spot(x1, y0), Spot(x1, y1), Spot(x0, y1)), True)

    # --- air that flows, seats and their words

    def arrows(self) -> list[str]:
        """The ways that air takes now; a page gets all of them and hides those that are still."""
        rows = []
        for seat in self.section.seats:
            running = self.runs(seat)
            if not running and not self.shown.live:
                continue
            rows += [self._arrow(seat, spots, running) for spots in seat.flows]
        return rows

    def runs(self, seat: Seat) -> int:
        """1 while air passes a seat as its flows are drawn, -1 the other way, 0 not."""
        start, end = seat.ways[0].split(">")
        for way in seat.ways:
            goes = self.shown.running.get(way, 0)
            if goes:
                return goes if way.startswith(f"{start}>") or way.endswith(f">{end}") else -goes
        return 0

    def _arrow(self, seat: Seat, spots: Outline, running: int) -> str:
        d = self.d(spots if running >= 0 else spots[::-1], False)
        live = f' data-flow="{escape(" ".join(seat.ways))}"' if self.shown.live else ""
        hidden = ' visibility="hidden"' if not running else ""
        turned = self.travelling(spots)
        return (f'<g class="flow"{live}{hidden}><path d="{d}"{turned} class="casing"/>'
                f'<path d="{d}"{turned} marker-end="url(#{self.prefix}head)" class="stream"/></g>')

    def words(self) -> tuple[list[Label], list[str]]:
        """Every label, and the leaders of the seats with their dots."""
        labels = [label for hole in self.section.holes for label in self._port(hole)]
        labels += [self._named(words, spot) for words, spot in self.section.words]
        leaders = []
        for side in ("left", "right"):
            taken = [label.box for label in labels]
            for seat in sorted((s for s in self.section.seats if s.word and s.side == side), key=lambda s: s.at.y):
                label, leader = self._seat(seat, taken)
                taken.append(label.box)
                labels.append(label)
                leaders.append(leader)
        return labels, leaders

    def _named(self, words: str, spot: Spot) -> Label:
        x, y = (10 * each for each in placed(spot, self.section.moves, self.moved))
        return Label(x, y, words, "middle", SMALL, kind="quiet")

    def _port(self, hole: Hole) -> list[Label]:
        x0, y0, x1, y1 = (10 * each for each in self.channel(hole))
        number = hole.word or hole.port
        value = f"{written(self.shown.pressures.get(hole.port, ATMOSPHERE), self.shown.unit)} {self.shown.unit}"
        live = f' data-pressure="{escape(hole.port)}"' if self.shown.live else ""
        if hole.side in ("left", "right"):
            x, anchor = (x0 - 6, "end") if hole.side == "left" else (x1 + 6, "start")
            y = (y0 + y1) / 2
            labels = [Label(x, y - 1, number, anchor, LARGE, True)]
            return labels if hole.word else [*labels, Label(x, y + 13, value, anchor, SMALL, attributes=live)]
        y = y0 - 5 if hole.side == "top" else y1 + 14
        x = (x0 + x1) / 2
        if sum(each.side == hole.side for each in self.section.holes) > 1:
            above = y - 14 if hole.side == "top" else y
            return [Label(x, above, number, "middle", LARGE, True), Label(x, above + 14, value, "middle", SMALL, attributes=live)]
        labels = [Label(x - 3, y, number, "end", LARGE, True)]
        return labels if hole.word else [*labels, Label(x + 3, y, value, "start", SMALL, attributes=live)]

    def _seat(self, seat: Seat, taken: list[tuple[float, float, float, float]]) -> tuple[Label, str]:
        is_open = max(self.shown.shares.get(way, 0.0) for way in seat.ways) > SHUT
        ends = [placed(spot, self.section.moves, self.moved) for spot in (seat.at, seat.at if seat.slides else seat.face)]
        x, y = (10 * sum(axis) / 2 for axis in zip(*ends))
        rest = 10 * seat.at.y + 4
        wide = width(f"{seat.word} open", SMALL, True)
        at, anchor = (self.left - 8, "end") if seat.side == "left" else (self.right + 8, "start")
        for step in range(80):
            low = rest + (step + 1) // 2 * 4 * (1 if step % 2 else -1)
            left = at - wide if anchor == "end" else at
            if all(left > b[2] + 4 or left + wide < b[0] - 4 or low - 10 > b[3] + 2 or low + 4 < b[1] - 2 for b in taken):
                break
        live = f' data-seat="{escape(" ".join(seat.ways))}" data-word="{escape(seat.word)}"' if self.shown.live else ""
        label = Label(at, low, f"{seat.word} {'open' if is_open else 'shut'}", anchor, SMALL, is_open, live,
                      "open" if is_open else "ink")
        end = at + 3 if anchor == "end" else at - 3
        ties = f' data-seat="{escape(" ".join(seat.ways))}"' if self.shown.live else ""
        dot = self.travelling((seat.at, seat.at if seat.slides else seat.face)).replace("data-spots", "data-dot")
        return label, (f'<path d="M{end:.1f} {low - 4:.1f}L{x:.1f} {y:.1f}"{ties}{dot} class="leader"/>'
                       f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.4"{ties}{dot} class="{"open" if is_open else "shut"}"/>')


def section_svg(section: Section, shown: Shown, prefix: str = "s-") -> str:
    """The picture as SVG text of its own. prefix: of the ids in it. A page writes title, sentence and note itself, and puts
    the looks in, which are the same for all."""
    drawing = Drawing(section, shown, prefix)
    labels, leaders = drawing.words()
    left, top, right, low = _room(drawing, labels)
    texts = [_text(label) for label in labels]
    if not shown.live:
        spare = max(0.0, width(shown.title, LARGE, True) + 12 - (right - left)) / 2
        left, right, top = left - spare, right + spare, top - 24
        told, low = _told(section, shown, (left, top, right, low))
        texts += told
    wide, high = right - left, low - top
    looks = "" if shown.live else definitions(prefix, shown.theme)
    return (f'<svg xmlns="http://www.w3.org/2000/svg" class="section" viewBox="{left:.1f} {top:.1f} {wide:.1f} {high:.1f}" '
            f'width="{wide:.0f}" height="{high:.0f}" font-family="{FAMILY}">\n<title>{escape(shown.title)}: '
            f"{escape(shown.sentence)}</title>\n{looks}\n"
            f'<rect x="{left:.1f}" y="{top:.1f}" width="{wide:.1f}" height="{high:.1f}" class="ground"/>\n'
            + "\n".join((*drawing.rows(), *drawing.arrows(), *leaders, *texts)) + "\n</svg>\n")


def _room(drawing: Drawing, labels: list[Label]) -> tuple[float, float, float, float]:
    """What shapes and labels take, px, also when a seat's longer word stands there."""
    boxes = [label.box for label in labels]
    left = min(drawing.left, *(box[0] for box in boxes)) - 6
    right = max(drawing.right, *(box[2] for box in boxes)) + 6
    for seat in drawing.section.seats:
        more = width(f"{seat.word} open", SMALL, True) + 14 if seat.word else 0.0
        left, right = (min(left, drawing.left - more), right) if seat.side == "left" else (left, max(right, drawing.right + more))
    return left, min(drawing.top, *(box[1] for box in boxes)) - 6, right, max(drawing.bottom, *(box[3] for box in boxes)) + 6


def _told(section: Section, shown: Shown, room: tuple[float, float, float, float]) -> tuple[list[str], float]:
    """Title, sentence and note, and where they end."""
    left, top, right, low = room
    middle = (left + right) / 2
    texts = [_text(Label(middle, top + 17, shown.title, "middle", LARGE, True))]
    lines = in_lines(shown.sentence, SMALL + 1, right - left - 8)
    texts += [_text(Label(middle, low + 14 + 16 * place, line, "middle", SMALL + 1)) for place, line in enumerate(lines)]
    low += 16 * len(lines) + 8 if lines else 0
    notes = in_lines(section.note + (". " if section.note else "") + "Travel exaggerated; predicted", 10.0, right - left - 8)
    texts += [_text(Label(middle, low + 10 + 12 * place, line, "middle", 10.0, kind="quiet")) for place, line in enumerate(notes)]
    return texts, low + 12 * len(notes) + 6


def _text(label: Label) -> str:
    bold = ' font-weight="bold"' if label.bold else ""
    return (f'<text x="{label.x:.1f}" y="{label.y:.1f}" text-anchor="{label.anchor}" font-size="{label.size:g}"{bold}'
            f'{label.attributes} class="{label.kind}">{escape(label.words)}</text>')
