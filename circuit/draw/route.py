"""Lines on the sheet: in each channel every wire has one trunk, and the trunks share out the tracks of the channel.

The order of the trunks is the one with the fewest crossings; where one wire comes in at the height at which another
goes out, the first must turn first. So no two lines ever lie on each other, and none runs through a body, because
bodies stand in columns and wires pass those at heights of their own. Lengths in U.
"""

from dataclasses import dataclass, field
from math import ceil

from circuit.draw.field import Field, Item, Point
from circuit.draw.parts import LEFT
from circuit.draw.refine import Channelled, crossings, span

TRACK = 2
"""Between two trunks side by side."""
MARGIN = 1.75
"""Between a column and the first trunk."""

Place = tuple[float, float]


@dataclass(slots=True)
class Lines:
    """Where one wire runs: straight pieces between places, a tree. ends: slot id to the place on the body's edge."""

    pieces: set[tuple[Place, Place]] = field(default_factory=set)
    ends: dict[int, Place] = field(default_factory=dict)

    def add(self, a: Place, b: Place) -> None:
        if a != b:
            self.pieces.add((a, b) if a < b else (b, a))


@dataclass(slots=True)
class Channel:
    """tracks: wire number to the places of its trunk, counted from the left: one, or two with the height between
    where two wires change heights with each other. count: of tracks."""

    tracks: dict[int, int]
    spans: dict[int, Channelled]
    count: int
    doglegs: dict[int, tuple[int, float]] = field(default_factory=dict)


def plan(target: Field, channel: int) -> Channel:
    """Give the wires of a channel their tracks."""
    spans = {number: span(points) for number, points in sorted(target.channels[channel].items())}
    bent = [number for number, s in spans.items() if s.high > s.low]
    must = _musts(bent, spans)
    order = _order(bent, spans, must)
    order, broken = _obey(order, must)
    tracks: dict[int, int] = {}
    for i, number in enumerate(order):
        own = spans[number]
        at = 0
        for earlier in order[:i]:
            other = spans[earlier]
            if (earlier, number) in must or (own.low - 1 < other.high and other.low - 1 < own.high):
                at = max(at, tracks[earlier] + 1)
        tracks[number] = at
    count = 1 + max(tracks.values(), default=-1)
    result = Channel(tracks, spans, count)
    for number in broken:
        result.doglegs[number] = (result.count, _free_height(spans, number))
        result.count += 1
    return result


def _order(bent: list[int], spans: dict[int, Channelled], must: set[tuple[int, int]]) -> list[int]:
    """The trunks from left to right with few crossings: from some first orders, single ones moved while it helps."""
    prefer = {}
    for i, a in enumerate(bent):
        for b in bent[:i]:
            before, after = crossings(spans[a], spans[b])
            prefer[a, b] = before - after
            prefer[b, a] = after - before
    for a, b in must:
        prefer[a, b] -= 100
        prefer[b, a] += 100
    firsts = (
        sorted(bent, key=lambda n: (spans[n].low, n)), sorted(bent, key=lambda n: (-spans[n].high, n)),
        sorted(bent, key=lambda n: (_falls(spans[n]), -spans[n].low if _falls(spans[n]) else spans[n].low, n)),
        sorted(bent, key=lambda n: (not _falls(spans[n]), -spans[n].low if _falls(spans[n]) else spans[n].low, n)),
    )
    best: tuple[int, list[int]] | None = None
    for order in firsts:
        order = _moved(list(order), prefer)
        total = sum(prefer[a, b] for i, b in enumerate(order) for a in order[:i])
        if best is None or total < best[0]:
            best = total, order
    assert best is not None
    return best[1]


def _moved(order: list[int], prefer: dict[tuple[int, int], int]) -> list[int]:
    for _ in range(6):
        moved = False
        for number in list(order):
            here = order.index(number)
            rest = order[:here] + order[here + 1:]
            score = [0]
            for other in rest:  # what standing right of each one more costs
                score.append(score[-1] + prefer[other, number])
            best = min(range(len(score)), key=lambda at: (score[at], abs(at - here)))
            if score[best] < score[here]:
                rest.insert(best, number)
                order = rest
                moved = True
        if not moved:
            break
    return order


def _falls(s: Channelled) -> bool:
    """Whether a wire goes down from left to right."""
    left = sum(s.lefts) / len(s.lefts) if s.lefts else s.low
    right = sum(s.rights) / len(s.rights) if s.rights else s.high
    return right > left


def _musts(bent: list[int], spans: dict[int, Channelled]) -> set[tuple[int, int]]:
    """Pairs whose first must turn left of the second, because it comes in where the second goes out."""
    return {
        (a, b) for a in bent for b in bent
        if a != b and any(abs(y - z) < 1 for y in spans[a].lefts for z in spans[b].rights)
    }


def _obey(order: list[int], must: set[tuple[int, int]]) -> tuple[list[int], list[int]]:
    """The order with every must kept, near to the one given; and the wires that need two trunks to break a ring."""
    left, done, broken = list(order), [], []
    while left:
        free = [n for n in left if not any((m, n) in must for m in left if m != n and m not in broken)]
        if free:
            done.append(free[0])
            left.remove(free[0])
        else:
            broken.append(left[0])
            done.append(left[0])
            left.remove(left[0])
    return done, broken


def _free_height(spans: dict[int, Channelled], number: int) -> float:
    """A height at which no wire of the channel comes in or goes out, near the middle of one wire's trunk."""
    taken = {y for s in spans.values() for y in s.lefts + s.rights}
    middle = (spans[number].low + spans[number].high) / 2
    return min((h / 2 for h in range(int(2 * middle) - 40, int(2 * middle) + 41)
                if all(abs(h / 2 - y) >= 0.5 for y in taken)),
               key=lambda h: (abs(h - middle), h), default=middle + 0.25)


def widths(target: Field, channels: list[Channel], wish: list[float]) -> tuple[list[float], list[float], list[float]]:
    """Columns' axes and, for each channel, where it begins and ends. wish: the least width each channel should have."""
    axes, begins, ends = [], [], []
    at = 0.0
    for c in range(len(target.columns) + 1):
        begins.append(at)
        if channels[c].spans or 0 < c < len(target.columns):
            tracks = channels[c].count
            at += max(2 * MARGIN + TRACK * max(0, tracks - 1), wish[c], 3)
        at = float(ceil(at))
        ends.append(at)
        if c < len(target.columns):
            before, after = _extent(target.columns[c])
            axes.append(at + before)
            at += before + after
    return axes, begins, ends


def _extent(column: list[Item]) -> tuple[int, int]:
    before = max((ceil(i.body.width / 2 + i.body.before) for i in column if i.body is not None), default=0)
    after = max((ceil(i.body.width / 2 + i.body.after) for i in column if i.body is not None), default=0)
    return before, after


def draw_lines(
    target: Field, channels: list[Channel], axes: list[float], begins: list[float], ends: list[float]
) -> dict[int, Lines]:
    """The lines of every wire; bodies have their x and y by now."""
    found: dict[int, Lines] = {wire.number: Lines() for wire in target.wires}
    for c, channel in enumerate(channels):
        inner = TRACK * max(0, channel.count - 1)
        first = begins[c] + (ends[c] - begins[c] - inner) / 2
        first = int(2 * first) / 2 if c else first
        for number, points in sorted(target.channels[c].items()):
            _in_channel(found[number], points, channel, number, first)
    for column in target.columns:
        for item in column:
            if item.body is None and item.wire is not None:
                c = item.column
                found[item.wire.number].add((ends[c], item.y), (begins[c + 1], item.y))
    _reach_edges(target, channels, begins, ends, found)
    return found


def _in_channel(lines: Lines, points: list[Point], channel: Channel, number: int, first: float) -> None:
    if number not in channel.tracks:
        return
    x = first + TRACK * channel.tracks[number]
    ys = sorted({point.y for point in points})
    if number in channel.doglegs:
        track, height = channel.doglegs[number]
        far = first + TRACK * track
        lefts = sorted({p.y for p in points if p.side != LEFT} | {height})
        rights = sorted({p.y for p in points if p.side == LEFT} | {height})
        for a, b in zip(lefts, lefts[1:]):
            lines.add((x, a), (x, b))
        for a, b in zip(rights, rights[1:]):
            lines.add((far, a), (far, b))
        lines.add((x, height), (far, height))
        return
    for a, b in zip(ys, ys[1:]):
        lines.add((x, a), (x, b))


def _reach_edges(
    target: Field, channels: list[Channel], begins: list[float], ends: list[float], found: dict[int, Lines]
) -> None:
    """From the trunks to the columns and on to the bodies' ports."""
    for c, channel in enumerate(channels):
        inner = TRACK * max(0, channel.count - 1)
        first = begins[c] + (ends[c] - begins[c] - inner) / 2
        first = int(2 * first) / 2 if c else first
        for number, points in sorted(target.channels[c].items()):
            lines = found[number]
            for point in points:
                edge = ends[c] if point.side == LEFT else begins[c]
                if number in channel.tracks:
                    track = channel.tracks[number]
                    if number in channel.doglegs and point.side == LEFT:
                        track = channel.doglegs[number][0]
                    lines.add((first + TRACK * track, point.y), (edge, point.y))
                elif point.side != LEFT:
                    lines.add((begins[c], point.y), (ends[c], point.y))
                if point.slot is not None and point.item.body is not None:
                    slot = point.slot
                    x = slot.body.x + slot.x
                    if slot.leave:
                        lines.add((x, point.y - slot.leave), (x, point.y))
                        lines.ends[id(slot)] = (x, point.y - slot.leave)
                    else:
                        lines.ends[id(slot)] = (x, point.y)
                    lines.add((x, point.y), (edge, point.y))
