"""The order of the items in each column: fewest crossings between neighbouring columns, by sifting.

Works on ranks, not on heights: an item is moved to the place of its column where the lines on it invert the fewest
others. The start is the order of the design or one read from a layout engine.
"""

from circuit.draw.field import Field, Item, Point

def by_neighbours(target: Field, rightwards: bool = True) -> None:
    """A first order: each column by the mean place of what its items are joined to in the columns before."""
    place = {id(item): float(i) for column in target.columns for i, item in enumerate(column)}
    columns = target.columns if rightwards else list(reversed(target.columns))
    for turn in range(4):
        for column in columns if turn % 2 == 0 else reversed(columns):
            means = {}
            for item in column:
                near = [place[id(mate.item)] + mate.dy / 40 for point in item.points for mate in point.mates
                        if mate.item.column != item.column]
                means[id(item)] = sum(near) / len(near) if near else place[id(item)]
            column.sort(key=lambda item: means[id(item)])
            for i, item in enumerate(column):
                place[id(item)] = i / max(1, len(column) - 1) * 10


def take_order(target: Field, heights: dict[int, float]) -> None:
    """Sort every column by given heights. heights: id of an item to a height, smaller is further up."""
    for column in target.columns:
        column.sort(key=lambda item: heights.get(id(item), 0.0))


def sift(target: Field, rounds: int = 6) -> None:
    """Move single items to where they cross least, until nothing improves."""
    rank = {id(item): i for column in target.columns for i, item in enumerate(column)}
    for turn in range(rounds):
        improved = False
        for column in target.columns if turn % 2 == 0 else reversed(target.columns):
            for item in list(column):
                improved |= _sift_one(target, column, item, rank)
        if not improved:
            return


def _sift_one(target: Field, column: list[Item], item: Item, rank: dict[int, int]) -> bool:
    here = column.index(item)
    costs = [_inversions(target, item, other, rank) if other is not item else (0.0, 0.0) for other in column]
    best, best_at, running = 0.0, here, 0.0
    for at in range(here + 1, len(column)):  # downwards past each
        above, below = costs[at]
        running += below - above
        if running < best - 1e-9:
            best, best_at = running, at
    running = 0.0
    for at in range(here - 1, -1, -1):
        above, below = costs[at]
        running += above - below
        if running < best - 1e-9:
            best, best_at = running, at
    if best_at == here:
        return False
    column.remove(item)
    column.insert(best_at, item)
    for i, member in enumerate(column):
        rank[id(member)] = i
    return True


def _inversions(target: Field, item: Item, other: Item, rank: dict[int, int]) -> tuple[float, float]:
    """The crossings between the lines of two items of a column with `item` above `other`, and below it."""
    above = below = 0.0
    for mine in item.points:
        share = 1 / max(1, len(mine.mates))
        for theirs in other.points:
            if theirs.side != mine.side or theirs.wire is mine.wire:
                continue
            weight = share / max(1, len(theirs.mates))
            for a in mine.mates:
                if a.side == mine.side:
                    continue
                for b in theirs.mates:
                    if b.side == theirs.side:
                        continue
                    order = _compare(a, b, rank)
                    if order > 0:
                        above += weight
                    elif order < 0:
                        below += weight
    if item.axle and other.axle:
        if target.axles[item.axle] > target.axles[other.axle]:
            above += target.axle_cost
        else:
            below += target.axle_cost
    return above, below


def _compare(a: Point, b: Point, rank: dict[int, int]) -> int:
    """1 when a is below b, -1 above, 0 when that is not decided."""
    if a.item is b.item:
        if a.slot is not None and b.slot is not None and a.slot.free and b.slot.free:
            return 0
        return (a.dy > b.dy) - (a.dy < b.dy)
    one, two = rank[id(a.item)], rank[id(b.item)]
    return (one > two) - (one < two)
