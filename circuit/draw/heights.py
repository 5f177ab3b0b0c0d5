"""Heights of the items when their order is fixed: sweeps of isotonic regression, then whole U and straight lines.

Each item wishes, for every wire on it, the height that makes the wire straight; items of a column must stay apart in
their order. Means find the rough place, weighted medians make most wires exactly straight.
"""

from collections.abc import Callable

from circuit.draw.field import Field, Item, apart

Wishes = list[tuple[float, float]]


def mean(wishes: Wishes) -> float:
    total = sum(weight for _, weight in wishes)
    return sum(value * weight for value, weight in wishes) / total


def median(wishes: Wishes) -> float:
    if len(wishes) == 1:
        return wishes[0][0]
    wishes = sorted(wishes)
    half = 0.0
    for _, weight in wishes:
        half += weight
    half /= 2
    for value, weight in wishes:
        half -= weight
        if half <= 1e-9:
            return value
    return wishes[-1][0]


def monotone_fit(wishes: list[Wishes], centre: Callable[[Wishes], float]) -> list[float]:
    """The values, never falling, that are nearest to each place's wishes (pool adjacent violators)."""
    blocks: list[tuple[Wishes, int, float]] = []
    for own in wishes:
        blocks.append((own, 1, centre(own)))
        while len(blocks) > 1 and blocks[-2][2] > blocks[-1][2]:
            lower, upper = blocks.pop(), blocks.pop()
            both = upper[0] + lower[0]
            blocks.append((both, upper[1] + lower[1], centre(both)))
    return [value for _, count, value in blocks for _ in range(count)]


def cumulated(column: list[Item]) -> list[int]:
    """Each item's least distance below the first."""
    found = [0]
    for upper, lower in zip(column, column[1:]):
        found.append(found[-1] + apart(upper, lower))
    return found


def stack(target: Field) -> None:
    """A first height for every item: each column close together round a common middle."""
    for column in target.columns:
        if column:
            at = cumulated(column)
            for item, y in zip(column, at):
                item.y = y - at[-1] / 2


def sweep(target: Field, rounds: int, centre: Callable[[Wishes], float]) -> None:
    """Move every item towards its wishes, columns left to right and back."""
    plans = []
    for column in target.columns:
        cum = cumulated(column)
        plans.append([
            (item, least, [(mate.item, mate.dy - point.dy - least, point.weight)
                           for point in item.points for mate in point.mates])
            for item, least in zip(column, cum)
        ])
    for turn in range(rounds):
        for plan in plans if turn % 2 == 0 else reversed(plans):
            wishes = [[(item.y - least, 0.02), *[(other.y + shift, weight) for other, shift, weight in near]]
                      for item, least, near in plan]
            fit = _mean_fit(wishes) if centre is mean else monotone_fit(wishes, centre)
            for (item, least, _), value in zip(plan, fit):
                item.y = value + least


def _mean_fit(wishes: list[Wishes]) -> list[float]:
    """monotone_fit with means, from sums alone."""
    blocks: list[tuple[float, float, int]] = []
    for own in wishes:
        moment = weight = 0.0
        for value, share in own:
            moment += value * share
            weight += share
        count = 1
        while blocks and blocks[-1][0] * weight > moment * blocks[-1][1]:
            more, heavier, many = blocks.pop()
            moment, weight, count = moment + more, weight + heavier, count + many
        blocks.append((moment, weight, count))
    return [moment / weight for moment, weight, count in blocks for _ in range(count)]


def settle(target: Field, rounds: int = 24) -> None:
    """Final heights for the order as it is."""
    sweep(target, rounds // 2, mean)
    sweep(target, rounds // 2, median)
    whole(target)


def whole(target: Field) -> None:
    """Round to whole U without bringing items nearer than allowed."""
    for column in target.columns:
        last = None
        for item, least in zip(column, cumulated(column)):
            value = round(item.y - least)
            last = value if last is None else max(last, value)
            item.y = last + least


# --- straightening ------------------------------------------------------------------------------------------------


def straighten(target: Field, rounds: int = 6) -> None:
    """Shift items, and groups of items joined by straight wires, where that makes another wire straight.

    A step is kept when the sum of weight x (offset + 2 where there is any) falls and nothing comes too near.
    """
    place = {id(item): (c, i) for c, column in enumerate(target.columns) for i, item in enumerate(column)}
    for _ in range(rounds):
        moved = False
        for column in target.columns:
            for item in column:
                for grouped in (True, False):
                    group = _straight_group(item) if grouped else [item]
                    inside = {id(member) for member in group}
                    for offset in sorted(_offsets(group, inside), key=lambda o: (abs(o), o)):
                        if _fits(target, place, group, inside, offset) and _gain(group, inside, offset) > 1e-6:
                            for member in group:
                                member.y += offset
                            moved = True
                            break
        if not moved:
            return


def _straight_group(item: Item) -> list[Item]:
    group = [item]
    seen = {id(item)}
    for member in group:
        for point in member.points:
            for mate in point.mates:
                if mate.side != point.side and mate.y == point.y and id(mate.item) not in seen:
                    seen.add(id(mate.item))
                    group.append(mate.item)
    return group


def _offsets(group: list[Item], inside: set[int]) -> set[float]:
    found = set()
    for member in group:
        for point in member.points:
            for mate in point.mates:
                if id(mate.item) not in inside and mate.side != point.side and 0 < abs(mate.y - point.y) <= 12:
                    found.add(mate.y - point.y)
    return found


def _fits(
    target: Field, place: dict[int, tuple[int, int]], group: list[Item], inside: set[int], offset: float
) -> bool:
    for member in group:
        c, i = place[id(member)]
        column = target.columns[c]
        if offset < 0 and i > 0 and id(column[i - 1]) not in inside:
            if member.y + offset - column[i - 1].y < apart(column[i - 1], member):
                return False
        if offset > 0 and i + 1 < len(column) and id(column[i + 1]) not in inside:
            if column[i + 1].y - member.y - offset < apart(member, column[i + 1]):
                return False
    return True


def _gain(group: list[Item], inside: set[int], offset: float) -> float:
    gain = 0.0
    for member in group:
        for point in member.points:
            for mate in point.mates:
                if id(mate.item) not in inside:
                    now, then = point.y - mate.y, point.y + offset - mate.y
                    gain += point.weight * (abs(now) + 2 * (now != 0) - abs(then) - 2 * (then != 0))
    return gain
