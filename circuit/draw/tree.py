"""A routed wire read as a tree: the way of each line in it, where its tees and joints are, its straight stretches."""

from collections import deque
from dataclasses import dataclass, field

from circuit.draw.parts import Slot, Wire
from circuit.draw.roles import ROLES
from circuit.draw.route import Lines, Place

Piece = tuple[Place, Place]


@dataclass(slots=True)
class Stretch:
    """A straight piece of a wire. start, end: left or upper end first, U. role: the strongest of the runs in it."""

    start: Place
    end: Place
    role: str

    @property
    def level(self) -> bool:
        return self.start[1] == self.end[1]

    @property
    def length(self) -> float:
        return abs(self.end[0] - self.start[0]) + abs(self.end[1] - self.start[1])


@dataclass(slots=True)
class Drawn:
    """A wire on the sheet.

    stretches: of all its lines. own: for each run, the stretches that are its alone, or all of its way where it has
    none. joints: places where three or more meet. tees: name to place.
    """

    wire: Wire
    stretches: list[Stretch] = field(default_factory=list)
    own: list[list[Stretch]] = field(default_factory=list)
    joints: list[Place] = field(default_factory=list)
    tees: dict[str, Place] = field(default_factory=dict)
    bends: int = 0


def read(wire: Wire, lines: Lines) -> Drawn:
    """The tree of one wire."""
    near: dict[Place, list[Place]] = {}
    for a, b in sorted(lines.pieces):
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    drawn = Drawn(wire)
    drawn.tees = _tees(wire, lines, near)
    users: dict[Piece, list[int]] = {}
    for number, run in enumerate(wire.runs):
        ends = [lines.ends[id(e)] if isinstance(e, Slot) else drawn.tees[e] for e in (run.start, run.end)]
        for piece in _pieces(_way(near, ends[0], ends[1])):
            users.setdefault(piece, []).append(number)
    strongest = {
        piece: next(role for role in ROLES if any(wire.runs[n].role == role for n in numbers))
        for piece, numbers in users.items()
    }
    for piece in lines.pieces:
        strongest.setdefault(piece, wire.role)
    drawn.joints = sorted(place for place, others in near.items() if len(others) > 2)
    stops = set(drawn.joints) | set(drawn.tees.values())
    drawn.stretches = _merge(strongest, near, stops=stops)
    drawn.bends = sum(len(others) == 2 and _turns(place, others) for place, others in near.items())
    for number in range(len(wire.runs)):
        alone = {piece: strongest[piece] for piece, numbers in users.items() if numbers == [number]}
        if not alone:
            alone = {piece: strongest[piece] for piece, numbers in users.items() if number in numbers}
        drawn.own.append(_merge(alone, near, stops=stops))
    return drawn


def moved(drawn: Drawn, dx: float, dy: float) -> None:
    """Bring a wire to another place."""
    def there(place: Place) -> Place:
        return place[0] + dx, place[1] + dy

    for stretch in (*drawn.stretches, *(s for own in drawn.own for s in own)):
        stretch.start, stretch.end = there(stretch.start), there(stretch.end)
    drawn.joints = [there(place) for place in drawn.joints]
    drawn.tees = {name: there(place) for name, place in drawn.tees.items()}


def _turns(place: Place, others: list[Place]) -> bool:
    return (others[0][0] == place[0]) != (others[1][0] == place[0])


def _way(near: dict[Place, list[Place]], start: Place, goal: Place) -> list[Place]:
    came: dict[Place, Place | None] = {start: None}
    todo = deque([start])
    while todo and goal not in came:
        here = todo.popleft()
        for there in near.get(here, ()):
            if there not in came:
                came[there] = here
                todo.append(there)
    if goal not in came:
        return []
    way: list[Place] = []
    at: Place | None = goal
    while at is not None:
        way.append(at)
        at = came[at]
    return way


def _pieces(way: list[Place]) -> list[Piece]:
    return [(a, b) if a < b else (b, a) for a, b in zip(way, way[1:])]


def _merge(roles: dict[Piece, str], near: dict[Place, list[Place]], stops: set[Place]) -> list[Stretch]:
    """Pieces in a row and of one role as one stretch."""
    found: list[Stretch] = []
    for level in (True, False):
        rows: dict[float, list[tuple[float, float, str]]] = {}
        for (a, b), role in sorted(roles.items()):
            if (a[1] == b[1]) == level:
                key, low, high = (a[1], a[0], b[0]) if level else (a[0], a[1], b[1])
                rows.setdefault(key, []).append((min(low, high), max(low, high), role))
        for key, spans in sorted(rows.items()):
            joined: list[tuple[float, float, str]] = []
            for low, high, role in sorted(spans):
                if joined and joined[-1][1] == low and joined[-1][2] == role:
                    joined[-1] = (joined[-1][0], high, role)
                else:
                    joined.append((low, high, role))
            for low, high, role in joined:
                ends = ((low, key), (high, key)) if level else ((key, low), (key, high))
                found.append(Stretch(*ends, role))
    return found


def _tees(wire: Wire, lines: Lines, near: dict[Place, list[Place]]) -> dict[str, Place]:
    """Where each tee of the wire is: the place where the ways to its three neighbours meet.

    Neighbours that are tees are first looked through to the nearest ports behind them.
    """
    joined: dict[str, list[Slot | str]] = {tee: [] for tee in wire.tees}
    for run in wire.runs:
        for one, other in ((run.start, run.end), (run.end, run.start)):
            if isinstance(one, str):
                joined[one].append(other)

    def port_behind(end: Slot | str, seen: frozenset[str]) -> Slot | None:
        if isinstance(end, Slot):
            return end
        for further in joined[end]:
            if not (isinstance(further, str) and further in seen):
                found = port_behind(further, seen | {end})
                if found is not None:
                    return found
        return None

    places = {}
    for tee in wire.tees:
        ports = [port_behind(end, frozenset({tee})) for end in joined[tee]]
        ends = [lines.ends[id(port)] for port in ports if port is not None]
        ways = [_way(near, a, b) for i, a in enumerate(ends[:3]) for b in ends[:i]]
        common = [place for place in ways[0] if all(place in way for way in ways[1:])] if ways else []
        corners = [place for place in common if len(near[place]) > 2]
        row = corners or common
        places[tee] = row[len(row) // 2] if row else sorted(near)[0]
    return places


def chains(stretches: list[Stretch]) -> list[list[Place]]:
    """Stretches that follow each other as polylines, so that dashes run round corners."""
    pieces = [(s.start, s.end) for s in stretches]
    near: dict[Place, list[int]] = {}
    for i, (a, b) in enumerate(pieces):
        near.setdefault(a, []).append(i)
        near.setdefault(b, []).append(i)
    left = set(range(len(pieces)))
    found = []

    def walk(at: Place, first: int) -> list[Place]:
        chain = [at]
        piece: int | None = first
        while piece is not None:
            left.discard(piece)
            a, b = pieces[piece]
            at = b if at == a else a
            chain.append(at)
            others = [i for i in near[at] if i in left]
            piece = others[0] if len(near[at]) == 2 and others else None
        return chain

    ends = sorted(place for place, use in near.items() if len(use) != 2)
    for place in ends:
        for piece in near[place]:
            if piece in left:
                found.append(walk(place, piece))
    while left:
        piece = min(left)
        found.append(walk(pieces[piece][0], piece))
    return found
